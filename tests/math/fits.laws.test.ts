import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fitCircle3 } from "../../src/math/fitCircle3.ts";
import { fitCylinder } from "../../src/math/fitCylinder.ts";
import { fitLine3 } from "../../src/math/fitLine3.ts";
import { fitPlane } from "../../src/math/fitPlane.ts";
import type { FitQuality } from "../../src/math/fitQuality.ts";
import { fitSphere } from "../../src/math/fitSphere.ts";
import type { Outcome } from "../../src/math/outcome.ts";
import type { Points3 } from "../../src/math/points.ts";
import {
  compose,
  moveDirection,
  movePoint,
  movePoints,
  rotationAbout,
  translation,
} from "../../src/math/rigidMotion.ts";
import { type SeededNoise, seededNoise } from "../../src/math/seededNoise.ts";
import { add, basis, cross, dot, length, scale, subtract, type Vec3 } from "../../src/math/vector.ts";
import { cylinderTouches, planeTouches, randomDirection, randomPlace, sphereTouches } from "./parts.ts";
import { value } from "./value.ts";

type Fit = FitQuality & { readonly center: Vec3; readonly direction?: Vec3; readonly radius?: number };
interface Kind {
  readonly name: string;
  readonly associate: (points: Points3, towards?: Vec3) => Outcome<Fit>;
  readonly make: (noise: SeededNoise) => { points: Points3; towards: Vec3 };
  /** Sum of squared distances from the fitted feature, moved by local parameters (see the fits' covariance). */
  readonly squares: (points: Points3, fit: Fit, change: readonly number[]) => number;
  readonly parameters: number;
}

const SIZE = 100;
const made = (noise: SeededNoise) => ({
  center: randomPlace(noise, 50),
  direction: randomDirection(noise),
  count: 14 + noise.below(20),
  noise: 0.02,
});

/** Distance from the axis and height along it, the axis shifted and sloped in the frame of `direction`. */
function fromAxis(
  point: Vec3,
  fit: Fit,
  [du = 0, dv = 0, slopeU = 0, slopeV = 0]: readonly number[],
): number {
  const { u, v, w } = basis(fit.direction!);
  const axis = add(w, add(scale(u, slopeU), scale(v, slopeV)));
  const foot = add(fit.center, add(scale(u, du), scale(v, dv)));
  return length(cross(subtract(point, foot), axis)) / length(axis);
}
function total(points: Points3, residual: (point: Vec3) => number): number {
  let sum = 0;
  for (let i = 0; i < points.x.length; i++) sum += residual([points.x[i]!, points.y[i]!, points.z[i]!]) ** 2;
  return sum;
}

const KINDS: readonly Kind[] = [
  {
    name: "plane",
    associate: fitPlane,
    make: (noise) => {
      const part = made(noise);
      return { points: planeTouches({ ...part, size: SIZE }, noise), towards: part.direction };
    },
    squares: (points, fit, [offset = 0, slopeU = 0, slopeV = 0]) => {
      const { u, v, w } = basis(fit.direction!);
      const normal = subtract(w, add(scale(u, slopeU), scale(v, slopeV)));
      return total(points, (p) => (dot(subtract(p, fit.center), normal) - offset) / length(normal));
    },
    parameters: 3,
  },
  {
    name: "line",
    associate: fitLine3,
    make: (noise) => {
      const part = { ...made(noise), radius: 0.05, arc: 50, length: SIZE };
      return { points: cylinderTouches(part, noise), towards: part.direction };
    },
    squares: (points, fit, change) => total(points, (p) => fromAxis(p, fit, change)),
    parameters: 4,
  },
  {
    name: "circle",
    associate: fitCircle3,
    make: (noise) => {
      const part = { ...made(noise), radius: SIZE / 2, arc: noise.between(1, 6.2), length: 0 };
      return { points: cylinderTouches(part, noise), towards: part.direction };
    },
    squares: (points, fit, [du = 0, dv = 0, dr = 0]) => {
      const { u, v, w } = basis(fit.direction!);
      const center = add(fit.center, add(scale(u, du), scale(v, dv)));
      return total(points, (p) => length(cross(subtract(p, center), w)) - fit.radius! - dr);
    },
    parameters: 3,
  },
  {
    name: "cylinder",
    associate: fitCylinder,
    make: (noise) => {
      const part = {
        ...made(noise),
        radius: SIZE / 2,
        arc: noise.between(1.5, 6.2),
        length: noise.between(20, 300),
      };
      return { points: cylinderTouches(part, noise), towards: part.direction };
    },
    squares: (points, fit, change) =>
      total(points, (p) => fromAxis(p, fit, change) - fit.radius! - (change[4] ?? 0)),
    parameters: 5,
  },
  {
    name: "sphere",
    associate: fitSphere,
    make: (noise) => {
      const part = { ...made(noise), radius: SIZE / 2, cap: noise.between(0.5, 3) };
      return { points: sphereTouches(part, noise), towards: part.direction };
    },
    squares: (points, fit, [x = 0, y = 0, z = 0, r = 0]) =>
      total(points, (p) => length(subtract(p, add(fit.center, [x, y, z]))) - fit.radius! - r),
    parameters: 4,
  },
];

