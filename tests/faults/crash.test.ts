// The process ends at each of its steps in turn, and runs again: nothing is lost, doubled or half.
import { cp, mkdtemp, rename, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Ledger } from "../../src/records/ledger/openLedger.ts";
import { openWorkspace } from "../../src/records/workspace.ts";
import { watch } from "../../src/runs/watch.ts";
import {
  drain,
  drop,
  expectWhole,
  faceLog,
  makeWorkspace,
  namesIn,
  noBrowser,
  temporaryFolder,
} from "../runs/harness.ts";
import { crashAt, faultyEffects, faultyLedger } from "./faultyWorld.ts";

/** Runs until the step where the process ends. True when it came to an end by itself. */
async function runUntil(root: string, fault: ReturnType<typeof crashAt>): Promise<boolean> {
  const effects = faultyEffects(fault);
  const ledgers: Ledger[] = [];
  try {
    const workspace = await openWorkspace(effects, root);
    await watch(effects, workspace, {
      once: true,
      signal: new AbortController().signal,
      tell: () => undefined,
      printer: noBrowser,
      open: faultyLedger(fault, (ledger) => ledgers.push(ledger)),
    });
    return !fault.crashed();
  } catch (error) {
    // Whatever it died of then: the step may be wrapped in other words.
    if (!fault.crashed()) throw error;
    return false;
  } finally {
    for (const ledger of ledgers) await ledger.close().catch(() => undefined);
  }
}

const first = faceLog();
const came = [faceLog({ face: "face-90" }), faceLog({ height: 2 }), faceLog({ header: { job: "J-2" } })];

/** A workspace with one revision, and logs of every fate in the inbox; made once and copied. */
let template = "";
beforeAll(async () => {
  template = join(await mkdtemp(join(tmpdir(), "plinth-test-")), "shop");
  await rename(await makeTemplate(), template);
});
afterAll(() => rm(join(template, ".."), { recursive: true }));
async function prepared(): Promise<string> {
  const root = join(await temporaryFolder(), "shop");
  await cp(template, root, { recursive: true });
  return root;
}
async function makeTemplate(): Promise<string> {
  const root = await makeWorkspace();
  await drop(root, "a.csv", first);
  await drain(root);
  await drop(root, "b.csv", came[0] ?? "");
  await drop(root, "a.csv", came[1] ?? "");
  await drop(root, "c.csv", came[2] ?? "");
  await drop(root, "again.csv", first);
  await drop(root, "bad.csv", "no log at all");
  return root;
}

async function expectAllDone(root: string): Promise<void> {
  const { revisions } = await expectWhole(root, [first, ...came]);
  // A crash between two claims may part what came together: one revision more, never one twice.
  expect([3, 4]).toContain(revisions);
  expect((await namesIn(root, "inbox", "rejected")).filter((name) => !name.endsWith(".reason.txt"))).toEqual([
    "bad.csv",
  ]);
  expect(await namesIn(root, "inbox", "rejected")).toEqual(["bad.csv", "bad.csv.reason.txt"]);
}

it("survives the end of the process at every single step", async () => {
  let steps = 0;
  for (let at = 1; ; at++) {
    const root = await prepared();
    const fault = crashAt(at);
    const ended = await runUntil(root, fault);
    await drain(root);
    await expectAllDone(root).catch((error: unknown) => {
      throw new Error(`after the end at step ${at} (${fault.last()}): ${String(error)}`, { cause: error });
    });
    await rm(join(root, ".."), { recursive: true });
    if (ended) break;
    steps = at;
  }
  // The run has as many steps as it takes: far more than there are logs.
  expect(steps).toBeGreaterThan(60);
}, 300_000);

it("survives crash after crash", async () => {
  const root = await prepared();
  let at = 1;
  // Each run gets a few steps further than the one before, also through what the earlier ones left.
  while (!(await runUntil(root, crashAt(at)))) at += 7;
  await expectAllDone(root);
}, 120_000);
