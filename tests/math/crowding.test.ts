// What chance does to an extreme of several places, against simulation and known moments of the largest of n normal numbers.
import { describe, expect, it } from "vitest";
import { crowding, expectedLargest, varianceOfLargest } from "../../src/math/crowding.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";

describe("the largest of n normal numbers", () => {
  // Expected value and standard deviation. Source: H. A. David, H. N. Nagaraja, Order Statistics (from memory).
  it.each([
    [1, 0, 1],
    [2, 0.5642, 0.8256],
    [5, 1.163, 0.669],
    [10, 1.5388, 0.5868],
    [100, 2.5076, 0.4294],
  ])("of %i: expected %f, standard deviation %f", (count, expected, deviation) => {
    expect(Math.abs(expectedLargest(count) - expected)).toBeLessThanOrEqual(0.03);
    expect(Math.abs(Math.sqrt(varianceOfLargest(count)) - deviation)).toBeLessThanOrEqual(0.02);
  });
});

describe("crowding", () => {
  const single = { sign: 1, weights: [1] } as const;

  it("is nothing at a lone peak, without scatter and without points", () => {
    const lone = Float64Array.of(0, 0.1, 1);
    expect(crowding(lone, single, 0.01)).toEqual({ bias: 0, variance: 0.0001 });
    expect(crowding(lone, single, 0)).toEqual({ bias: 0, variance: 0 });
    expect(crowding(new Float64Array(0), { sign: 1, weights: [] }, 0.01)).toEqual({ bias: 0, variance: 0 });
    expect(crowding(new Float64Array(0), single, 0.01)).toEqual({ bias: 0, variance: 0.0001 });
  });

  it.each([8, 48, 200])(
    "tells on the average how far the highest of %i equal places reads too high",
    (count) => {
      const noise = seededNoise(count);
      const runs = 400;
      let [off, told] = [0, 0];
      for (let run = 0; run < runs; run++) {
        const places = Float64Array.from({ length: count }, () => noise.normal());
        off += Math.max(...places) / runs;
        told += crowding(places, single, 1).bias / runs;
      }
      expect(Math.abs(told - off)).toBeLessThan(0.35);
    },
  );

  it("shares the places among those that hold the side, and is the same for the lower side", () => {
    const level = new Float64Array(30);
    const shared = crowding(level, { sign: 1, weights: [1 / 3, 1 / 3, 1 / 3] }, 1);
    expect(shared.bias).toBeCloseTo(expectedLargest(10), 12);
    expect(shared.variance).toBeCloseTo(varianceOfLargest(10) / 3, 12);
    const ramp = Float64Array.from({ length: 30 }, (_, i) => i / 10);
    expect(
      crowding(
        ramp.map((place) => -place),
        { sign: -1, weights: [1] },
        1,
      ),
    ).toEqual(crowding(ramp, single, 1));
  });

  it("counts very many places in steps, and hardly otherwise than each of them", () => {
    const noise = seededNoise(7);
    const few = Float64Array.from({ length: 20_000 }, () => noise.normal());
    const many = Float64Array.of(...few, 0);
    for (const sign of [1, -1] as const) {
      const [one, other] = [few, many].map((places) => crowding(places, { sign, weights: [0.5, 0.5] }, 1));
      expect(Math.abs(one!.bias / other!.bias - 1)).toBeLessThan(0.02);
      expect(Math.abs(one!.variance / other!.variance - 1)).toBeLessThan(0.02);
    }
  });
});
