import { describe, expect, it } from "vitest";
import type { Vec3 } from "../../../src/math/vector.ts";
import { grid, planOf, range, rimSweep, ring, swept, touched } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const PLAN = planOf(`instruments: {probe: {uncertainty: 0.001 mm}}
features:
  face: {fit: plane, normal: [0, 0, 1]}
  bore: {fit: circle, normal: [0, 0, 1], surface: bore}
  rim: {fit: circle, from: rim-sweep, radius: 50 mm, surface: boss}\n`);
const scatter = (...features: Parameters<typeof contextOf>[1]) =>
  checked("repeats", contextOf(PLAN, features)).map(({ finding }) => finding.text.values.scatter);
const bent = (x: number, y: number) => 0.0004 * Math.sin(x / 20) + 0.0003 * Math.cos(y / 15);

describe("repeats", () => {
  it("one place read twice, 0.010 apart, scatters by 0.010 / root 2", () => {
    const places = grid(3, 50, bent);
    const again = (by: number): Vec3 => [places[0]![0] + 0.009, places[0]![1] - 0.009, places[0]![2] + by];
    expect(scatter(touched("face", [...places, again(0.01)]))).toEqual([
      { mm: expect.closeTo(0.01 / Math.SQRT2, 9), as: "uncertainty" },
    ]);
    // Chi-square of one degree at 0.1 %: 3.3 times, so that 0.004 apart is no fault.
    expect(scatter(touched("face", [...places, again(0.004)]))).toEqual([]);
    // Elsewhere it is another place.
    expect(scatter(touched("face", [...places, [places[0]![0] + 0.5, places[0]![1], 0.01]]))).toEqual([]);
  });
  it("touches of a bore are compared along its radius", () => {
    const once = ring(8, () => 50, [3, 4, 0]);
    const twice = (by: number) => [
      ...once,
      ...ring(8, (angle) => 50 + by * Math.sign(Math.cos(angle + 0.1)), [3, 4, 0]),
    ];
    expect(scatter(touched("bore", twice(0.01)))).toHaveLength(1);
    expect(scatter(touched("bore", twice(0.001)))).toEqual([]);
    expect(scatter(touched("bore", once))).toEqual([]);
  });
  it("a rim swept twice round is compared angle by angle", () => {
    const readings = range(8).map((i) => 0.02 * Math.cos((i * Math.PI) / 4));
    const station = range(16).map((i) => ((i % 8) * Math.PI) / 4);
    const two = (by: number) => {
      const values = [...readings, ...readings.map((reading, i) => reading + (i % 2 === 0 ? by : -by))];
      return swept(
        "rim",
        "rim-sweep",
        station.map(
          (angle, i): Vec3 => [(50 + values[i]!) * Math.cos(angle), (50 + values[i]!) * Math.sin(angle), 0],
        ),
        values,
        { station, radius: 50 },
      );
    };
    expect(scatter(two(0.01))).toHaveLength(1);
    expect(scatter(two(0.001))).toEqual([]);
    expect(scatter(rimSweep("rim", readings, { radius: 50 }))).toEqual([]);
  });
});
