// Quality's entries: added to the job's record with who, when and why; never an edit, never twice, never about nothing.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { correctedHeader } from "../../src/model/entry.ts";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { addEntry, allRecords, Entries, type EntryRequest } from "../../src/records/entries.ts";
import { attachReport } from "../../src/records/jobRecord.ts";
import { mirrorEntries } from "../../src/records/ledger/mirrorEntries.ts";
import { openLedger } from "../../src/records/ledger/openLedger.ts";
import { type WrittenReport, writtenReport } from "./writtenReport.ts";

const effects = { ...durableEffects(), environment: { SOURCE_DATE_EPOCH: "1795600000" } };
let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "plinth-entries-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

const records = (): string => join(folder, "records");
const failed = (more: Partial<WrittenReport> = {}): string =>
  writtenReport(folder, { name: "R", height: 0.02, revision: 1, ...more });
const add = (path: string, more: Partial<EntryRequest> = {}) =>
  addEntry(effects, records(), {
    path,
    kind: "disposition",
    who: "Shift lead",
    why: "The edge is cut away in operation 20",
    decision: "use-as-is",
    characteristic: null,
    corrected: {},
    ...more,
  });
const manifest = (job = "K-1") =>
  JSON.parse(readFileSync(join(records(), job, "manifest.json"), "utf8")) as {
    entries: { who: string; made: string }[];
    reports: unknown[];
  };

describe("an entry", () => {
  it("stands in the job's record with who, when and why, and the report stays as it is", async () => {
    const path = failed();
    const before = readFileSync(path);
    const { entry, status } = await add(path, { characteristic: "flat" });
    expect(status).toBe("added");
    expect(manifest().entries).toEqual([entry]);
    expect(entry).toMatchObject({
      report: "K-1_10_seat",
      revision: 1,
      kind: "disposition",
      characteristic: "flat",
      who: "Shift lead",
      made: "2026-11-25T09:46:40Z",
      decision: "use-as-is",
    });
    expect(readFileSync(path)).toEqual(before);
  });
  it("is noted once when said twice, and beside others when it says something else", async () => {
    const path = failed();
    await add(path);
    const text = readFileSync(join(records(), "K-1", "manifest.json"));
    expect((await add(path, { why: " The edge is cut away in operation 20 " })).status).toBe("kept");
    expect(readFileSync(join(records(), "K-1", "manifest.json"))).toEqual(text);
    await add(path, { why: "Checked again" });
    expect(manifest().entries).toHaveLength(2);
  });
  it("survives attaching, and attaching survives it", async () => {
    const path = failed();
    await add(path);
    await attachReport(effects, { records: records(), path, job: "K-1" });
    await add(path, { kind: "void", decision: null });
    expect(manifest().entries).toHaveLength(2);
    expect(manifest().reports).toHaveLength(1);
  });
  it("is lost to nobody when many are added and attached at once", async () => {
    const path = failed();
    await Promise.all([
      ...["a", "b", "c", "d"].map((who) => add(path, { who })),
      attachReport(effects, { records: records(), path, job: "K-1" }),
    ]);
    expect(
      manifest()
        .entries.map(({ who }) => who)
        .sort(),
    ).toEqual(["a", "b", "c", "d"]);
    expect(manifest().reports).toHaveLength(1);
  });
  it("goes to the record that a report without a job was attached to, else to that of no job", async () => {
    const path = failed({ header: { job: "" } });
    await add(path);
    expect(manifest("no-job").entries).toHaveLength(1);
    await attachReport(effects, { records: records(), path, job: "K-7" });
    await add(path, { kind: "void", decision: null, why: "Wrong part" });
    expect(manifest("K-7").entries).toHaveLength(1);
  });
  it.each([
    ["nobody", { who: " " }, /--who/],
    ["no reason", { why: "" }, /--why/],
    ["a disposition without a decision", { decision: null }, /says what is done: --decision/],
    ["a characteristic that is not there", { characteristic: "flatt" }, /none of this name; it has flat/],
    [
      "a correction of nothing",
      { kind: "correction", decision: null },
      /a correction says what is right: --set KEY=VALUE/,
    ],
    [
      "a correction of what changes numbers",
      { kind: "correction", decision: null, corrected: { unit: "in" } },
      /--set unit: a correction may name job/,
    ],
    [
      "a correction to what stands there",
      { kind: "correction", decision: null, corrected: { operation: "10" } },
      /the report says 10 already/,
    ],
    ["a void with a decision", { kind: "void" }, /--decision belongs to --kind disposition/],
  ] satisfies [string, Partial<EntryRequest>, RegExp][])("is refused for %s", async (_name, more, words) => {
    await expect(add(failed(), more)).rejects.toThrow(words);
    expect(await allRecords(effects, records())).toEqual([]);
  });
  it("is refused about a pass, and about a report that was changed", async () => {
    await expect(add(failed({ height: 0.001 }))).rejects.toThrow(/is a pass/);
    const path = failed();
    writeFileSync(path, readFileSync(path, "utf8").replace('"fail"', '"pass"'));
    await expect(add(path)).rejects.toThrow(/refused/);
  });
  it("is refused about another report than the record has under the name", async () => {
    await attachReport(effects, { records: records(), path: failed(), job: "K-1" });
    const other = failed({ name: "OTHER", height: 0.03 });
    await expect(add(other)).rejects.toThrow(
      /not the report of this name and revision .*manifest\.json has another/,
    );
    expect(manifest()).toMatchObject({ entries: [] });
  });
});

describe("entries of all jobs", () => {
  it("are found by report and revision; a correction holds on for later revisions, a void does not", async () => {
    const first = failed();
    await add(first, { kind: "correction", decision: null, corrected: { pallet: "4", operation: "20" } });
    await add(first, { kind: "void", decision: null });
    mkdirSync(join(records(), "not-a-record"));
    const [record] = await allRecords(effects, records());
    const entries = new Entries(record?.entries ?? []);
    expect(entries.isVoid("K-1_10_seat", 1)).toBe(true);
    expect(entries.isVoid("K-1_10_seat", 2)).toBe(false);
    expect(
      correctedHeader({ operation: "10", pallet: null, job: "K-1" }, entries.of("K-1_10_seat", 2)),
    ).toEqual({
      operation: "20",
      pallet: "4",
      job: "K-1",
    });
  });
  it("come into the ledger once", async () => {
    const { entry } = await add(failed());
    const ledger = await openLedger(join(folder, "plinth.db"));
    await mirrorEntries(ledger, [entry]);
    await mirrorEntries(ledger, [entry]);
    const rows = await ledger.tables.selectFrom("entry").selectAll().execute();
    await ledger.close();
    expect(rows.map(({ who, kind, report_id }) => [who, kind, report_id])).toEqual([
      ["Shift lead", "disposition", "K-1_10_seat"],
    ]);
  });
});
