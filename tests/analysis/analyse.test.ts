import { describe, expect, it } from "vitest";
import { analyse, finishReport } from "../../src/analysis/analyse.ts";
import { characteristic, grid, ISSUED, PROBE, planOf, report, ring, setOf, touched } from "./setting.ts";

const PLAN = `${PROBE}
features:
  face: {fit: plane, normal: [0, 0, 1]}
  bore: {fit: circle, normal: [0, 0, 1], surface: bore}
  other: {fit: plane}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 0.02 mm}
  - {id: round, kind: roundness, of: bore, max: 0.02 mm}
  - {id: size, kind: diameter, of: bore, nominal: 100 mm, plus: 0.05 mm, minus: 0.05 mm}
`;
const dish = grid(5, 50, (x, y) => 3 + (0.004 * (x * x + y * y)) / 10_000);
const bore = ring(12, (a) => 50.01 + 0.002 * Math.cos(3 * a), [7, -3, 20]);
const features = [touched("face", dish), touched("bore", bore)];

describe("analyse", () => {
  const made = report(planOf(PLAN), features);

  it("gives a value, an uncertainty, a verdict and a reason for each characteristic", () => {
    expect(made.characteristics.map(({ id, verdict }) => [id, verdict])).toEqual([
      ["flat", "pass"],
      ["round", "pass"],
      ["size", "pass"],
    ]);
    expect(characteristic(made, "size").value).toBeCloseTo(100.02, 6);
    // Twelve points evenly round a circle: variance of the radius s2/12, so U = 2 x 2 x 0.001 / sqrt(12).
    expect(characteristic(made, "size").uncertainty).toBeGreaterThanOrEqual(0.004 / Math.sqrt(12));
    expect(characteristic(made, "flat").value).toBeCloseTo(0.008, 4);
    for (const entry of made.characteristics) expect(entry.because.text).toMatch(/mm/);
  });

  it("counts and names the verdict of the whole: undecided before pass, missing before undecided, fail first", () => {
    const passing = made.verdict;
    const withMissing = report(
      planOf(`${PLAN}  - {id: gone, kind: flatness, of: other, max: 0.02 mm}\n`),
      features,
    );
    const withFailure = report(
      planOf(
        `${PLAN}  - {id: gone, kind: flatness, of: other, max: 0.02 mm}\n  - {id: bad, kind: flatness, of: face, max: 0.001 mm}\n`,
      ),
      features,
    );
    const withDoubt = report(
      planOf(`${PLAN}  - {id: close, kind: flatness, of: face, max: 0.0085 mm}\n`),
      features,
    );
    expect([passing, withMissing.verdict, withFailure.verdict, withDoubt.verdict]).toEqual([
      "pass",
      "missing",
      "fail",
      "undecided",
    ]);
    expect(withFailure.counts).toEqual({ pass: 3, fail: 1, undecided: 0, missing: 1 });
    expect(characteristic(withMissing, "gone")).toMatchObject({ value: null, verdict: "missing", points: 0 });
  });

  it("makes the same report from the same input", () => {
    expect(JSON.stringify(finishReport(report(planOf(PLAN), features)))).toBe(
      JSON.stringify(finishReport(made)),
    );
  });

  it("keeps sentences as plain English with the numbers they were made from", () => {
    const finished = finishReport(made);
    const [first] = finished.characteristics;
    expect(typeof first?.because).toBe("string");
    expect(finished.wording?.[first?.because ?? ""]?.values).toHaveProperty("value");
    expect(JSON.stringify(finished.characteristics)).not.toContain('"template"');
  });

  it("names the report by job, operation, plan and setup, and marks a name that had to be changed", () => {
    const idOf = (setup: Record<string, string>) =>
      analyse({ set: setOf([], { setup }), plan: planOf(PLAN), issued: ISSUED }).report.id;
    expect(idOf({ job: "J-1", operation: "10" })).toBe("J-1_10_trial");
    expect(idOf({ job: "J-1", operation: "10", setup: "2" })).toBe("J-1_10_trial_2");
    expect(idOf({})).toBe("no-job_no-operation_trial");
    expect(idOf({ job: "a b" })).toMatch(/^a-b-[0-9a-f]{6}_/);
    expect(idOf({ job: "a/b" })).not.toBe(idOf({ job: "a b" }));
    expect(idOf({ job: "..x" })).toMatch(/^--x-[0-9a-f]{6}_/);
    expect(idOf({ job: "j".repeat(60) })).toMatch(/^j{40}-[0-9a-f]{6}_/);
  });

  it("tells of a feature that the plan does not name", () => {
    const found = report(planOf(PLAN), [...features, touched("bor", bore)]).findings;
    expect(found).toContainEqual(expect.objectContaining({ code: "feature-not-in-plan", feature: "bor" }));
  });
});
