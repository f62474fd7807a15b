// One suite for each shelf of the analysis, run on every member.
import { readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { characteristicKinds } from "../../src/analysis/characteristics/index.ts";
import { fitKinds } from "../../src/analysis/features/index.ts";
import { fitFeatures } from "../../src/analysis/fitting/fitFeatures.ts";
import { formOf } from "../../src/analysis/fitting/formOf.ts";
import { healthChecks } from "../../src/analysis/health/index.ts";
import { movePoint, rotationAbout } from "../../src/math/rigidMotion.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import { add, length, scale, subtract, unit, type Vec3 } from "../../src/math/vector.ts";
import {
  characteristic,
  grid,
  PROBE,
  planOf,
  range,
  report,
  rimSweep,
  ring,
  setOf,
  touched,
  traverse,
} from "../analysis/setting.ts";

const members = (shelf: string) =>
  readdirSync(new URL(`../../src/analysis/${shelf}`, import.meta.url))
    .map((file) => file.replace(/\.ts$/, ""))
    .filter((name) => !["contract", "index"].includes(name));
const camel = (kind: string) => kind.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());

const noise = seededNoise(31);
const rough = (places: readonly Vec3[]): Vec3[] =>
  places.map((place) => add(place, scale([noise.normal(), noise.normal(), noise.normal()], 0.002)));
const POINTS: Readonly<Record<string, Vec3[]>> = {
  plane: rough(grid(4, 40, (x) => 0.3 * x)),
  line: rough(range(8).map((i): Vec3 => [10 * i, 3 * i, 0.1 * i])),
  circle: rough(ring(12, () => 35, [4, 5, 6])),
  cylinder: rough([0, 25, 50].flatMap((z) => ring(8, () => 35, [4, 5, z]))),
  sphere: rough(
    range(20).map(
      (): Vec3 => add([4, 5, 6], scale(unit([noise.normal(), noise.normal(), noise.normal()]), 25)),
    ),
  ),
  point: rough([
    [1, 2, 3],
    [1, 2, 3],
    [1, 2, 3],
  ]),
};
const fittedTo = (fit: string, places: readonly Vec3[]) => {
  const plan = planOf(
    `${PROBE}features:\n  it: {fit: ${fit}${fit === "cylinder" ? ", normal: [0, 0, 1]" : ""}}`,
  );
  return fitFeatures(setOf([touched("it", places)]), plan).feature("it");
};
const TOUCHED = fitKinds.filter(({ fit }) => Object.hasOwn(POINTS, fit));

