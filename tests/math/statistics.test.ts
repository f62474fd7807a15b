import { describe, expect, test } from "vitest";
import { analyseVariance } from "../../src/math/analysisOfVariance.ts";
import { normalProbability, normalQuantile } from "../../src/math/normalDistribution.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import {
  lagOneAutocorrelation,
  mean,
  median,
  sampleDeviation,
  summarise,
} from "../../src/math/statistics.ts";
import { coverageFactor, studentQuantile, studentUpperTail } from "../../src/math/studentT.ts";
import { caseOf, guardFactors, studentT } from "../references/cases.ts";

describe("Student's t", () => {
  test.each(studentT)("$id", (entry) => {
    let wrongPrints = 0;
    for (const [dof, quantiles] of Object.entries(entry.recomputed))
      quantiles.forEach((wanted, i) => {
        const reached = studentQuantile(entry.points.alpha[i]!, Number(dof));
        // The independent program's own quantiles are good to 5e-9; the next test is sharper.
        expect(Math.abs(reached / wanted - 1)).toBeLessThan(5e-9);
        const printed = entry.published[dof]![i]!;
        if (Math.abs(reached - printed) > entry.tol.value!) wrongPrints++;
      });
    // The column for 0.001 is misprinted in six places; all others are right to their print.
    expect(wrongPrints).toBe(entry.agrees ? 0 : 6);
  });

  test("quantiles worked out with 40 digits", () => {
    const upper = {
      3: 10.214531852407386,
      5: 5.89342953135601,
      10: 4.14370049404659,
      100: 3.173739493738783,
    };
    for (const [dof, wanted] of Object.entries(upper))
      expect(Math.abs(studentQuantile(0.001, Number(dof)) / wanted - 1)).toBeLessThan(1e-13);
  });

  test("closed forms for one and two degrees of freedom, also far out", () => {
    for (const tail of [0.4, 0.1, 1e-3, 1e-6]) {
      expect(studentQuantile(tail, 1) * Math.tan(Math.PI * tail)).toBeCloseTo(1, 11);
      const one = 1 - 2 * tail;
      expect(studentQuantile(tail, 2) / (one * Math.sqrt(2 / (1 - one * one)))).toBeCloseTo(1, 9);
    }
    expect(studentUpperTail(-1, 1)).toBeCloseTo(0.75, 14);
    expect(studentQuantile(0.5, 3)).toBe(0);
  });

  test("grows into the normal distribution", () => {
    expect(studentQuantile(0.025, 1e7)).toBeCloseTo(normalQuantile(0.975), 6);
    expect(studentQuantile(0.025, 1e12)).toBe(normalQuantile(0.975));
    // Between the two forms used for the beta function nothing jumps.
    const [below, above] = [studentQuantile(0.025, 99.999999), studentQuantile(0.025, 100.000001)];
    expect(Math.abs(below - above)).toBeLessThan(1e-8);
  });

  test("coverage factors for 95.45 % as commonly tabled (table of JCGM 100 annex G, from memory)", () => {
    const table = { 1: 13.97, 2: 4.53, 3: 3.31, 4: 2.87, 5: 2.65, 10: 2.28, 20: 2.13, 50: 2.05 };
    for (const [dof, k] of Object.entries(table)) expect(coverageFactor(Number(dof))).toBeCloseTo(k, 1.9);
    expect(coverageFactor(Number.POSITIVE_INFINITY)).toBe(2);
    expect(coverageFactor(1e10)).toBeCloseTo(2, 9);
    expect(coverageFactor(4.5)).toBeGreaterThan(coverageFactor(5));
  });

  test("refuses what has no meaning", () => {
    expect(() => studentQuantile(0.6, 3)).toThrow(RangeError);
    expect(() => studentQuantile(0.1, 0)).toThrow(RangeError);
    expect(() => studentUpperTail(1, Number.NaN)).toThrow(RangeError);
  });
});

