// Propagation through fits against a seeded simulation of the same measurement (JCGM 101 sense), and against sums done by hand.
import { describe, expect, it } from "vitest";
import type { FittedFeature } from "../../src/analysis/fittedFeature.ts";
import { fitFeatures } from "../../src/analysis/fitting/fitFeatures.ts";
import { type GeometryOf, propagate, propagateKinked } from "../../src/analysis/propagate.ts";
import {
  uncertaintyOfForm,
  uncertaintyOfLength,
  uncertaintyOfSigned,
  zoneOfChance,
} from "../../src/analysis/uncertainty.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import { dot, scale, subtract, type Vec3 } from "../../src/math/vector.ts";
import { grid, onlyCharacteristic, PROBE, planOf, range, ring, setOf, touched } from "./setting.ts";

const SIGMA = 0.001;
const PLAN = planOf(`${PROBE}features:
  face: {fit: plane, normal: [0, 0, 1]}
  one: {fit: circle, normal: [0, 0, 1], surface: bore}
  two: {fit: circle, normal: [0, 0, 1], surface: bore}
  rod: {fit: cylinder, normal: [0, 0, 1], surface: boss}
  axis: {fit: axis, through: [one, two]}
`);
const PLACES: Record<string, Vec3[]> = {
  face: grid(3, 80, (x, y) => 0.001 * x + 0.002 * y),
  one: ring(5, () => 40, [10, 20, 30]),
  two: ring(7, () => 30, [11, 20, 130]),
  rod: [0, 40, 80].flatMap((z) => ring(5, () => 25, [60, 0, z])),
};
type Quantity = (feature: (name: string) => FittedFeature, at: GeometryOf) => number;
const QUANTITIES: Readonly<Record<string, { readonly features: string[]; readonly of: Quantity }>> = {
  "slope of a plane": {
    features: ["face"],
    of: (f, at) => -at(f("face")).direction![0] / at(f("face")).direction![2],
  },
  "diameter of a circle": { features: ["one"], of: (f, at) => 2 * at(f("one")).radius! },
  "place of a circle": { features: ["one"], of: (f, at) => at(f("one")).center[0] },
  "axis through circles against the face": {
    features: ["axis", "face"],
    of: (f, at) => {
      const [span, normal] = [scale(at(f("axis")).direction!, 100), at(f("face")).direction!];
      return subtract(span, scale(normal, dot(span, normal)))[0];
    },
  },
  "rod's axis at a height": {
    features: ["rod"],
    of: (f, at) => {
      const { center, direction } = at(f("rod"));
      return center[0] + (direction![0] / direction![2]) * (200 - center[2]);
    },
  },
  "height over a face beside it": {
    features: ["one", "face"],
    of: (f, at) => dot(subtract([300, 0, 0], at(f("face")).center), at(f("face")).direction!),
  },
};

const fits = (move: () => number) => {
  const features = Object.entries(PLACES).map(([name, places]) =>
    touched(
      name,
      places.map(([x, y, z]): Vec3 => [x + move(), y + move(), z + move()]),
    ),
  );
  const lookup = fitFeatures(setOf(features), PLAN);
  return (name: string): FittedFeature => {
    const found = lookup.feature(name);
    if (!found.ok) expect.fail(found.text.text);
    return found;
  };
};

