// A log grows and the process ends, at each step in turn: its last touches come into the report all the same.
import { open, rm } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { openLedger } from "../../src/records/ledger/openLedger.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { openWorkspace } from "../../src/records/workspace.ts";
import { watch } from "../../src/runs/watch.ts";
import { drain, faceLog, makeWorkspace, namesIn, noBrowser, reportOf } from "../runs/harness.ts";
import { crashAt, faultyEffects, faultyLedger } from "./faultyWorld.ts";

const WHOLE = faceLog();
const CUT = WHOLE.lastIndexOf("face-0,100.000,-100");

async function runUntil(root: string, fault: ReturnType<typeof crashAt>): Promise<void> {
  const effects = faultyEffects(fault);
  try {
    await watch(effects, await openWorkspace(effects, root), {
      once: true,
      signal: new AbortController().signal,
      tell: () => undefined,
      printer: noBrowser,
      open: faultyLedger(fault, () => undefined),
    });
  } catch (error) {
    if (!fault.crashed()) throw error;
  }
}

/** The one log that counts in the end. An end before the ledger's transaction leaves the first bytes in the archive: no harm. */
async function currentLogs(root: string): Promise<string[]> {
  const ledger = await openLedger(join(root, "plinth.db"));
  const rows = await ledger.tables.selectFrom("log").select("sha256").where("current", "=", 1).execute();
  await ledger.close();
  return rows.map(({ sha256 }) => sha256);
}

it("loses no touch of a log that grows after the end of the process, or between two ends", async () => {
  for (let at = 1; ; at++) {
    const root = await makeWorkspace();
    const writer = await open(join(root, "inbox", "slow.csv"), "w");
    await writer.writeFile(WHOLE.slice(0, CUT));
    const first = crashAt(at);
    await runUntil(root, first);
    await writer.writeFile(WHOLE.slice(CUT));
    // The next run, which is to bring it back, ends as well, a little further on: past taking over the lock.
    await runUntil(root, crashAt(at + 20));
    await drain(root);
    const names = (await namesIn(root, "reports")).filter((name) => name.endsWith(".json"));
    const report = await reportOf(root, `J-1_10_seat_r${names.length}.json`);
    const where = `after the end at step ${at} (${first.last()})`;
    expect([where, report.logs.map(({ name, rows }) => [name, rows])]).toEqual([where, [["slow.csv", 9]]]);
    expect([where, await currentLogs(root)]).toEqual([where, [sha256Of(WHOLE)]]);
    const left = [await namesIn(root, "inbox"), await namesIn(root, "inbox", "rejected")];
    expect([where, left, await namesIn(root, ".plinth", "work")]).toEqual([where, [["rejected"], []], []]);
    await writer.close();
    await rm(join(root, ".."), { recursive: true });
    if (!first.crashed()) break;
  }
}, 300_000);
