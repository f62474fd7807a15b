// What is left out of a log, on purpose or because it cannot be read, is told on every answer.
import { describe, expect, it } from "vitest";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { makeReports } from "../../src/records/makeReports.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { sha256Of } from "../../src/records/readLogs.ts";

const HEAD = "# job: L-1\n# unit: mm\n# points: surface\nfeature,x,y,z\n";
/** Sixteen touches of a face tilted by 1 in 1000 along X, one of them on a chip; the chip is in line 14. */
const rows = Array.from({ length: 16 }, (_, i) => {
  const [x, y] = [(i % 4) * 40, Math.floor(i / 4) * 40];
  return `face,${x},${y},${((i === 9 ? 0.5 : 0) + x / 1000 + 0.0004 * ((i * 7) % 3)).toFixed(4)}`;
});
const CHIP = 14;
const PLAN = `plinth: 1
name: left
title: Left out
decision: {rule: simple}
features: {face: {fit: plane, normal: [0, 0, 1]}}
characteristics:
  - {id: flat, kind: flatness, of: face, zone: least-squares, max: 0.01 mm}
advice:
  - {kind: work-offset, of: face, register: face 0, old: {z: 0 mm}, nominal: {z: 0 mm}}
`;

function report(log: string, more = ""): SetupReport {
  const bytes = new TextEncoder().encode(log);
  const made = makeReports([{ name: "a.csv", bytes, sha256: sha256Of(bytes) }], {
    plan: planFromText({ text: PLAN + more, name: "left.yaml", sha256: sha256Of(PLAN + more) }),
    issued: "2026-11-25T07:00:00Z",
  });
  expect(made.rejected).toEqual([]);
  return made.reports[0]!;
}
const whole = `${HEAD}${rows.join("\n")}\n`;
const told = (made: SetupReport): string[] =>
  made.findings.map(({ code, line }) => `${code} ${line ?? ""}`.trim());

describe("a reading far off the others", () => {
  it("is to be touched again before any move that is worked out with it", () => {
    const { card, findings } = report(whole);
    expect(findings.find(({ code }) => code === "suspicious-point")?.line).toBe(CHIP);
    expect(card?.[0]).toMatch(
      /^First clean and touch face again \(line 14\): one reading stands \+0\.\d+ mm off/,
    );
    expect(card?.[1]).toMatch(/^Stop: flat outside the limits\./);
    expect(card?.[2]).toMatch(/^face 0: /);
    expect(card?.length).toBeLessThanOrEqual(5);
  });
});

describe("a row that the plan leaves out", () => {
  for (const entry of [`line: ${CHIP}`, `log: a.csv, line: ${CHIP}`, `feature: face, line: ${CHIP}`])
    it(`by ${entry} is listed, and the value with it stands beside`, () => {
      const made = report(whole, `exclude: [{${entry}, reason: a chip}]\n`);
      expect(made.logs[0]?.excluded).toEqual([{ line: CHIP, reason: "left out by the plan: a chip" }]);
      expect(made.characteristics[0]).toMatchObject({ verdict: "pass", points: 15 });
      expect(made.characteristics[0]?.remarks.join(" ")).toMatch(
        /With the readings that the plan leaves out it would be 0\.5\d* mm\./,
      );
      expect(told(made)).not.toContain("exclusion-unused");
      expect(made.card?.[0]).toMatch(/^face 0: /);
    });
  it("where none stands is told", () => {
    expect(told(report(whole, "exclude: [{line: 99, reason: a chip}]\n"))).toContain("exclusion-unused");
    expect(told(report(whole, `exclude: [{log: b.csv, line: ${CHIP}, reason: a chip}]\n`))).toContain(
      "exclusion-unused",
    );
  });
});

describe("a unit in the column names that is not the header's", () => {
  it("counts, and is told once", () => {
    const named = (header: string, column: string) =>
      told(
        report(
          whole
            .replace("# unit: mm", `# unit: ${header}`)
            .replace(",x,y,z", `,x [${column}],y [${column}],z [${column}]`),
        ),
      ).filter((code) => code === "units-differ");
    expect(named("in", "mm")).toEqual(["units-differ"]);
    expect(named("mm", "mm")).toEqual([]);
    expect(named("mm", "um")).toEqual([]);
  });
  it("is no contradiction to the plan's unit, which is that of a log that states none", () => {
    const inches = whole.replace("# unit: mm\n", "").replace(",x,y,z", ",x [in],y [in],z [in]");
    expect(told(report(inches, "logs: {unit: mm}\n"))).not.toContain("units-differ");
  });
});

describe("rows that cannot be read", () => {
  it("are told with the first line and its reason", () => {
    const made = report(`${whole}face,20,20,0.0O9\nface,30,20\n`);
    const finding = made.findings.find(({ code }) => code === "rows-left-out");
    expect(finding).toMatchObject({ level: "warning", log: "a.csv", line: 21 });
    expect(finding?.text).toMatch(/^2 rows were left out, the first: z: 0\.0O9 has the letter O/);
    expect(
      report(`${whole}face,20,20,-\n`).findings.find(({ code }) => code === "rows-left-out")?.text,
    ).toMatch(/^the row was left out: z: /);
    expect(told(report(whole))).not.toContain("rows-left-out");
    // What the plan leaves out anyway needs no second word.
    const short = `${whole}face,20,20\n`;
    expect(told(report(short))).toContain("rows-left-out 21");
    expect(told(report(short, "exclude: [{line: 21, reason: slipped}]\n")).join()).not.toContain(
      "rows-left-out",
    );
  });
});