const seeds = fc.integer({ min: 1, max: 1e9 });

function expectSameFigures(before: Fit, after: Fit, factor: number): void {
  expect(after.rms / (before.rms * factor)).toBeCloseTo(1, 8);
  expect(after.condition / before.condition).toBeCloseTo(1, 5);
  if (before.radius !== undefined) expect(after.radius! / (before.radius * factor)).toBeCloseTo(1, 9);
}

/** A cylinder's and a line's centre may slide along the axis by rounding of the mean only; all centres compare. */
function expectSamePlace(place: Vec3, wanted: Vec3, size: number): void {
  expect(length(subtract(place, wanted)) / size).toBeLessThan(1e-9);
}

describe.each(KINDS)("$name", ({ associate, make, squares, parameters }) => {
  test("turning and moving the points turns and moves the result", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const noise = seededNoise(seed);
        const { points, towards } = make(noise);
        const turn = rotationAbout(randomPlace(noise, 100), randomDirection(noise), noise.between(-3, 3));
        const motion = compose(translation(randomPlace(noise, 5000)), turn);
        const before = value(associate(points, towards));
        const after = value(associate(movePoints(motion, points), moveDirection(motion, towards)));
        expectSameFigures(before, after, 1);
        expectSamePlace(after.center, movePoint(motion, before.center), SIZE);
        if (before.direction)
          expect(length(subtract(after.direction!, moveDirection(motion, before.direction)))).toBeLessThan(
            1e-9,
          );
        after.residuals.forEach((r, i) => {
          expect(Math.abs(r - before.residuals[i]!)).toBeLessThan(1e-9);
        });
      }),
      { numRuns: 25 },
    );
  });

  test("another order of the points changes the order of the residuals and nothing else", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const noise = seededNoise(seed);
        const { points, towards } = make(noise);
        const backwards = (column: Float64Array) => column.slice().reverse();
        const before = value(associate(points, towards));
        const after = value(
          associate({ x: backwards(points.x), y: backwards(points.y), z: backwards(points.z) }, towards),
        );
        expectSameFigures(before, after, 1);
        expectSamePlace(after.center, before.center, SIZE);
        backwards(after.residuals).forEach((r, i) => {
          expect(Math.abs(r - before.residuals[i]!)).toBeLessThan(1e-10);
        });
      }),
      { numRuns: 15 },
    );
  });

  test("inches and millimetres give the same part", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { points, towards } = make(seededNoise(seed));
        const larger = (column: Float64Array) => column.map((a) => a * 25.4);
        const before = value(associate(points, towards));
        const after = value(
          associate({ x: larger(points.x), y: larger(points.y), z: larger(points.z) }, towards),
        );
        expectSameFigures(before, after, 25.4);
        expectSamePlace(after.center, scale(before.center, 25.4), 25.4 * SIZE);
        if (before.direction)
          expect(length(subtract(after.direction!, before.direction))).toBeLessThan(1e-10);
        // An offset's covariance has no unit, a slope's is one over a length squared.
        const ratio = after.covariance.map((row, i) => row[i]! / before.covariance[i]![i]!);
        for (const r of ratio)
          expect(Math.min(Math.abs(r - 1), Math.abs(r * 25.4 ** 2 - 1))).toBeLessThan(1e-6);
      }),
      { numRuns: 15 },
    );
  });

  test("the sum of squares is least there: no slope, and the stated curvature", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { points, towards } = make(seededNoise(seed));
        const fit = value(associate(points, towards));
        const least = squares(points, fit, []);
        const own = fit.residuals.reduce((sum, r) => sum + r * r, 0);
        expect(Math.abs(own / least - 1)).toBeLessThan(1e-9);
        for (let j = 0; j < parameters; j++) {
          // A step as long as the parameter's own uncertainty raises the sum by what the covariance says.
          const step = 0.02 * Math.sqrt(fit.covariance[j]![j]!);
          const along = (t: number) => Array.from({ length: parameters }, (_, k) => (k === j ? t : 0));
          const [ahead, behind] = [squares(points, fit, along(step)), squares(points, fit, along(-step))];
          expect(ahead).toBeGreaterThan(least);
          expect(behind).toBeGreaterThan(least);
          const tiny = step * 1e-3;
          const slope = (squares(points, fit, along(tiny)) - squares(points, fit, along(-tiny))) / (2 * tiny);
          expect(Math.abs(slope) * step).toBeLessThan(1e-6 * (ahead + behind - 2 * least));
        }
      }),
      { numRuns: 25 },
    );
  });
});
