import { createRequire } from "node:module";
import { join } from "node:path";
import { SqliteDialect, sql } from "kysely";
import { afterEach, describe, expect, it } from "vitest";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { type Acceptance, acceptRevision } from "../../src/records/ledger/acceptRevision.ts";
import {
  chainOfReport,
  chainsLike,
  currentLogs,
  knownLog,
  lastRevision,
} from "../../src/records/ledger/chains.ts";
import { historyFor } from "../../src/records/ledger/historyFor.ts";
import {
  isDamaged,
  isLocked,
  type Ledger,
  openLedger,
  openLedgerOn,
} from "../../src/records/ledger/openLedger.ts";
import { reportValues } from "../../src/records/ledger/reportValues.ts";
import { endRun, startRun } from "../../src/records/ledger/runs.ts";
import { makeReports } from "../../src/records/makeReports.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { isPassing, passingText } from "../../src/runs/passing.ts";
import { temporaryFolder } from "../runs/harness.ts";

const PLAN_TEXT = `plinth: 1
name: table
title: Table
decision: {rule: guarded}
instruments: {probe: {uncertainty: 0.001 mm, calibration-due: 2027-01-01, where: on-machine}}
logs: {unit: mm, instrument: probe, frame: machine, points: surface}
features:
  face: {fit: plane, normal: [0, 0, 1]}
  lean: {fit: line, from: traverse, along: y, height: z}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 0.02 mm}
advice:
  - {kind: re-seat, of: ledger, feature: face, quantity: slopeX}
sign-offs:
  - {id: torque, unit: N·m, max: 95}
  - {id: stoned}
`;
const plan = planFromText({ text: PLAN_TEXT, name: "table.yaml", sha256: sha256Of(PLAN_TEXT) });
const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A face with this slope over X, a traverse and two sign-offs. */
function reportWith(slopeX: number, history: NonNullable<SetupReport["history"]> = []): SetupReport {
  const header = "# job: J\n# machine: HM-4\n";
  const rows = [-100, 0, 100].flatMap((x) =>
    [-100, 0, 100].map((y) => `face,${x},${y},${(x * slopeX).toFixed(6)}`),
  );
  const texts = {
    "face.csv": `${header}feature,x,y,z\n${rows.join("\n")}\n`,
    "lean.csv": `${header}sweep,position,reading\n${[0, 50, 100, 150, 200].map((y) => `lean,${y}.0,${(y * 1e-4).toFixed(4)}`).join("\n")}\n`,
    "signs.csv": `${header}check,value,unit\ntorque,90.5,N·m\nstoned,yes,\n`,
  };
  const files = Object.entries(texts).map(([name, text]) => ({
    name,
    bytes: encode(text),
    sha256: sha256Of(text),
  }));
  const { reports, rejected } = makeReports(files, { plan, issued: "2026-03-01T08:00:00Z", history });
  expect(rejected).toEqual([]);
  return reports[0]!;
}

const keys = {
  plan: "table",
  job: "J",
  operation: null,
  setup: null,
  machine: "HM-4",
  pallet: null,
  serial: null,
};
function acceptance(report: SetupReport, more: Partial<Acceptance> = {}): Acceptance {
  return {
    setupId: null,
    keys,
    day: "2026-03-01",
    report,
    base: `reports/${report.report.id}_r${report.report.revision}`,
    jsonSha256: sha256Of(JSON.stringify(report)),
    logs: report.logs.map(({ name, sha256 }) => ({
      name,
      sha256,
      bytes: 1,
      archived: `archive/2026/03/01/${sha256}`,
      accepted: "2026-03-01T08:00:00Z",
      measured: null,
    })),
    elapsedMs: 12.4,
    ...more,
  };
}
const renamed = (report: SetupReport, id: string, issued: string, revision = 1): SetupReport => ({
  ...report,
  report: { ...report.report, id, issued, revision },
  logs: report.logs.map((log) => ({ ...log, sha256: sha256Of(`${id} ${revision} ${log.sha256}`) })),
});