describe("features", () => {
  it("has one file and one fit for each member", () => {
    expect(members("features").sort()).toEqual(fitKinds.map(({ fit }) => fit).sort());
  });
  describe.each(TOUCHED)("$fit", ({ fit, minimumPoints, blindness, distance, formPoints }) => {
    const places = POINTS[fit]!;
    const found = fittedTo(fit, places);
    if (!found.ok) throw new Error(found.text.text);

    it("gives residuals, rms and quality that belong together", () => {
      expect(found.residuals).toHaveLength(places.length);
      const squares = found.residuals.reduce((total, r) => total + r * r, 0);
      expect(found.rmsMm).toBeCloseTo(Math.sqrt(squares / places.length), 12);
      expect(found.quality.degreesOfFreedom).toBeGreaterThan(0);
    });
    it("changes its geometry smoothly with its parameters, and not at all with none", () => {
      const { covariance, at } = found.parameters;
      const still = at(covariance.map(() => 0));
      expect(length(subtract(still.center, found.geometry.center))).toBeLessThan(1e-9);
      expect(still.radius).toEqual(found.geometry.radius);
      covariance.forEach((row, j) => {
        expect(row[j]).toBeGreaterThan(0);
        const moved = at(covariance.map((_, k) => (k === j ? 1e-6 : 0)));
        const change =
          length(subtract(moved.center, found.geometry.center)) +
          Math.abs((moved.radius ?? 0) - (found.geometry.radius ?? 0)) +
          (moved.direction && found.geometry.direction
            ? length(subtract(moved.direction, found.geometry.direction))
            : 0);
        expect(change).toBeGreaterThan(1e-8);
        expect(change).toBeLessThan(1e-3);
      });
    });
    it("measures the distance of its own points as its residuals", () => {
      if (fit === "point" || fit === "line") return;
      places.forEach((place, i) => {
        expect(distance(found.geometry, place)).toBeCloseTo(found.residuals[i]!, 9);
      });
    });
    it("refuses too few points, and points that are no numbers, with a sentence and no throw", () => {
      const few = fittedTo(fit, places.slice(0, minimumPoints - 1));
      if (minimumPoints > 1) expect(few).toMatchObject({ ok: false, why: "trouble" });
      expect(
        fittedTo(
          fit,
          places.map((place, i): Vec3 => (i === 0 ? [Number.NaN, 0, 0] : place)),
        ),
      ).toMatchObject({ ok: false });
    });
    it("has a form that is not above the spread about the fit and does not change when the part is moved", () => {
      const form = formOf(found);
      if (!form.ok) throw new Error(form.text);
      expect(form.value.zone === null).toBe(formPoints === null);
      if (form.value.zone === null) return;
      expect(form.value.zone.minimum).toBeLessThanOrEqual(form.value.zone.leastSquares + 1e-12);
      const motion = rotationAbout([5, -3, 2], unit([1, 2, 3]), fit === "cylinder" ? 0.05 : 0.7);
      const moved = fittedTo(
        fit,
        places.map((place) => movePoint(motion, place)),
      );
      const again = moved.ok ? formOf(moved) : null;
      if (!again?.ok || again.value.zone === null) throw new Error("no form after moving");
      // A line in space has its height in the plane in which it scatters most, which moves with it.
      expect(again.value.zone.minimum).toBeCloseTo(form.value.zone.minimum, 8);
    });
    it("says what few points cannot show, or nothing", () => {
      const said = range(formPoints ?? 3).map((count) => blindness(count));
      expect(said.every((words) => words === null || words.text.length > 10)).toBe(true);
    });
  });
});

/** An entry of the plan for each kind, and the features that it is asked of. */
const ENTRIES: Readonly<Record<string, string>> = {
  flatness: "of: plane, max: 9 mm",
  straightness: "of: line, max: 9 mm",
  roundness: "of: circle, max: 9 mm",
  cylindricity: "of: cylinder, max: 9 mm",
  perpendicularity: "of: cylinder, to: plane, max: 999 mm",
  angularity: "of: plane, to: plane2, angle: 10 deg, max: 999 mm",
  parallelism: "of: plane, to: plane2, max: 999 mm",
  angle: "of: plane, to: plane2, max: 90 deg",
  tilt: "of: plane, along: x, per: 10 mm, nominal: 0 mm, plus: 99 mm, minus: 99 mm",
  distance: "of: circle, to: sphere, nominal: 0 mm, plus: 99 mm, minus: 99 mm",
  diameter: "of: circle, nominal: 70 mm, plus: 9 mm, minus: 9 mm",
  offset: "of: circle, from: {x: 0 mm}, max: 99 mm",
  position: "of: circle, at: {x: 0 mm, y: 0 mm}, max: 99 mm",
  coaxiality: "of: cylinder, to: cylinder2, max: 99 mm",
  runout: "of: rim, max: 99 mm",
  eccentricity: "of: circle, max: 99 mm",
  lobing: "of: circle, n: 2, max: 99 mm",
};
const FEATURES = `${PROBE}features:
  plane: {fit: plane}
  plane2: {fit: plane}
  line: {fit: line, from: traverse, along: y, height: z}
  circle: {fit: circle, surface: bore}
  cylinder: {fit: cylinder, normal: [0, 0, 1], surface: boss}
  cylinder2: {fit: cylinder, normal: [0, 0, 1], surface: boss}
  sphere: {fit: sphere, surface: boss}
  rim: {fit: circle, from: rim-sweep, radius: 100 mm, surface: bore}
`;
const MEASURED = [
  touched("plane", POINTS.plane!),
  touched("plane2", rough(grid(4, 40, () => 0))),
  traverse(
    "line",
    range(8).map((i) => i * 20),
    range(8).map((i) => 0.001 * (i % 3)),
  ),
  touched("circle", POINTS.circle!),
  touched("cylinder", POINTS.cylinder!),
  touched("cylinder2", rough([0, 25, 50].flatMap((z) => ring(8, () => 20, [4, 5, z + 80])))),
  touched("sphere", POINTS.sphere!),
  rimSweep(
    "rim",
    range(12).map((i) => 0.01 * Math.cos((2 * Math.PI * i) / 12)),
    { bore: true },
  ),
];

