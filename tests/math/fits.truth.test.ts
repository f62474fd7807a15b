import { describe, expect, test } from "vitest";
import { fitCircle2 } from "../../src/math/fitCircle2.ts";
import { fitCircle3 } from "../../src/math/fitCircle3.ts";
import { fitCylinder } from "../../src/math/fitCylinder.ts";
import { fitLine2 } from "../../src/math/fitLine2.ts";
import { fitLine3 } from "../../src/math/fitLine3.ts";
import { fitPlane } from "../../src/math/fitPlane.ts";
import { fitSphere } from "../../src/math/fitSphere.ts";
import { points2, points3 } from "../../src/math/points.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import { add, basis, cross, dot, length, scale, subtract, unit, type Vec3 } from "../../src/math/vector.ts";
import { cylinderTouches, planeTouches, randomDirection, randomPlace, sphereTouches } from "./parts.ts";
import { value } from "./value.ts";

const degrees = Math.PI / 180;
/** What a coordinate at ten metres has lost before any fit sees it. */
const INPUT_ROUNDING = 4e-12;

describe("exact parts up to ten metres from the origin give their truth", () => {
  test.each([3, 4, 20, 5000])("plane of %i points", (count) => {
    const noise = seededNoise(count);
    for (let trial = 0; trial < 20; trial++) {
      const part = { center: randomPlace(noise), direction: randomDirection(noise), size: 100, count };
      const fit = value(fitPlane(planeTouches(part, noise), part.direction));
      expect(length(cross(fit.direction, part.direction))).toBeLessThan(1e-10);
      expect(Math.abs(dot(subtract(fit.center, part.center), fit.direction))).toBeLessThan(1e-9);
      expect(fit.rms).toBeLessThan(INPUT_ROUNDING);
    }
  });

  test.each([20, 90, 360])("circle over %i degrees", (arc) => {
    const noise = seededNoise(arc);
    for (const count of [3, 5, 40, 3000]) {
      const radius = noise.between(5, 500);
      const part = {
        center: randomPlace(noise),
        direction: randomDirection(noise),
        radius,
        length: 0,
        count,
      };
      const fit = value(fitCircle3(cylinderTouches({ ...part, arc: arc * degrees }, noise), part.direction));
      expect(Math.abs(fit.radius / radius - 1)).toBeLessThan(1e-9);
      expect(length(subtract(fit.center, part.center)) / radius).toBeLessThan(1e-9);
      expect(fit.dof).toBe(count - 3);
    }
  });

  test.each([5, 20, 90, 180])("sphere, cap of %i degrees", (cap) => {
    const noise = seededNoise(cap);
    for (const count of [4, 9, 500]) {
      const part = { center: randomPlace(noise), direction: randomDirection(noise), radius: 50, count };
      const fit = value(fitSphere(sphereTouches({ ...part, cap: cap * degrees }, noise)));
      expect(length(subtract(fit.center, part.center)) / 50).toBeLessThan(1e-9);
      expect(Math.abs(fit.radius / 50 - 1)).toBeLessThan(1e-9);
    }
  });

  const shapes = [20, 90, 180, 360].flatMap((arc) =>
    [0.1, 1, 10, 100].map((slender) => [arc, slender] as const),
  );
  test.each(shapes)("cylinder over %i degrees, %d radii long", (arc, slender) => {
    const noise = seededNoise(arc * 1000 + slender);
    for (const count of [7, 12, 60]) {
      const radius = noise.between(5, 100);
      const part = { center: randomPlace(noise), direction: randomDirection(noise), radius, count };
      const touches = cylinderTouches({ ...part, arc: arc * degrees, length: slender * radius }, noise);
      const fit = value(fitCylinder(touches));
      expect(Math.abs(fit.radius / radius - 1)).toBeLessThan(1e-9);
      expect(length(cross(fit.direction, part.direction))).toBeLessThan(1e-9);
      const off = subtract(fit.center, part.center);
      expect(length(subtract(off, scale(part.direction, dot(off, part.direction)))) / radius).toBeLessThan(
        1e-9,
      );
      expect(Math.max(...fit.residuals.map(Math.abs))).toBeLessThan(1e-9 * radius);
    }
  });

  test("a hundred thousand points on a cylinder, a million on a plane", () => {
    const noise = seededNoise(5);
    const place = { center: randomPlace(noise), direction: randomDirection(noise) };
    const touches = cylinderTouches({ ...place, radius: 30, arc: 6, length: 50, count: 100_000 }, noise);
    expect(value(fitCylinder(touches)).radius).toBeCloseTo(30, 10);
    const face = planeTouches({ ...place, size: 500, count: 1_000_000, noise: 0.001 }, noise);
    const begun = performance.now();
    const plane = value(fitPlane(face, place.direction));
    expect(performance.now() - begun).toBeLessThan(2000);
    expect(length(cross(plane.direction, place.direction))).toBeLessThan(6 * (0.001 / 1000 / 144));
    expect(plane.rms).toBeCloseTo(0.001, 5);
  });

  test("lines in space and in a plane", () => {
    const noise = seededNoise(9);
    for (let trial = 0; trial < 20; trial++) {
      const [center, direction] = [randomPlace(noise), randomDirection(noise)];
      const places = Array.from({ length: 2 + trial }, (_, i) =>
        add(center, scale(direction, 10 * i * i + i)),
      );
      const fit = value(fitLine3(points3(places), direction));
      expect(length(subtract(fit.direction, direction))).toBeLessThan(1e-11);
      const flat = value(fitLine2(points2(places.map((p) => [p[0], p[1]]))));
      expect(flat.slope / (direction[1] / direction[0])).toBeCloseTo(1, 9);
    }
  });

  test("five touches on a cylinder and a rough direction: the one that is meant", () => {
    const noise = seededNoise(31);
    for (let trial = 0; trial < 20; trial++) {
      const direction = randomDirection(noise);
      const part = { center: randomPlace(noise, 500), direction, radius: 20, arc: 6, length: 50, count: 5 };
      const { u } = basis(direction);
      const fit = value(fitCylinder(cylinderTouches(part, noise), add(direction, scale(u, 0.01))));
      expect(fit.radius).toBeCloseTo(20, 8);
      expect(fit.dof).toBe(0);
      expect(fit.scatter).toBeNull();
    }
  });

  test("the corners of a box lie on three cylinders: the stated direction decides", () => {
    const box = points3([-1, 1].flatMap((x) => [-2, 2].flatMap((y) => [-3, 3].map((z): Vec3 => [x, y, z]))));
    const radii = [Math.hypot(2, 3), Math.hypot(1, 3), Math.hypot(1, 2)];
    const axes: Vec3[] = [unit([1, 0.1, 0]), [0, -1, 0], [0, 0, 1]];
    axes.forEach((axis, i) => {
      const fit = value(fitCylinder(box, axis));
      expect(fit.radius).toBeCloseTo(radii[i]!, 12);
      expect(dot(fit.direction, axis)).toBeGreaterThan(0.9);
      expect(fit.rival?.rms).toBeLessThan(1e-12);
    });
    expect(fitCylinder(box)).toMatchObject({ ok: false, code: "degenerate-points" });
  });
});