const ledgers: Ledger[] = [];
async function freshLedger(): Promise<Ledger> {
  const ledger = await openLedger(join(await temporaryFolder(), "plinth.db"));
  ledgers.push(ledger);
  return ledger;
}
afterEach(async () => {
  for (const ledger of ledgers.splice(0)) await ledger.close();
});

describe("what a report gives to follow over time", () => {
  const values = reportValues(reportWith(2e-5));
  const value = (source: string, of: string, quantity: string) =>
    values.find((one) => one.source === source && one.of === of && one.quantity === quantity);

  it("has characteristics and sign-offs with their verdicts", () => {
    expect(value("characteristic", "flat", "value")).toMatchObject({
      kind: "flatness",
      unit: "mm",
      verdict: "pass",
    });
    expect(value("characteristic", "flat", "value")?.uncertainty).toBeGreaterThan(0);
    expect(value("sign-off", "torque", "value")).toMatchObject({ value: 90.5, unit: "N·m", verdict: "pass" });
    expect(value("sign-off", "stoned", "value")).toMatchObject({ value: null, verdict: "pass" });
  });
  it("has centre, slopes and form of features, slopes as the advice counts them", () => {
    expect(value("feature", "face", "slopeX")?.value).toBeCloseTo(2e-5, 12);
    expect(value("feature", "face", "slopeY")?.value).toBeCloseTo(0, 12);
    expect(value("feature", "face", "z")?.value).toBeCloseTo(0, 9);
    expect(Math.abs(value("feature", "lean", "slopeY")?.value ?? 0)).toBeCloseTo(1e-4, 9);
    expect(value("feature", "lean", "slopeX")).toBeUndefined();
    expect(value("feature", "face", "form")?.value).toBeLessThan(1e-6);
  });
  it("has each number in the values of the advice, by its keys, and tells two of a kind apart", () => {
    const report = reportWith(0);
    const entry = {
      ...report.advice[0]!,
      kind: "four-face",
      values: { common: 1, yawRemainder: { 0: 2, 90: 3 }, edge: "+z", none: null },
    };
    const found = reportValues({ ...report, advice: [entry, { ...entry, values: { common: 4 } }] })
      .filter((one) => one.source === "advice")
      .map(({ of, quantity, value: number, unit }) => [of, quantity, number, unit]);
    expect(found).toEqual([
      ["four-face", "common", 1, "slope"],
      ["four-face", "yawRemainder.0", 2, "slope"],
      ["four-face", "yawRemainder.90", 3, "slope"],
      ["four-face-2", "common", 4, "slope"],
    ]);
  });
  it("knows the unit of each number of the advice", () => {
    const report = reportWith(0);
    const values = { x: 1, effects: { 90: { x: 2 } }, rotary: 3, passes: 4, mean: 5, range: 6 };
    const units = (plotData: unknown) =>
      reportValues({
        ...report,
        advice: [{ ...report.advice[0]!, values, plot: { kind: "any", data: plotData } as never }],
      })
        .filter((one) => one.source === "advice")
        .map(({ quantity, unit }) => `${quantity} ${unit}`);
    expect(units({ unit: "slope" })).toEqual([
      "x mm",
      "effects.90.x mm",
      "rotary deg",
      "passes ",
      "mean slope",
      "range slope",
    ]);
    expect(units({ unit: "mm" }).slice(-2)).toEqual(["mean mm", "range mm"]);
    expect(units(null).slice(-2)).toEqual(["mean mm", "range mm"]);
  });
});

