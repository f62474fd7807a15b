import { describe, expect, it } from "vitest";
import { seededNoise } from "../../../src/math/seededNoise.ts";
import { planOf, range, traverse } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const planWith = (uncertainty: string, max: string) =>
  planOf(`instruments: {probe: {uncertainty: ${uncertainty}}}
features:
  rail: {fit: line, from: traverse, along: y, height: z}
  lean: {fit: line, from: traverse, along: y, height: z}
characteristics: [{id: straight, kind: straightness, of: rail, max: ${max}}]\n`);
const noise = seededNoise(5);
const onScale = (step: number, count: number, spread: number) =>
  range(count).map(() => step * Math.round((spread * noise.normal()) / step));
const line = (name: string, heights: readonly number[]) =>
  traverse(
    name,
    heights.map((_, i) => 20 * i),
    heights,
  );
const texts = (plan: ReturnType<typeof planOf>, ...features: Parameters<typeof contextOf>[1]) =>
  checked("resolution", contextOf(plan, features)).map(({ finding }) => finding.text.text);

describe("resolution", () => {
  it("a scale coarser than the stated uncertainty allows", () => {
    const coarse = line("rail", onScale(0.01, 40, 0.06));
    expect(texts(planWith("0.001 mm", "1 mm"), coarse)).toEqual([
      "Readings of rail are all multiples of 0.01 mm, which alone is an uncertainty of 0.0029 mm; 0.0010 mm is stated for one.",
    ]);
    expect(texts(planWith("0.003 mm", "1 mm"), coarse)).toEqual([]);
  });
  it("a scale that splits the tolerance in fewer than three", () => {
    const coarse = line("rail", onScale(0.01, 40, 0.06));
    expect(texts(planWith("0.003 mm", "0.025 mm"), coarse)).toEqual([
      "Readings of rail are all multiples of 0.01 mm, and straight allows 0.025 mm: the scale hides the answer.",
    ]);
    expect(texts(planWith("0.003 mm", "0.031 mm"), coarse)).toEqual([]);
  });
  it("a fine scale raises nothing, nor do readings without a common step", () => {
    const plan = planWith("0.001 mm", "0.02 mm");
    expect(texts(plan, line("rail", onScale(0.001, 40, 0.006)))).toEqual([]);
    expect(
      texts(
        plan,
        line(
          "rail",
          range(40).map(() => 0.006 * noise.normal()),
        ),
      ),
    ).toEqual([]);
  });
  it("five readings on every fourth step of a fine gauge are chance, as its other readings show", () => {
    const plan = planWith("0.001 mm", "0.02 mm");
    const steep = line("rail", [0, 0.012, 0.024, 0.012, 0]);
    expect(texts(plan, steep)).toHaveLength(1);
    expect(texts(plan, steep, line("lean", onScale(0.001, 12, 0.005)))).toEqual([]);
  });
});