describe("propagation agrees with simulation", () => {
  const noise = seededNoise(11);
  const RUNS = 1000;
  const made = range(RUNS).map(() => fits(() => SIGMA * noise.normal()));
  it.each(Object.entries(QUANTITIES))("%s", (_, { features, of }) => {
    const exact = fits(() => 0);
    const stated = uncertaintyOfSigned(propagate(features.map(exact), (at) => [of(exact, at)]));
    const values = made.map((f) => of(f, (feature) => feature.geometry));
    const mean = values.reduce((total, value) => total + value, 0) / RUNS;
    const seen = Math.sqrt(values.reduce((total, value) => total + (value - mean) ** 2, 0) / (RUNS - 1));
    // Standard deviation of a standard deviation from 1000 runs: 2.2 %; four of these.
    expect(stated!.standard / seen).toBeGreaterThan(0.91);
    expect(stated!.standard / seen).toBeLessThan(1.09);
    expect(stated!.degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("propagation by hand", () => {
  const exact = fits(() => 0);
  it("radius of n even points scatters by 1 / root n, centre by root (2 / n)", () => {
    const radius = propagate([exact("two")], (at) => [at(exact("two")).radius!]);
    expect(Math.sqrt(radius.sources[0]!.covariance[0]![0]!)).toBeCloseTo(SIGMA / Math.sqrt(7), 9);
    const place = propagate([exact("two")], (at) => [at(exact("two")).center[1]]);
    expect(Math.sqrt(place.sources[0]!.covariance[0]![0]!)).toBeCloseTo(SIGMA * Math.sqrt(2 / 7), 9);
  });
  it("a feature used twice is one source: a difference of a thing and itself has no uncertainty", () => {
    const nothing = propagate([exact("one"), exact("axis")], (at) => [
      at(exact("one")).center[0] - at(exact("axis").through[0]!).center[0],
    ]);
    expect(nothing.sources).toEqual([]);
  });
  it("scatter that was only seen brings its degrees of freedom and Student's t", () => {
    const seen = { value: [1], known: true, sources: [{ covariance: [[4]], degreesOfFreedom: 3 }] };
    // t at 95.45 % for 3 degrees of freedom: 3.31 (JCGM 100:2008, table G.2).
    expect(uncertaintyOfSigned(seen)).toMatchObject({ standard: 2, degreesOfFreedom: 3 });
    expect(uncertaintyOfSigned(seen)!.coverage).toBeCloseTo(3.31, 2);
    const mixed = {
      ...seen,
      sources: [...seen.sources, { covariance: [[4]], degreesOfFreedom: Number.POSITIVE_INFINITY }],
    };
    expect(uncertaintyOfSigned(mixed)!.degreesOfFreedom).toBeCloseTo(12, 9);
    expect(uncertaintyOfSigned({ ...seen, known: false })).toBeNull();
  });
  it("end gauge of JCGM 100:2008, H.1: 25, 9.7, 2.9, 16.6 nm with 18, 25.6, 50 and 2 degrees of freedom", () => {
    // As the guide: combined 32 nm, effective degrees of freedom 16 (it rounds 16.7 down), from
    // u(ls) 25, u(d) 9.7, u(delta alpha) 2.9, u(delta theta) 16.6.
    const part = (u: number, degreesOfFreedom: number) => ({ covariance: [[u * u]], degreesOfFreedom });
    const combined = uncertaintyOfSigned({
      value: [0],
      known: true,
      sources: [part(25, 18), part(9.7, 25.6), part(2.9, 50), part(16.6, 2)],
    })!;
    expect(combined.standard).toBeCloseTo(31.7, 1);
    expect(Math.floor(combined.degreesOfFreedom)).toBe(16);
  });
  it("far from zero the length of a vector has the uncertainty along it; at zero that of both directions", () => {
    const round = (x: number) => ({
      value: [x, 0],
      known: true,
      sources: [
        {
          covariance: [
            [1, 0],
            [0, 1],
          ],
          degreesOfFreedom: Number.POSITIVE_INFINITY,
        },
      ],
    });
    const far = uncertaintyOfLength(round(100))!;
    expect([far.standard, far.coverage]).toEqual([1, 2]);
    // 95.45 % of a plane scatter lie within root(-2 ln 0.0455) = 2.486.
    const edge = uncertaintyOfLength(round(2.486))!;
    expect(edge.standard * edge.coverage).toBeCloseTo(2.486, 1);
  });
  it("a form small against its readings reaches down to zero, a large one hangs on its holding points", () => {
    const places = () => Float64Array.of(0, 0, 0.1, 0.1);
    const hold = { upper: [0.5, 0.5], lower: [0.5, 0.5], places, readingMm: 0.001, points: 25, freedoms: 2 };
    const small = uncertaintyOfForm({ ...hold, value: 0.003 })!;
    expect(small.standard * small.coverage).toBeGreaterThanOrEqual(0.003);
    const large = uncertaintyOfForm({ ...hold, value: 0.1 })!;
    expect(large.standard * large.coverage).toBeCloseTo(0.002, 9);
    // Eight points along the upper side: each of its two holding points is the highest of four, 1.03 too high with a variance of 0.49.
    const crowded = {
      ...hold,
      places: () => Float64Array.of(0, 0, 0.0985, 0.0995, 0.0997, 0.0999, 0.1, 0.1, 0.1, 0.1),
    };
    const wider = uncertaintyOfForm({ ...crowded, value: 0.1 })!;
    expect(wider.coverage).toBe(2);
    expect(wider.standard * wider.coverage).toBeCloseTo(0.001 * (1.03 + 2 * Math.sqrt(0.49 / 2 + 0.5)), 4);
    expect(uncertaintyOfForm({ ...hold, value: 0.1, readingMm: null })).toBeNull();
    expect(zoneOfChance(3, 2)).toBe(0);
  });
});

describe("a quantity with a kink", () => {
  const face = fitFeatures(setOf([touched("face", PLACES.face!)]), PLAN).feature("face");
  if (!face.ok) throw new Error("the face was not fitted");
  const slope = (at: GeometryOf) => -at(face).direction![0] / at(face).direction![2];
  const shareOf = (kink: number): number =>
    propagateKinked([face], (at) => Math.abs(slope(at) - kink)).sources[0]!.covariance[0]![0]!;
  const smooth = propagate([face], (at) => [slope(at)]).sources[0]!.covariance[0]![0]!;

  it("has the whole share of its feature at the kink, and beside it", () => {
    const here = slope(() => face.geometry);
    for (const off of [0, 1e-9, 1e-6, 1e-3]) expect(shareOf(here + off) / smooth).toBeCloseTo(1, 4);
    const central = propagate([face], (at) => [Math.abs(slope(at) - here)]).sources;
    for (const { covariance } of central) expect(covariance[0]![0]! / smooth).toBeLessThan(1e-9);
  });

  it("leaves out a feature that does not matter, and knows where the scatter is not known", () => {
    expect(propagateKinked([face], () => 1)).toEqual({ value: [1], sources: [], known: true });
    const unknown = { ...face, scale: { ...face.scale, sigmaMm: null } };
    expect(propagateKinked([unknown], () => 1).known).toBe(true);
    expect(propagateKinked([unknown], (at) => Math.abs(at(unknown).direction![0])).known).toBe(false);
  });

  it.each(["parallelism", "perpendicularity"])(
    "the uncertainty of a %s does not jump where face and datum agree",
    (kind) => {
      const plan = planOf(`${PROBE}features:
  seat: {fit: plane, normal: [0, 0, 1]}
  of: {fit: plane, normal: ${kind === "parallelism" ? "[0, 0, 1]" : "[1, 0, 0]"}}
characteristics:
  - {id: it, kind: ${kind}, of: of, to: seat, max: 0.01 mm}
`);
      // Two waves on the seat leave its fitted plane level to the last bit, and its slopes uncertain.
      const seat = grid(3, 60, (x, y) => ((x === 0) === (y === 0) ? 0 : 0.012));
      const stated = (lean: number) => {
        const places = grid(3, 60, () => 0).map(
          ([x, y]): Vec3 => (kind === "parallelism" ? [x, y, 100 + lean * y] : [80 + lean * y, x, y]),
        );
        return onlyCharacteristic(plan, [touched("seat", seat), touched("of", places)]);
      };
      const [level, leaning] = [stated(0), stated(1e-6)];
      expect(level.verdict).toBe("undecided");
      expect(level.uncertainty! / leaning.uncertainty!).toBeCloseTo(1, 2);
    },
  );
});
