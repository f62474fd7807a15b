// Uncertainty budgets and risks as the guides work them.
import { describe, expect, it } from "vitest";
import { conformanceOf } from "../../src/analysis/decide.ts";
import type { Source } from "../../src/analysis/propagate.ts";
import { expanded, uncertaintyOfSigned } from "../../src/analysis/uncertainty.ts";
import { normalProbability } from "../../src/math/normalDistribution.ts";
import { studentQuantile } from "../../src/math/studentT.ts";
import budgets from "./budgets.json" with { type: "json" };
import guardFactors from "./guardFactors.json" with { type: "json" };

const [endGauge, resistor] = budgets as unknown as [
  {
    points: Record<string, number> & { ls: number[]; d0: number[]; d1: number[]; d2: number[] };
    recomputed: Record<string, number>;
    published: Record<string, number>;
  },
  { points: Record<string, number>; recomputed: Record<string, number>; published: Record<string, number> },
];
const source = (standard: number, degreesOfFreedom: number): Source => ({
  covariance: [[standard * standard]],
  degreesOfFreedom,
});

describe("end gauge, JCGM 100:2008, H.1", () => {
  const { ls, d0, d1, d2, ...rest } = endGauge.points;
  const length = ls[0]!;
  // Rectangular half widths over root 3; sensitivities in nm: -l d_theta and -l alpha_s.
  const alpha = ((rest.d_alpha_halfwidth! / Math.sqrt(3)) * length) / 10;
  const theta = (rest.d_theta_halfwidth! / Math.sqrt(3)) * length * rest.alpha_s!;
  const sources = [
    source(ls[1]!, ls[2]!),
    source(d0[1]!, d0[2]!),
    source(d1[1]!, d1[2]!),
    source(d2[1]!, d2[2]!),
    source(alpha, rest.d_alpha_dof!),
    source(theta, rest.d_theta_dof!),
  ];
  const found = uncertaintyOfSigned({ value: [length + d0[0]!], sources, known: true });

  it("combines the budget: u = 32 nm with 16 degrees of freedom", () => {
    expect(found?.standard).toBeCloseTo(endGauge.recomputed.u!, 9);
    expect(found?.degreesOfFreedom).toBeCloseTo(endGauge.recomputed.dof_exact!, 2);
    // Printed: 32 nm and 16. The guide rounds on the way to 31.71; at full precision it is 31.66.
    expect(Math.round(found?.standard ?? 0)).toBe(endGauge.published.u);
    expect(Math.floor(found?.degreesOfFreedom ?? 0)).toBe(endGauge.published.dof);
  });
  it("expands it to 99 %: k = 2.92, U = 93 nm as printed, 92.5 at full precision", () => {
    const k = studentQuantile(0.005, 16);
    expect(k).toBeCloseTo(endGauge.published.k99!, 2);
    expect(k * (found?.standard ?? 0)).toBeCloseTo(endGauge.recomputed.U99_full_precision!, 6);
  });
  it("prints its own coverage factor at 95.45 % from the same degrees of freedom", () => {
    expect(found?.coverage).toBeGreaterThan(2);
    expect(expanded(found!)).toBeCloseTo(found!.coverage * found!.standard, 12);
  });
});

describe("precision resistor, JCGM 106:2012, 9.5 (results from memory)", () => {
  const { y0, u0, TL, TU, AL, AU, um } = resistor.points as Record<string, number> & {
    y0: number;
    u0: number;
    TL: number;
    TU: number;
    AL: number;
    AU: number;
    um: number;
  };
  /** Chance that a resistor drawn from the lot is accepted, over those in or out of tolerance. */
  function risk(wrong: (truth: number) => boolean, accepted: boolean): number {
    const steps = 200_000;
    const [low, high] = [y0 - 8 * u0, y0 + 8 * u0];
    const step = (high - low) / steps;
    let total = 0;
    for (let i = 0; i < steps; i++) {
      const truth = low + (i + 0.5) * step;
      if (!wrong(truth)) continue;
      const lot =
        normalProbability((truth + step / 2 - y0) / u0) - normalProbability((truth - step / 2 - y0) / u0);
      // Acceptance of the measured value about this truth is the conformance question turned round.
      const inside =
        conformanceOf(
          truth,
          { standard: um, degreesOfFreedom: Number.POSITIVE_INFINITY, coverage: 2 },
          { nominal: null, lower: AL, upper: AU },
        ) ?? 0;
      total += lot * (accepted ? inside : 1 - inside);
    }
    return total;
  }
  it("gives the consumer's risk of about 1 % and the producer's of about 7 %", () => {
    const outside = (truth: number): boolean => truth < TL || truth > TU;
    const consumer = risk(outside, true);
    const producer = risk((truth) => !outside(truth), false);
    expect(consumer).toBeCloseTo(resistor.recomputed.RC!, 5);
    expect(producer).toBeCloseTo(resistor.recomputed.RP!, 5);
    expect(Math.abs(consumer - resistor.published.RC!)).toBeLessThan(0.005);
    expect(Math.abs(producer - resistor.published.RP!)).toBeLessThan(0.005);
  });
});

describe("guard factors, JCGM 106:2012, table 1 (from memory)", () => {
  it("a value z standard uncertainties inside its limit conforms with the tabulated probability", () => {
    const [table] = guardFactors;
    for (const [i, probability] of (table?.points ?? []).entries()) {
      const z = table?.published.z[i] ?? 0;
      const found = conformanceOf(
        10 - z * 0.3,
        { standard: 0.3, degreesOfFreedom: Number.POSITIVE_INFINITY, coverage: 2 },
        { nominal: null, lower: null, upper: 10 },
      );
      expect(Math.abs((found ?? 0) - probability)).toBeLessThan(0.0015);
    }
  });
});