describe("accepting a revision", () => {
  it("makes logs known, current and part of one chain, in one act", async () => {
    const ledger = await freshLedger();
    const report = reportWith(1e-5);
    const { setupId } = await acceptRevision(
      ledger,
      acceptance(report, {
        messages: [
          { idempotencyKey: "k", target: "t", subject: "s", message: "{}", due: "2026-03-01T08:00:00Z" },
        ],
      }),
    );
    expect(await knownLog(ledger.tables, report.logs[0]?.sha256 ?? "")).toMatchObject({
      name: "face.csv",
      reportId: report.report.id,
    });
    expect(await knownLog(ledger.tables, "0")).toBeNull();
    expect((await currentLogs(ledger.tables, setupId)).map(({ name }) => name)).toEqual([
      "face.csv",
      "lean.csv",
      "signs.csv",
    ]);
    expect(await chainsLike(ledger.tables, keys)).toMatchObject([{ id: setupId, keys, day: "2026-03-01" }]);
    expect(await chainsLike(ledger.tables, { ...keys, job: "K" })).toEqual([]);
    expect(await chainsLike(ledger.tables, { ...keys, job: null })).toHaveLength(1);
    expect(await lastRevision(ledger.tables, setupId)).toBe(1);
    const revision = await ledger.tables.selectFrom("revision").selectAll().executeTakeFirstOrThrow();
    expect(revision).toMatchObject({ verdict: report.verdict, elapsed_ms: 12, ...report.counts });
    expect(await ledger.tables.selectFrom("gauge").selectAll().execute()).toEqual([
      {
        revision_id: 1,
        name: "probe",
        uncertainty: 0.001,
        calibration_due: "2027-01-01",
        place: "on-machine",
      },
    ]);
    expect(await ledger.tables.selectFrom("finding").selectAll().execute()).toHaveLength(
      report.findings.length,
    );
    expect(await ledger.tables.selectFrom("outbox").select("idempotency_key").execute()).toEqual([
      { idempotency_key: "k" },
    ]);
  });

  it("lets a log of the same name take the older one's place and keeps the order", async () => {
    const ledger = await freshLedger();
    const report = reportWith(1e-5);
    const { setupId } = await acceptRevision(ledger, acceptance(report));
    const next = renamed(report, report.report.id, "2026-03-02T08:00:00Z", 2);
    const [log] = acceptance(next).logs;
    const mixed = { ...next, logs: [next.logs[0]!, ...report.logs.slice(1)] };
    await acceptRevision(
      ledger,
      acceptance(mixed, { setupId, logs: [log!], keys: { ...keys, pallet: "4" } }),
    );
    const current = await currentLogs(ledger.tables, setupId);
    expect(current.map(({ name }) => name)).toEqual(["lean.csv", "signs.csv", "face.csv"]);
    expect(current.at(-1)?.sha256).toBe(log?.sha256);
    expect((await chainOfReport(ledger.tables, report.report.id))?.keys.pallet).toBe("4");
  });

  it("is all or nothing: a log that is there already undoes the whole", async () => {
    const ledger = await freshLedger();
    const report = reportWith(1e-5);
    await acceptRevision(ledger, acceptance(report));
    const other = { ...renamed(report, "OTHER", "2026-03-02T08:00:00Z"), logs: report.logs };
    await expect(acceptRevision(ledger, acceptance(other))).rejects.toThrow(/UNIQUE/);
    expect(await chainOfReport(ledger.tables, "OTHER")).toBeNull();
    expect(await ledger.tables.selectFrom("revision").select("id").execute()).toHaveLength(1);
  });

  it("notes runs from start to end", async () => {
    const ledger = await freshLedger();
    await startRun(ledger, { id: "a", what: "watch", started: "2026-03-01T08:00:00Z" });
    await endRun(ledger, "a", { ended: "2026-03-01T09:00:00Z", accepted: 1, rejected: 2, reports: 3 });
    expect(await ledger.tables.selectFrom("run").selectAll().execute()).toEqual([
      {
        id: "a",
        what: "watch",
        started: "2026-03-01T08:00:00Z",
        ended: "2026-03-01T09:00:00Z",
        accepted: 1,
        rejected: 2,
        reports: 3,
      },
    ]);
  });
});

