// What stands on the card before the moves: what to touch again, and what failed that no move puts right.
import { describe, expect, it } from "vitest";
import { adviceKinds } from "../../src/analysis/advice/index.ts";
import { characteristicKinds } from "../../src/analysis/characteristics/index.ts";
import type { Vec3 } from "../../src/math/vector.ts";
import { characteristic, grid, planOf, report, touched } from "./setting.ts";

const FACE = "features:\n  face: {fit: plane, normal: [0, 0, 1]}\n";
const GAUGE = "instruments: {probe: {uncertainty: 0.0005 mm}}\n";
const FLAT = "characteristics:\n  - {id: flat, kind: flatness, of: face, max: 0.005 mm}\n";
const SQUARE =
  "characteristics:\n  - {id: lean, kind: tilt, of: face, along: y, per: 100 mm, nominal: 0 mm, plus: 0.02 mm, minus: 0.02 mm}\n";
const OFFSET =
  "advice:\n  - {kind: work-offset, of: face, register: face 0 Z, old: {z: 0 mm}, nominal: {z: 0 mm}}\n";
const SQUARE_UP =
  "advice:\n  - {kind: square-up, of: face, stops: [{name: low, z: -100 mm}, {name: high, z: 100 mm}]}\n";
const SIGN = "sign-offs:\n  - {id: torque, ask: torqued, unit: N·m, min: 80, max: 90}\n";

/** A face with a lean over Y, mm per mm, with waves of some height and one reading that is off. */
const face = ({ lean = 0, wave = 0, chip = 0 }) => {
  const places: Vec3[] = grid(
    4,
    40,
    (x, y) => lean * y + wave * Math.sin(x / 20 + y / 13) + 0.0002 * Math.sin(x * y),
  );
  places[5] = [places[5]![0], places[5]![1], places[5]![2] + chip];
  return touched("face", places);
};
const card = (plan: string, given: Parameters<typeof face>[0], torque = "85") =>
  report(planOf(GAUGE + plan), [face(given)], {
    signOffs: [
      { check: "torque", value: torque, unit: "N·m", by: "day", time: null, note: null, log: 0, line: 3 },
    ],
  }).card?.map(({ text }) => text);

describe("a failed result", () => {
  it.each([
    ["without advice", FACE + FLAT],
    ["beside advice that does not put it right", FACE + FLAT + OFFSET],
  ])("%s is told before any move", (_, plan) => {
    expect(card(plan, { wave: 0.05 })?.[0]).toBe(
      "Stop: flat outside the limits. Put it right or have it decided before going on.",
    );
  });
  it("that the advice puts right stops nothing", () => {
    const lines = card(FACE + SQUARE + SQUARE_UP, { lean: 0.001 });
    expect(lines?.join("\n")).not.toMatch(/Stop/);
    expect(lines?.length).toBeGreaterThan(0);
  });
  it("stops where the advice has no number to give", () => {
    const stuck = SQUARE_UP.replace("of: face", "of: other");
    const features = `${FACE}  other: {fit: plane}\n`;
    expect(card(features + SQUARE + stuck, { lean: 0.001 })?.[0]).toMatch(/^Stop: lean outside/);
  });
  it("of a sign-off is told too", () => {
    expect(card(FACE + FLAT + SIGN, {}, "99")).toEqual([
      "Stop: sign-off torque failed. Put it right and sign again before going on.",
    ]);
    expect(card(FACE + FLAT + SIGN, {})).toEqual([]);
  });
});

describe("a doubtful reading", () => {
  it("comes before everything that is worked out with it", () => {
    const lines = card(FACE + FLAT + OFFSET + SIGN, { chip: 0.3 }, "99");
    expect(lines?.map((line) => line.split(" ").slice(0, 2).join(" "))).toEqual([
      "First clean",
      "Stop: flat",
      "Stop: sign-off",
      "face 0",
    ]);
  });
  it("of the state that was found cannot be touched again", () => {
    const found = { ...face({ chip: 0.3 }), state: "as-found" as const };
    const made = report(planOf(GAUGE + FACE + FLAT), [found, face({})]);
    expect(made.findings.map(({ code }) => code)).toContain("suspicious-point");
    expect(made.card).toEqual([]);
  });
  it("is all that is advised for a value that cannot be decided with it, and stands beside the value", () => {
    const plan = planOf(GAUGE + FACE + FLAT.replace("0.005 mm", "0.301 mm"));
    const entry = (chip: number) => characteristic(report(plan, [face({ chip })]), "flat");
    const remark = "A doubtful reading of face is in this value.";
    const doubted = entry(0.301);
    expect(doubted.verdict).toBe("undecided");
    expect(doubted.toDecide.map(({ text }) => text)).toEqual([
      "First clean the doubtful place of face and touch it again.",
    ]);
    expect(doubted.remarks.map(({ text }) => text)).toContain(remark);
    expect(entry(0).remarks.map(({ text }) => text)).not.toContain(remark);
  });
});

it("names kinds of characteristic that there are as what advice puts right", () => {
  const known = characteristicKinds.map(({ kind }) => kind);
  for (const { mends } of adviceKinds) expect(known).toEqual(expect.arrayContaining([...mends]));
});
