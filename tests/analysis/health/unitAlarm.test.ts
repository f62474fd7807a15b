import { describe, expect, it } from "vitest";
import { characteristic, grid, log, planOf, report, rimSweep, ring, touched } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const PLAN = planOf(`instruments: {probe: {uncertainty: 0.001 mm}}
features:
  bore: {fit: circle, normal: [0, 0, 1], surface: bore}
  face: {fit: plane, normal: [0, 0, 1]}
  shelf: {fit: plane, normal: [0, 0, 1]}
  rim: {fit: circle, from: rim-sweep, radius: 75 mm, surface: boss}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 0.02 mm}
  - {id: size, kind: diameter, of: bore, nominal: 100 mm, plus: 1 mm, minus: 1 mm}
  - {id: place, kind: position, of: bore, at: {x: 300 mm, y: 40 mm}, max: 1 mm}
  - {id: step, kind: distance, of: shelf, to: face, nominal: 50 mm, plus: 1 mm, minus: 1 mm}
  - {id: rim-size, kind: diameter, of: rim, nominal: 3810 mm, plus: 1 mm, minus: 1 mm}
`);
const face = (scale: number, z = 0) =>
  grid(3, 50 * scale, (x, y) => scale * (z + 0.004 * Math.sin(x / scale / 40) * Math.cos(y / scale / 40)));
const bore = (scale: number, more = {}) =>
  touched(
    "bore",
    ring(8, () => 50 * scale, [300 * scale, 40 * scale, 0]),
    more,
  );

describe("unit alarm", () => {
  it.each([25.4, 1 / 25.4])("a log at a scale of %f decides nothing, a flatness neither", (scale) => {
    const made = report(PLAN, [bore(scale), touched("face", face(scale))]);
    const alarms = made.findings.filter(({ code }) => code === "unit-alarm");
    // One alarm for the log, and none for each feature of it.
    expect(alarms).toHaveLength(1);
    expect(alarms[0]).toMatchObject({ level: "error", feature: "bore", log: "trial.csv" });
    expect(["size", "place", "flat"].map((id) => characteristic(made, id).verdict)).toEqual(
      Array(3).fill("undecided"),
    );
  });
  it("the right unit raises none, and a part that is merely wrong fails", () => {
    const good = report(PLAN, [bore(1), touched("face", face(1))]);
    expect(good.findings.map(({ code }) => code)).not.toContain("unit-alarm");
    expect(["size", "place", "flat"].map((id) => characteristic(good, id).verdict)).toEqual(
      Array(3).fill("pass"),
    );
    const wrong = report(PLAN, [
      touched(
        "bore",
        ring(8, () => 58, [300, 40, 0]),
      ),
    ]);
    expect(characteristic(wrong, "size").verdict).toBe("fail");
  });
  it("a place 25.4 times too near is told where no size is asked", () => {
    const placed = planOf(`features: {bore: {fit: circle, normal: [0, 0, 1], surface: bore}}
characteristics: [{id: place, kind: position, of: bore, at: {x: 300 mm, y: 40 mm}, max: 1 mm}]\n`);
    const [alarm] = checked("unit-alarm", contextOf(placed, [bore(1 / 25.4)]));
    expect(alarm?.finding.text.values.ratio).toMatchObject({ value: expect.closeTo(1 / 25.4, 6) });
    // As far, but in another direction: no scale turns one into the other.
    const aside = touched(
      "bore",
      ring(8, () => 2, [-300 / 25.4, 40 / 25.4, 0]),
    );
    expect(checked("unit-alarm", contextOf(placed, [aside]))).toEqual([]);
  });
  it("a distance between planes counts, and only the log that holds it is stopped", () => {
    const logs = [log("steps.csv"), log("bore.csv")];
    const scale = 1 / 25.4;
    const found = checked(
      "unit-alarm",
      contextOf(
        PLAN,
        [touched("face", face(scale)), touched("shelf", face(scale, 50)), bore(1, { log: 1 })],
        logs,
      ),
    );
    expect(found.map(({ undecides }) => undecides)).toEqual([["face", "shelf"]]);
    expect(found[0]?.finding.log).toBe("steps.csv");
  });
  it("the radius of a rim sweep is the plan's own, and an alarm about it would blame the log", () => {
    const rim = rimSweep("rim", [0, 0.001, 0, 0.001, 0, 0.001, 0, 0.001], { radius: 75 });
    expect(checked("unit-alarm", contextOf(PLAN, [rim]))).toEqual([]);
  });
  it("a deviation from a small nominal is never a unit", () => {
    const small = planOf(`features: {bore: {fit: circle, normal: [0, 0, 1], surface: bore}}
characteristics: [{id: aside, kind: offset, of: bore, from: {x: 0 mm, y: 0 mm}, along: x, nominal: 0.02 mm, plus: 0.01 mm, minus: 0.01 mm}]\n`);
    const off = touched(
      "bore",
      ring(8, () => 50, [0.508, 0, 0]),
    );
    expect(characteristic(report(small, [off]), "aside").value).toBeCloseTo(25.4 * 0.02, 9);
    expect(checked("unit-alarm", contextOf(small, [off]))).toEqual([]);
  });
});
