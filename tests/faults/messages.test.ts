// A message is owed with its revision or not at all, and a process that ends between sending and noting sends it again under its key.
import { rm } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import type { DurableEffects } from "../../src/model/effects.ts";
import { type Ledger, openLedger } from "../../src/records/ledger/openLedger.ts";
import { outboxState } from "../../src/records/ledger/outbox.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { openWorkspace } from "../../src/records/workspace.ts";
import type { Courier } from "../../src/runs/courier.ts";
import { watch } from "../../src/runs/watch.ts";
import {
  drain,
  drop,
  expectWhole,
  faceLog,
  makeWorkspace,
  noBrowser,
  PLAN,
  quickEffects,
} from "../runs/harness.ts";
import { answer, receiver, stall } from "../runs/receiver.ts";
import { startPlinth } from "../runs/startPlinth.ts";
import { crashAt, faultyEffects, faultyLedger } from "./faultyWorld.ts";

const SETTINGS = "notify:\n  - {name: office, url: https://office.example/in}\n";
const owedOf = async (root: string) => {
  const ledger = await openLedger(join(root, "plinth.db"));
  try {
    return await outboxState(ledger.tables);
  } finally {
    await ledger.close();
  }
};
const LOG = faceLog();
async function prepared(): Promise<string> {
  const root = await makeWorkspace(PLAN, SETTINGS);
  await drop(root, "0.csv", LOG);
  return root;
}
/** Hours later, so that whatever was on its way when the process ended counts as cut off. */
const hoursLater = (effects: DurableEffects): DurableEffects => ({
  ...effects,
  now: () => Date.now() + 7_200_000,
});

/** The number of the step at which the first revision is about to be accepted; what comes before is tried elsewhere. */
async function firstAcceptance(): Promise<number> {
  const names: string[] = [];
  const counting = { step: async (name: string): Promise<void> => void names.push(name) };
  const effects = faultyEffects(counting);
  const ledgers: Ledger[] = [];
  await watch(effects, await openWorkspace(effects, await prepared()), {
    once: true,
    signal: new AbortController().signal,
    tell: () => undefined,
    printer: noBrowser,
    open: faultyLedger(counting, (ledger) => ledgers.push(ledger)),
    courier: async () => ({ how: "arrived" }),
  });
  for (const ledger of ledgers) await ledger.close().catch(() => undefined);
  // The first transaction notes that the run has begun.
  return names.indexOf("begin", names.indexOf("begin") + 1) + 1;
}

/** The mailbox of the other side: what came, by key. */
function mailbox() {
  const came = new Map<string, string[]>();
  const keep: Courier = async (_, parcel) => {
    const text = sha256Of(Buffer.concat([parcel.sidecar.bytes, parcel.page.bytes]));
    came.set(parcel.idempotencyKey, [...(came.get(parcel.idempotencyKey) ?? []), text]);
    return { how: "arrived" };
  };
  return { came, keep };
}

it("at every single step: every accepted revision is told, under one key, with the same content", async () => {
  let twice = 0;
  let steps = 0;
  for (let at = await firstAcceptance(); ; at++) {
    const root = await prepared();
    const fault = crashAt(at);
    const { came, keep } = mailbox();
    const courier: Courier = async (target, parcel, once) => {
      await fault.step("send", target.name, async () => undefined);
      const delivery = await keep(target, parcel, once);
      await fault.step("sent", target.name, async () => undefined);
      return delivery;
    };
    const ledgers: Ledger[] = [];
    const effects = faultyEffects(fault);
    const ended = await openWorkspace(effects, root)
      .then((workspace) =>
        watch(effects, workspace, {
          once: true,
          signal: new AbortController().signal,
          tell: () => undefined,
          printer: noBrowser,
          open: faultyLedger(fault, (ledger) => ledgers.push(ledger)),
          courier,
        }),
      )
      .then(
        () => !fault.crashed(),
        (error: unknown) => {
          if (!fault.crashed()) throw error;
          return false;
        },
      );
    for (const ledger of ledgers) await ledger.close().catch(() => undefined);
    await drain(root, { courier: keep, effects: hoursLater(quickEffects()) });
    await expectWhole(root, [LOG]);
    const where = `after the end at step ${at} (${fault.last()})`;
    expect(await owedOf(root), where).toMatchObject([{ target: "office", sent: 1, owed: 0, refused: [] }]);
    expect(came.size, where).toBe(1);
    for (const texts of came.values()) expect(new Set(texts).size, where).toBe(1);
    if ([...came.values()].some((texts) => texts.length > 1)) twice++;
    await rm(join(root, ".."), { recursive: true });
    if (ended) break;
    steps = at;
  }
  expect(steps).toBeGreaterThan(25);
  // The ends between sending and noting were among them: then, and only then, it comes twice.
  expect(twice).toBeGreaterThanOrEqual(2);
  expect(twice).toBeLessThan(12);
}, 300_000);

it("killed while the server has the message and after it has answered: the same key again, and the report once", async () => {
  let kill: () => void = () => undefined;
  const got = await receiver([
    (response, request) => {
      kill();
      stall(response, request);
    },
    (response, request) => {
      answer(200)(response, request);
      kill();
    },
    answer(200),
  ]);
  const root = await makeWorkspace(PLAN, `notify:\n  - {url: "${got.url}", timeout: 500 ms}\n`);
  await drop(root, "0.csv", LOG);
  for (let run = 1; run <= 2; run++) {
    const running = startPlinth(["watch", "--workspace", root]);
    kill = () => running.child.kill("SIGKILL");
    expect((await running.ended).signal).toBe("SIGKILL");
    expect(got.received).toHaveLength(run);
  }
  kill = () => undefined;
  // Whether the note of the second try was made before the kill is chance: it comes again, or it is known as sent.
  const last = startPlinth(["watch", "--workspace", root]);
  while ((await owedOf(root))[0]?.sent !== 1) await new Promise((resolve) => setTimeout(resolve, 50));
  last.child.kill("SIGTERM");
  expect(await last.ended).toMatchObject({ code: 0 });
  expect(new Set(got.received.map(({ key }) => key)).size).toBe(1);
  expect(new Set(got.received.map(({ body }) => sha256Of(body))).size).toBe(1);
  expect([2, 3]).toContain(got.received.length);
  await expectWhole(root, [LOG]);
}, 60_000);