describe("normal distribution", () => {
  test("jcgm106-z-table (printed values from memory)", () => {
    const entry = caseOf(guardFactors, "jcgm106-z-table");
    entry.points.forEach((probability, i) => {
      expect(normalQuantile(probability)).toBeCloseTo(entry.recomputed.z[i]!, 12);
      expect(Math.abs(normalQuantile(probability) - entry.published.z[i]!)).toBeLessThan(0.00501);
    });
  });
  test("known tails and symmetry", () => {
    expect(normalProbability(0)).toBe(0.5);
    expect(normalProbability(-6) / 9.865876450376981e-10).toBeCloseTo(1, 12);
    expect(normalProbability(-20) / 2.7536241186062337e-89).toBeCloseTo(1, 12);
    for (const z of [0.3, 2.9999, 3.0001, 5])
      expect(normalProbability(z) + normalProbability(-z)).toBeCloseTo(1, 15);
    expect(Math.abs(normalProbability(-2.9999999) / normalProbability(-3.0000001) - 1)).toBeLessThan(1e-6);
    expect(normalQuantile(1e-12)).toBeCloseTo(-7.034483825, 8);
    expect(() => normalQuantile(1)).toThrow(RangeError);
  });
});

describe("samples", () => {
  test("mean, deviation, range, median", () => {
    expect(summarise([2, 4, 4, 4, 5, 5, 7, 9])).toEqual({
      count: 8,
      mean: 5,
      deviation: Math.sqrt(32 / 7),
      range: 7,
    });
    expect(summarise([3])).toEqual({ count: 1, mean: 3, deviation: null, range: 0 });
    expect(median([3, 1, 2])).toBe(2);
    expect(median(Float64Array.of(4, 1, 2, 3))).toBe(2.5);
    expect(lagOneAutocorrelation([5, 5, 5])).toBeNull();
    expect(() => mean([])).toThrow(RangeError);
    expect(() => sampleDeviation([1])).toThrow(RangeError);
  });
  test("digits survive a large common part", () => {
    const base = 2 ** 40;
    expect(sampleDeviation([base + 1, base + 2, base + 3])).toBe(1);
    expect(mean([1e16, 1, -1e16, 1])).toBe(0.5);
  });
  test("analysis of variance by hand", () => {
    const found = analyseVariance([
      [1, 2, 3],
      [2, 3, 4],
      [6, 7, 8],
    ]);
    expect(found).toMatchObject({
      betweenSquares: 42,
      betweenDof: 2,
      withinSquares: 6,
      withinDof: 6,
      ratio: 21,
    });
    expect(() => analyseVariance([[1, 2]])).toThrow(RangeError);
    expect(() => analyseVariance([[1], [2]])).toThrow(RangeError);
  });
});

describe("seeded noise", () => {
  test("the same seed gives the same numbers, another seed others", () => {
    const [a, b, c] = [seededNoise(7), seededNoise(7), seededNoise(8)];
    const draw = (noise: { uniform(): number }) => Array.from({ length: 5 }, () => noise.uniform());
    const first = draw(a);
    expect(draw(b)).toEqual(first);
    expect(draw(c)).not.toEqual(first);
  });
  test("uniform and normal numbers have their moments", () => {
    const noise = seededNoise(123);
    const count = 200_000;
    const uniform = Float64Array.from({ length: count }, () => noise.uniform());
    const normal = Float64Array.from({ length: count }, () => noise.normal());
    expect(Math.min(...uniform.subarray(0, 1e5))).toBeGreaterThanOrEqual(0);
    expect(uniform.every((u) => u < 1)).toBe(true);
    expect(Math.abs(mean(uniform) - 0.5)).toBeLessThan(4 * Math.sqrt(1 / 12 / count));
    expect(Math.abs(mean(normal))).toBeLessThan(4 / Math.sqrt(count));
    expect(Math.abs(sampleDeviation(normal) - 1)).toBeLessThan(4 / Math.sqrt(2 * count));
    expect(Math.abs(lagOneAutocorrelation(uniform)!)).toBeLessThan(4 / Math.sqrt(count));
    const beyondTwo = normal.filter((z) => Math.abs(z) > 2).length / count;
    expect(Math.abs(beyondTwo - 0.0455)).toBeLessThan(0.002);
    const dice = new Set(Array.from({ length: 200 }, () => noise.below(6)));
    expect([...dice].sort()).toEqual([0, 1, 2, 3, 4, 5]);
  });
});