describe("characteristics", () => {
  it("has one file for each kind, and an entry here", () => {
    expect(members("characteristics").sort()).toEqual(
      characteristicKinds.map(({ kind }) => camel(kind)).sort(),
    );
    expect(Object.keys(ENTRIES).sort()).toEqual(characteristicKinds.map(({ kind }) => kind).sort());
  });
  describe.each(characteristicKinds)("$kind", ({ kind, to, toRequired, limitDimension }) => {
    const plan = planOf(`${FEATURES}characteristics:\n  - {id: it, kind: ${kind}, ${ENTRIES[kind]}}\n`);
    const entry = characteristic(report(plan, MEASURED), "it");

    it("gives value, uncertainty, method and reason together", () => {
      expect(Number.isFinite(entry.value)).toBe(true);
      expect(entry.uncertainty).toBeGreaterThan(0);
      expect(entry.coverage).toBeGreaterThanOrEqual(2 - 1e-9);
      expect(entry.unit).toBe(limitDimension === "angle" ? "deg" : "mm");
      expect(entry.method.text.length).toBeGreaterThan(5);
      expect(["pass", "fail"]).toContain(entry.verdict);
      expect(entry.because.text).toMatch(/\d/);
      expect(entry.points).toBeGreaterThan(0);
    });
    it("is missing when nothing was measured, and undecided when what was is of no use, without a throw", () => {
      expect(characteristic(report(plan, []), "it")).toMatchObject({ value: null, verdict: "missing" });
      const useless = MEASURED.map((feature) =>
        touched(feature.name, [
          [0, 0, 0],
          [1, 1, 1],
          [2, 2, 2],
        ]),
      );
      expect(["undecided", "pass", "fail"]).toContain(characteristic(report(plan, useless), "it").verdict);
    });
    it("needs what it says it needs", () => {
      expect(toRequired ? to.length : 1).toBeGreaterThan(0);
    });
    it("is the same in another order of the points and elsewhere on the log's lines", () => {
      const turned = MEASURED.map((feature) =>
        feature.sweep ? feature : touched(feature.name, placesOf(feature).toReversed()),
      );
      expect(characteristic(report(plan, turned), "it").value).toBeCloseTo(entry.value!, 7);
    });
  });
});
const placesOf = ({ readings }: (typeof MEASURED)[number]): Vec3[] =>
  [...readings.x.keys()].map((i): Vec3 => [readings.x[i]!, readings.y[i]!, readings.z[i]!]);

describe("health", () => {
  it("has one file for each check", () => {
    expect(members("health")).toHaveLength(healthChecks.length);
  });
  describe.each(healthChecks)("$code", (check) => {
    it("is silent where nothing was measured and never throws on what was", () => {
      const plan = planOf(
        `${FEATURES}characteristics:\n  - {id: it, kind: flatness, of: plane, max: 1 mm}\n`,
      );
      const contextOf = (features: typeof MEASURED) => {
        const set = setOf(features);
        return {
          plan,
          set,
          issued: "2026-11-25T07:00:00Z",
          history: [],
          feature: fitFeatures(set, plan).feature,
        };
      };
      expect(check.check(contextOf([]))).toEqual([]);
      for (const features of [MEASURED, MEASURED.map(({ name }) => touched(name, [[0, 0, 0]]))])
        for (const { finding } of check.check(contextOf(features))) {
          expect(finding.text.text).toMatch(/\.$/);
          expect(finding.code).toMatch(/^[a-z-]+$/);
        }
    });
  });
});