describe("noisy parts give the truth within their stated uncertainty", () => {
  /** Standardised errors of many parts must have mean square one. */
  function chiSquare(errors: readonly number[]): number {
    return errors.reduce((total, e) => total + e * e, 0) / errors.length;
  }
  const root = (covariance: readonly (readonly number[])[], i: number) => Math.sqrt(covariance[i]![i]!);
  const SIGMA = 0.001;
  const TRIALS = 400;

  test("circle: each parameter's error over its uncertainty spreads as one", () => {
    const noise = seededNoise(77);
    const errors: number[][] = [[], [], []];
    for (let trial = 0; trial < TRIALS; trial++) {
      const count = 8;
      const angles = Array.from({ length: count }, (_, i) => (i * 100 * degrees) / count);
      const fit = value(
        fitCircle2(
          points2(
            angles.map((a) => {
              const r = 40 + SIGMA * noise.normal();
              return [r * Math.cos(a), r * Math.sin(a)];
            }),
          ),
        ),
      );
      [fit.center[0], fit.center[1], fit.radius - 40].forEach((error, i) => {
        errors[i]!.push(error / (SIGMA * root(fit.covariance, i)));
      });
    }
    for (const list of errors) expect(Math.abs(chiSquare(list) - 1)).toBeLessThan(4 * Math.sqrt(2 / TRIALS));
  });

  test("cylinder and plane: offsets, slopes and radius", () => {
    const noise = seededNoise(78);
    const errors: number[][] = [[], [], [], [], [], [], [], []];
    for (let trial = 0; trial < TRIALS; trial++) {
      const truth = {
        center: [5, -3, 2] as Vec3,
        direction: randomDirection(noise),
        radius: 25,
        arc: 4,
        length: 60,
      };
      const fit = value(
        fitCylinder(cylinderTouches({ ...truth, count: 15, noise: SIGMA }, noise), truth.direction),
      );
      const { u, v } = basis(fit.direction);
      const along = dot(truth.direction, fit.direction);
      const reach = dot(subtract(fit.center, truth.center), truth.direction);
      const off = subtract(fit.center, add(truth.center, scale(truth.direction, reach)));
      const found = [
        dot(off, u),
        dot(off, v),
        dot(truth.direction, u) / along,
        dot(truth.direction, v) / along,
      ];
      [...found, fit.radius - 25].forEach((error, i) => {
        errors[i]!.push(error / (SIGMA * root(fit.covariance, i)));
      });
      const face = { center: truth.center, direction: truth.direction, size: 80, count: 9, noise: SIGMA };
      const plane = value(fitPlane(planeTouches(face, noise), truth.direction));
      const frame = basis(plane.direction);
      const tilt = dot(truth.direction, plane.direction);
      const offset = dot(subtract(plane.center, truth.center), truth.direction);
      const slopes = [dot(truth.direction, frame.u) / tilt, dot(truth.direction, frame.v) / tilt];
      [offset, ...slopes].forEach((error, i) => {
        errors[5 + i]!.push(error / (SIGMA * root(plane.covariance, i)));
      });
    }
    for (const list of errors) expect(Math.abs(chiSquare(list) - 1)).toBeLessThan(4 * Math.sqrt(2 / TRIALS));
  });

  test("scatter is the noise that was put in, for every fit", () => {
    const noise = seededNoise(79);
    const place = {
      center: randomPlace(noise),
      direction: randomDirection(noise),
      count: 2000,
      noise: SIGMA,
    };
    const scatters = [
      value(fitPlane(planeTouches({ ...place, size: 50 }, noise))).scatter!,
      value(fitCircle3(cylinderTouches({ ...place, radius: 10, arc: 6, length: 0 }, noise))).scatter!,
      value(fitCylinder(cylinderTouches({ ...place, radius: 10, arc: 6, length: 20 }, noise))).scatter!,
      value(fitSphere(sphereTouches({ ...place, radius: 10, cap: 2 }, noise))).scatter!,
    ];
    for (const scatter of scatters) expect(Math.abs(scatter / SIGMA - 1)).toBeLessThan(4 / Math.sqrt(4000));
  });
});