describe("history for the advice", () => {
  it("gives the newest revision of each other chain of the plan and machine, oldest first", async () => {
    const ledger = await freshLedger();
    const accept = (
      slope: number,
      id: string,
      issued: string,
      more: Partial<Acceptance> = {},
      revision = 1,
    ) => acceptRevision(ledger, acceptance(renamed(reportWith(slope), id, issued, revision), more));
    const second = await accept(2e-5, "B", "2026-03-02T08:00:00Z");
    await accept(1e-5, "A", "2026-03-01T08:00:00Z");
    await accept(9e-5, "elsewhere", "2026-03-03T08:00:00Z", { keys: { ...keys, machine: "HM-9" } });
    await accept(8e-5, "other plan", "2026-03-03T08:00:00Z", { keys: { ...keys, plan: "chair" } });
    await accept(3e-5, "B", "2026-03-04T08:00:00Z", { setupId: second.setupId }, 2);
    const own = await accept(7e-5, "own", "2026-03-05T08:00:00Z");
    const history = await historyFor(ledger.tables, plan, keys, own.setupId);
    const slopes = history.filter(({ quantity }) => quantity === "slopeX");
    expect(slopes.map(({ report, issued, value }) => [report, issued, Number(value.toFixed(9))])).toEqual([
      ["A", "2026-03-01T08:00:00Z", 1e-5],
      ["B", "2026-03-04T08:00:00Z", 3e-5],
    ]);
    expect(history.every(({ of }) => of === "face")).toBe(true);
    expect(await historyFor(ledger.tables, { ...plan, advice: [] }, keys, null)).toEqual([]);
    const advised = reportWith(2e-5, history).advice[0];
    expect(advised?.values).toMatchObject({ count: 3 });
    expect(Number(advised?.values.mean)).toBeCloseTo(2e-5, 9);
  });
});

describe("the database underneath", () => {
  it("keeps what was committed when the process ends without closing, and refuses orphans", async () => {
    const path = join(await temporaryFolder(), "plinth.db");
    const left = await openLedger(path);
    await startRun(left, { id: "a", what: "watch", started: "t" });
    const again = await openLedger(path);
    ledgers.push(left, again);
    expect(await again.tables.selectFrom("run").select("id").execute()).toEqual([{ id: "a" }]);
    await expect(
      again.tables.insertInto("revision_log").values({ revision_id: 99, sha256: "x", name: "x" }).execute(),
    ).rejects.toThrow(/FOREIGN KEY/);
    expect(again.check()).toBeNull();
  });

  it("can be another one: everything goes through the dialect that is handed in", async () => {
    const Database = createRequire(import.meta.url)("libsql") as new (path: string) => never;
    const ledger = await openLedgerOn({
      dialect: new SqliteDialect({ database: new Database(":memory:") }),
      countingKey: "integer primary key",
    });
    ledgers.push(ledger);
    const report = reportWith(1e-5);
    await acceptRevision(ledger, acceptance(report));
    expect(await lastRevision(ledger.tables, 1)).toBe(1);
  });

  it("says why a transaction failed, also where the database has undone it by itself", async () => {
    const ledger = await freshLedger();
    const full = Object.assign(new Error("database or disk is full"), { code: "SQLITE_FULL" });
    await expect(
      ledger.transact(async (tables) => {
        await tables
          .insertInto("run")
          .values({ id: "a", what: "w", started: "t", ended: null, accepted: 0, rejected: 0, reports: 0 })
          .execute();
        // What the database does on a full disk.
        await sql`rollback`.execute(tables);
        throw full;
      }),
    ).rejects.toBe(full);
    // The same at the commit: there is no reason but this one, and it passes like a full disk.
    const atCommit = await ledger
      .transact((tables) => sql`rollback`.execute(tables))
      .catch((error: unknown) => error);
    expect(String(atCommit)).toMatch(/no transaction is active/);
    expect(isPassing(atCommit)).toBe(true);
    expect(passingText(atCommit)).toBe(
      "the ledger (plinth.db) cannot be written: its disk is full, read-only or away",
    );
    expect(await ledger.tables.selectFrom("run").select("id").execute()).toEqual([]);
    await startRun(ledger, { id: "b", what: "watch", started: "t" });
    expect(await ledger.tables.selectFrom("run").select("id").execute()).toEqual([{ id: "b" }]);
  });

  it("tells a damaged ledger from a busy one", () => {
    const error = (code: string) => Object.assign(new Error(code), { code });
    expect([
      isDamaged(error("SQLITE_CORRUPT")),
      isDamaged(error("SQLITE_NOTADB")),
      isDamaged(error("SQLITE_BUSY")),
    ]).toEqual([true, true, false]);
    expect([isLocked(error("SQLITE_BUSY")), isLocked(error("SQLITE_CORRUPT"))]).toEqual([true, false]);
  });
});
