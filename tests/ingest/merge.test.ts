import { describe, expect, it } from "vitest";
import { groupBySetup } from "../../src/ingest/groupBySetup.ts";
import { mergeLogs } from "../../src/ingest/mergeLogs.ts";
import { understandLog } from "../../src/ingest/understandLog.ts";
import type { MeasurementSet, UnderstoodLog } from "../../src/model/measurement.ts";
import { logFile, planWith } from "./helpers.ts";

function log(
  name: string,
  header: Readonly<Record<string, string>>,
  rows = "f,1,2,3\n",
  seen?: string,
): UnderstoodLog {
  const lines = Object.entries({ unit: "mm", ...header }).map(([key, value]) => `# ${key}: ${value}\n`);
  const read = understandLog(logFile(`${lines.join("")}feature,x,y,z\n${rows}`, name, seen), null);
  if (!read.ok) throw new Error(read.finding.text.text);
  return read;
}
function merged(logs: readonly UnderstoodLog[], plan = planWith({})): MeasurementSet {
  const result = mergeLogs(logs, plan);
  if (!result.ok) throw new Error(result.finding.text.text);
  return result.set;
}
const texts = (set: { readonly findings: MeasurementSet["findings"] }): string[] =>
  set.findings.map((finding) => `${finding.level} ${finding.code}: ${finding.text.text}`);

describe("logs of one setup", () => {
  it("keep their place, their features and both states", () => {
    const set = merged([
      log("a.csv", { job: "J", state: "as-found" }),
      log("b.csv", { job: "J", pallet: "4" }, "f,1,2,4\ng,1,2,5\n"),
    ]);
    expect(set.features.map(({ name, state, log: at }) => [name, state, at])).toEqual([
      ["f", "as-found", 0],
      ["f", "as-left", 1],
      ["g", "as-left", 1],
    ]);
    expect(set.setup).toEqual({ job: "J", pallet: "4" });
    expect(set.findings).toEqual([]);
  });
  it("count a feature as measured last, by header time whatever the order", () => {
    const early = log("early.csv", { time: "2026-11-25T07:00:00Z" }, "f,1,2,3\n");
    const late = log("late.csv", { time: "2026-11-25T09:00:00+01:00" }, "f,1,2,4\n");
    for (const logs of [
      [early, late],
      [late, early],
    ]) {
      const set = merged(logs);
      expect([...(set.features[0]?.readings.z ?? [])]).toEqual([4]);
      expect(texts(set)).toEqual([
        "warning superseded: f was measured as left by early.csv and by late.csv; late.csv counts, being later by their times, and the earlier one is superseded",
      ]);
    }
  });
  it("count a feature as given last when only one log has a time", () => {
    const set = merged([
      log("b.csv", { time: "2026-11-25T07:00:00Z" }),
      log("a.csv", {}, "f,1,2,4\n", "2026-11-24T07:00:00Z"),
    ]);
    expect([...(set.features[0]?.readings.z ?? [])]).toEqual([4]);
    expect(texts(set)[0]).toContain("later by the order in which they were given");
  });
  it("count a feature as seen last when no header has a time", () => {
    const set = merged([
      log("b.csv", {}, "f,1,2,3\n", "2026-11-25T07:00:00Z"),
      log("a.csv", {}, "f,1,2,4\n", "2026-11-24T07:00:00Z"),
    ]);
    expect([...(set.features[0]?.readings.z ?? [])]).toEqual([3]);
  });
  it("count the same bytes once", () => {
    const set = merged([log("a.csv", {}), log("copy.csv", {})]);
    expect(set.logs.map((record) => record.name)).toEqual(["a.csv"]);
    expect(texts(set)).toEqual(["note same-log-twice: copy.csv has the same bytes as a.csv and counts once"]);
  });
  it("count a check as answered last", () => {
    const answer = (name: string, value: string): UnderstoodLog => {
      const read = understandLog(logFile(`check,value\nseat,${value}\n`, name), null);
      if (!read.ok) throw new Error(read.finding.text.text);
      return read;
    };
    const set = merged([answer("a.csv", "no"), answer("b.csv", "yes")]);
    expect(set.signOffs.map(({ value, log: at }) => [value, at])).toEqual([["yes", 1]]);
    expect(texts(set)[0]).toContain("seat was answered in a.csv and in b.csv; b.csv counts");
  });
  it("are refused when machine, pallet, serial or job differ", () => {
    for (const key of ["job", "operation", "setup", "machine", "pallet", "serial"]) {
      const result = mergeLogs(
        [log("a.csv", { [key]: "1" }), log("b.csv", { [key]: "2" }, "g,1,2,3\n")],
        null,
      );
      expect(result.ok).toBe(false);
      if (!result.ok)
        expect(result.finding.text.text).toBe(
          `a.csv says ${key}: 1 and b.csv says ${key}: 2; logs of different setups are not merged, so report them apart or correct the header`,
        );
    }
  });
  it("that name another plan are said", () => {
    expect(texts(merged([log("a.csv", { plan: "column-seat" })], planWith({ name: "chuck" })))).toEqual([
      "warning other-plan: a.csv names the plan column-seat, but the plan used is chuck",
    ]);
    expect(texts(merged([log("a.csv", { plan: "chuck.yaml" })], planWith({ name: "chuck" })))).toEqual([]);
  });
});

