import { describe, expect, it } from "vitest";
import { seededNoise } from "../../../src/math/seededNoise.ts";
import { planOf, range, traverse } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const PLAN = planOf("features: {rail: {fit: line, from: traverse, along: y, height: z}}\n");
const found = (heights: readonly number[]) =>
  checked(
    "stuck-values",
    contextOf(PLAN, [
      traverse(
        "rail",
        heights.map((_, i) => 20 * i),
        heights,
      ),
    ]),
  ).map(({ finding }) => [finding.code, finding.line]);
const noise = seededNoise(8);
const scaled = (step: number, value: number) => step * Math.round(value / step);

describe("stuck values", () => {
  it("a run in the middle of many readings, with the line where it starts", () => {
    const heights = range(30).map(() => scaled(0.001, 0.01 * noise.normal()));
    const stuck = heights.map((height, i) => (i >= 12 && i < 18 ? 0.0425 : height));
    expect(found(heights)).toEqual([]);
    expect(found(stuck)).toEqual([["stuck-values", 10 + 12]]);
  });
  it("runs on a coarse scale, at the turning points of a slow wave, are no fault", () => {
    for (const steps of range(12).map((i) => i + 3)) {
      const wave = range(36).map((i) => scaled(0.01, 0.01 * steps * Math.cos((i * Math.PI) / 18)));
      expect(found(wave), `${steps} steps`).toEqual([]);
    }
  });
  it("nothing but equal readings", () => {
    expect(found([0.25, 0.25, 0.25])).toEqual([["constant-readings", 10]]);
    expect(found([0.25, 0.25])).toEqual([]);
  });
});
