// Advice on how to decide, carried out: what it asks for is measured again in a simulation, and then a verdict falls.
import { describe, expect, it } from "vitest";
import { waysToDecide } from "../../src/analysis/toDecide.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import { coverageFactor } from "../../src/math/studentT.ts";
import type { Vec3 } from "../../src/math/vector.ts";
import { judged, onlyCharacteristic, planOf, range, touched, traverse } from "./setting.ts";

const GUARDED = { rule: "guarded", guard: 1 } as const;
const exact = (standard: number) => ({ standard, degreesOfFreedom: Number.POSITIVE_INFINITY, coverage: 2 });
const question = {
  value: 0.01,
  limits: { nominal: null, lower: null, upper: 0.012 },
  uncertainty: exact(0.0015),
  decision: GUARDED,
  points: 9,
  readingMm: 0.004,
  shrinks: { byPoints: true, spanMm: 200 },
};

describe("ways to decide", () => {
  it("are sized so that the guard band becomes two fifths of the distance to the limit", () => {
    // Guard band 0.003, distance 0.002: 0.003 / (0.4 x 0.002) = 3.75 times smaller. Nine readings again may by chance get
    // the factor of six degrees of freedom in place of 2.
    const wider = coverageFactor(6) / 2;
    expect(waysToDecide(question)).toEqual([
      expect.objectContaining({ way: "points", points: 127 }),
      // Twelve even readings over a span have 12 x 13 / 11 of its square over 12, nine have 9 x 10 / 8.
      expect.objectContaining({
        way: "span",
        points: 12,
        spanMm: expect.closeTo(
          (750 * (coverageFactor(9) / 2)) / Math.sqrt((12 * 13) / 11 / ((9 * 10) / 8)),
          6,
        ),
      }),
      expect.objectContaining({ way: "gauge", readingMm: expect.closeTo(0.004 / 3.75 / wider, 9) }),
    ]);
  });
  it("leave out what would not help: more readings do not make a zone's points surer", () => {
    const ways = waysToDecide({ ...question, shrinks: { byPoints: false, spanMm: null } });
    expect(ways.map(({ way }) => way)).toEqual(["gauge"]);
  });
  it("say that the value is too near the limit rather than ask for thousands of readings", () => {
    const ways = waysToDecide({ ...question, value: 0.01199 });
    expect(ways.map(({ way }) => way)).toEqual(["too-near"]);
    expect(ways[0]?.text.text).toMatch(/too near the limit/);
  });
  it("count from the broken limit for a value outside", () => {
    expect(waysToDecide({ ...question, value: 0.014 })[0]).toMatchObject({ way: "points", points: 127 });
  });
});

describe("carried out in simulation they decide", () => {
  const entry = (sigma: number) =>
    planOf(
      `instruments: {probe: {uncertainty: ${sigma} mm}}\nfeatures:\n  lean: {fit: line, from: traverse, along: y, height: z}\n  c: {fit: circle, normal: [0, 0, 1], surface: bore}\ncharacteristics:\n` +
        "  - {id: it, kind: tilt, of: lean, along: y, per: 300 mm, nominal: 0 mm, plus: 0.012 mm, minus: 0.012 mm}\n",
    );
  const offset = (sigma: number) =>
    planOf(
      `instruments: {probe: {uncertainty: ${sigma} mm}}\nfeatures:\n  c: {fit: circle, normal: [0, 0, 1], surface: bore}\ncharacteristics:\n` +
        "  - {id: it, kind: offset, of: c, from: {x: 0 mm}, along: x, nominal: 0 mm, plus: 0.01 mm, minus: 0.01 mm}\n",
    );
  const sweep = (seed: number, rise: number, { readings = 5, span = 300, sigma = 0.003 } = {}) => {
    const noise = seededNoise(seed);
    const places = range(readings).map((i) => (span * i) / (readings - 1));
    return traverse(
      "lean",
      places,
      places.map((y) => (rise * y) / 300 + sigma * noise.normal()),
    );
  };
  const bore = (seed: number, x: number, { readings = 6, sigma = 0.003 } = {}) => {
    const noise = seededNoise(seed);
    return touched(
      "c",
      range(readings).map((i): Vec3 => {
        const a = (2 * Math.PI * i) / readings;
        const r = 30 + sigma * noise.normal();
        return [x + r * Math.cos(a), r * Math.sin(a), 0];
      }),
    );
  };
  const share = (decided: readonly boolean[]): number => decided.filter(Boolean).length / decided.length;

  it("more readings", () => {
    // The true offset is what the first measurement showed within its scatter; runs whose truth lies at the limit are none of its promise.
    const outcomes = range(200).flatMap((seed) => {
      const first = onlyCharacteristic(offset(0.003), [bore(seed, 0.0065)]);
      const ask = first.toDecide.find(({ text }) => text.startsWith("Take"))?.values.wanted;
      if (first.verdict !== "undecided" || typeof ask !== "number") return [];
      if (Math.abs((first.value ?? 0) - 0.0065) > 0.001) return [];
      return [
        onlyCharacteristic(offset(0.003), [bore(seed + 1000, 0.0065, { readings: ask })]).verdict === "pass",
      ];
    });
    expect(outcomes.length).toBeGreaterThan(20);
    expect(share(outcomes)).toBeGreaterThan(0.9);
  });
  it("a better gauge", () => {
    const outcomes = range(200).flatMap((seed) => {
      const first = onlyCharacteristic(offset(0.003), [bore(seed, 0.0065)]);
      const ask = first.toDecide.find(({ text }) => text.startsWith("Use a gauge"))?.values.wanted;
      if (first.verdict !== "undecided" || typeof ask !== "object" || !("mm" in ask)) return [];
      if (Math.abs((first.value ?? 0) - 0.0065) > 0.001) return [];
      return [
        onlyCharacteristic(offset(ask.mm), [bore(seed + 1000, 0.0065, { sigma: ask.mm })]).verdict === "pass",
      ];
    });
    expect(outcomes.length).toBeGreaterThan(10);
    expect(share(outcomes)).toBeGreaterThan(0.85);
  });
  it("a longer span", () => {
    const outcomes = range(200).flatMap((seed) => {
      const first = onlyCharacteristic(entry(0.003), [sweep(seed, 0.007)]);
      const ask = first.toDecide.find(({ text }) => text.startsWith("Measure over"))?.values.wanted;
      if (first.verdict !== "undecided" || typeof ask !== "object" || !("mm" in ask)) return [];
      if (Math.abs((first.value ?? 0) - 0.007) > 0.001) return [];
      return [
        onlyCharacteristic(entry(0.003), [sweep(seed + 1000, 0.007, { span: ask.mm, readings: 12 })])
          .verdict === "pass",
      ];
    });
    expect(outcomes.length).toBeGreaterThan(10);
    expect(share(outcomes)).toBeGreaterThan(0.85);
  });
  it("more points where there were too few", () => {
    const plan =
      "instruments: {probe: {uncertainty: 0.0005 mm}}\nfeatures:\n  c: {fit: circle, surface: bore}\ncharacteristics:\n  - {id: it, kind: roundness, of: c, max: 0.01 mm}\n";
    const first = judged(plan, [bore(1, 0, { readings: 5, sigma: 0.0005 })]);
    expect(first.toDecide[0]?.text).toBe(
      "Touch c in at least 7 places, 2 more than now, spread over all of it.",
    );
    expect(judged(plan, [bore(1, 0, { readings: 7, sigma: 0.0005 })]).verdict).toBe("pass");
  });
});