describe("logs by setup", () => {
  const names = (logs: readonly UnderstoodLog[]): string[][] =>
    groupBySetup(logs).map((group) => group.logs.map((entry) => entry.record.name));
  it("stay apart when anything that identifies them differs", () => {
    for (const key of ["job", "operation", "plan", "setup", "machine", "pallet", "serial"])
      expect(
        names([
          log("a", { job: "J", [key]: "1" }),
          log("b", { job: "J", [key]: "2" }),
          log("c", { job: "J", [key]: "1" }),
        ]),
      ).toEqual([["a", "c"], ["b"]]);
  });
  it("join with a warning when a log states no job", () => {
    const groups = groupBySetup([log("a", { job: "J", setup: "1" }), log("b", {})]);
    expect(groups).toHaveLength(1);
    expect(texts(groups[0]!)).toEqual([
      "warning joined-logs: b does not state job, setup; it was joined to a because they came together",
    ]);
    expect(texts(groupBySetup([log("a", {}), log("b", {}, "g,1,2,3\n")])[0]!)).toEqual([
      "warning joined-logs: a and b do not state job; they were joined because they came together",
    ]);
  });
  it("join with a note when all state the job and none a setup", () => {
    expect(texts(groupBySetup([log("a", { job: "J" }), log("b", { job: "J" })])[0]!)).toEqual([
      "note joined-logs: a and b state the same job and no setup number; they were joined because they came together",
    ]);
    expect(
      groupBySetup([log("a", { job: "J", setup: "1" }), log("b", { job: "J", setup: "1" })])[0]?.findings,
    ).toEqual([]);
    expect(groupBySetup([log("a", {})])[0]?.findings).toEqual([]);
  });
  it("do not claim to have come together when they did not, and warn", () => {
    const later = (logs: readonly UnderstoodLog[], ...earlier: string[]) =>
      texts(
        groupBySetup(
          logs,
          new Set(
            logs
              .map(({ record }) => record)
              .filter(({ name }) => earlier.includes(name))
              .map(({ sha256 }) => sha256),
          ),
        )[0]!,
      );
    const [a, b, c] = [
      log("a", { job: "J" }),
      log("b", { job: "J" }, "g,1,2,3\n"),
      log("c", {}, "h,1,2,3\n"),
    ];
    expect(later([a, b], "a")).toEqual([
      "warning joined-logs: b came later and joined the report of a; they state the same job and no setup number",
    ]);
    expect(later([a, b, c], "a", "b")).toEqual([
      "warning joined-logs: c came later and joined the report of a and b, although c does not state job",
    ]);
    expect(later([a, c, log("d", {}, "i,1,2,3\n")], "c")).toEqual([
      "warning joined-logs: a and d came later and joined the report of c, although c and d do not state job",
    ]);
    expect(later([a, b], "a", "b")).toEqual([expect.stringMatching(/^note .*came together$/)]);
    const numbered = [log("a", { job: "J", setup: "1" }), log("b", { job: "J", setup: "1" }, "g,1,2,3\n")];
    expect(later(numbered, "a")).toEqual([]);
  });
  it("leave alone what could belong to two setups", () => {
    const groups = groupBySetup([
      log("x", {}),
      log("a", { job: "J", serial: "1" }),
      log("b", { job: "J", serial: "2" }),
    ]);
    expect(groups.map((group) => group.logs.map((entry) => entry.record.name))).toEqual([
      ["x"],
      ["a"],
      ["b"],
    ]);
    expect(texts(groups[0]!)[0]).toContain("x could belong to the setup of a or b, so it stands alone");
  });
  it("make groups that merge", () => {
    const logs = [
      log("a", { job: "J" }),
      log("b", { machine: "M" }, "g,1,2,3\n"),
      log("c", { job: "K", machine: "N" }, "h,1,2,3\n"),
    ];
    for (const group of groupBySetup(logs)) expect(mergeLogs(group.logs, null, group.findings).ok).toBe(true);
  });
});
