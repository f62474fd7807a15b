import type { Disk, DurableEffects } from "../../src/model/effects.ts";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { type Ledger, openLedger } from "../../src/records/ledger/openLedger.ts";
import { realDisk } from "../../src/records/realDisk.ts";

/** The process has ended here, as far as this test is concerned. */
class Crash extends Error {}

/** Asked before and after each step; what it throws happens instead of the step. */
export interface Fault {
  /** `name` of the step and the path it is about; `half` writes the first half of the content. */
  step(name: string, path: string, half: () => Promise<void>): Promise<void>;
}

const STEPS = [
  "list",
  "names",
  "look",
  "read",
  "append",
  "rename",
  "remove",
  "makeFolder",
  "removeFolder",
  "syncFolder",
  "setReadOnly",
] as const;

/** A disk that does what the real one does, unless the fault says otherwise. */
export function faultyDisk(fault: Fault): Disk {
  const disk = realDisk();
  const wrapped: Record<string, unknown> = { ...disk };
  for (const name of STEPS) {
    const real = disk[name] as (...given: unknown[]) => Promise<unknown>;
    wrapped[name] = async (...given: unknown[]) => {
      await fault.step(name, String(given[0]), async () => undefined);
      return real(...given);
    };
  }
  wrapped.create = async (path: string, content: Uint8Array | string) => {
    await fault.step("create", path, () =>
      disk.create(path, content.slice(0, Math.floor(content.length / 2))),
    );
    return disk.create(path, content);
  };
  return wrapped as unknown as Disk;
}

/** Effects on such a disk, with a clock that costs nothing. */
export function faultyEffects(fault: Fault): DurableEffects {
  let ticks = 0;
  return {
    ...durableEffects(faultyDisk(fault)),
    environment: {},
    ticks: () => ticks,
    async sleep(ms) {
      ticks += ms;
      await new Promise((resolve) => setImmediate(resolve));
    },
  };
}

/** A ledger whose transactions are steps: one before anything is written, one when all is committed. */
export function faultyLedger(
  fault: Fault,
  opened: (ledger: Ledger) => void,
): (path: string) => Promise<Ledger> {
  return async (path) => {
    await fault.step("open ledger", path, async () => undefined);
    const ledger = await openLedger(path);
    opened(ledger);
    return {
      tables: ledger.tables,
      check: () => ledger.check(),
      close: () => ledger.close(),
      async transact(work) {
        await fault.step("begin", path, async () => undefined);
        const result = await ledger.transact(async (tables) => {
          const done = await work(tables);
          await fault.step("commit", path, async () => undefined);
          return done;
        });
        await fault.step("committed", path, async () => undefined);
        return result;
      },
    };
  };
}

/** Ends the process at its `at`-th step: nothing is done from there on, a file being written is left half. */
export function crashAt(
  at: number,
): Fault & { readonly steps: () => number; readonly last: () => string; readonly crashed: () => boolean } {
  let count = 0;
  let last = "";
  return {
    steps: () => count,
    last: () => last,
    crashed: () => count >= at,
    async step(name, path, half) {
      count++;
      if (count < at) return;
      if (count === at) {
        last = `${name} ${path}`;
        await half();
      }
      throw new Crash(`step ${count}: ${name} ${path}`);
    },
  };
}

/** Steps that match fail with a code, the `from`-th match first, `times` in a row. */
export function failing(
  code: string,
  matches: (name: string, path: string) => boolean,
  { from = 1, times = 3 }: { readonly from?: number; readonly times?: number } = {},
): Fault & { readonly failed: () => number } {
  let count = 0;
  let failed = 0;
  return {
    failed: () => failed,
    async step(name, path) {
      if (!matches(name, path)) return;
      count++;
      if (count < from || count >= from + times) return;
      failed++;
      throw Object.assign(new Error(`${code}: injected, ${name} '${path}'`), { code, path });
    },
  };
}
