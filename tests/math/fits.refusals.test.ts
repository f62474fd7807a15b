import { describe, expect, test } from "vitest";
import { fitCircle2 } from "../../src/math/fitCircle2.ts";
import { fitCircle3 } from "../../src/math/fitCircle3.ts";
import { fitCylinder } from "../../src/math/fitCylinder.ts";
import { fitLine2 } from "../../src/math/fitLine2.ts";
import { fitLine3 } from "../../src/math/fitLine3.ts";
import { fitPlane } from "../../src/math/fitPlane.ts";
import { fitSphere } from "../../src/math/fitSphere.ts";
import type { Outcome } from "../../src/math/outcome.ts";
import { type Points3, points2, points3 } from "../../src/math/points.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import { add, scale, type Vec3 } from "../../src/math/vector.ts";
import { cylinderTouches, planeTouches, randomDirection, randomPlace } from "./parts.ts";
import { refused } from "./value.ts";

const noise = seededNoise(4);
const inSpace: readonly { solve: (points: Points3) => Outcome<object>; least: number }[] = [
  { solve: fitPlane, least: 3 },
  { solve: fitLine3, least: 2 },
  { solve: fitCircle3, least: 3 },
  { solve: fitCylinder, least: 5 },
  { solve: fitSphere, least: 4 },
];
const touches = (count: number) =>
  cylinderTouches({ center: [1, 2, 3], direction: [0, 0, 1], radius: 5, arc: 6, length: 9, count }, noise);
const line = (count: number): Points3 => {
  const [start, direction] = [randomPlace(noise), randomDirection(noise)];
  return points3(Array.from({ length: count }, (_, i) => add(start, scale(direction, 7 * i))));
};

describe.each(inSpace)("$solve.name", ({ solve, least }) => {
  test("too few, or too few different", () => {
    expect(refused(solve(points3([])))).toBe("too-few-points");
    expect(refused(solve(touches(least - 1)))).toBe("too-few-points");
    const { x, y, z } = touches(least - 1);
    const twice = (column: Float64Array) => Float64Array.from([...column, ...column, ...column]);
    expect(refused(solve({ x: twice(x), y: twice(y), z: twice(z) }))).toBe("too-few-points");
  });
  test.each([Number.NaN, Number.POSITIVE_INFINITY])("%d among the coordinates", (bad) => {
    const points = touches(20);
    points.y[7] = bad;
    expect(refused(solve(points))).toBe("not-finite");
  });
  test("columns of unequal length are our own mistake", () => {
    expect(() => solve({ ...touches(9), z: new Float64Array(8) })).toThrow(RangeError);
  });
  test("a reason is one plain sentence", () => {
    const outcome = solve(touches(least - 1));
    expect(outcome).toMatchObject({ ok: false, text: expect.stringMatching(/^[A-Z][^.]+\.$/) });
  });
});

describe("points that lie wrong", () => {
  test("on one line: no plane, circle, cylinder or sphere", () => {
    for (const solve of [fitPlane, fitCircle3, fitCylinder, fitSphere])
      for (const count of [5, 30]) expect(refused(solve(line(count)))).toBe("degenerate-points");
    expect(refused(fitCircle2(points2([0, 1, 2, 3].map((i) => [i, 3 * i - 1]))))).toBe("degenerate-points");
  });
  test("in one plane: no sphere, no cylinder, even when they form a circle", () => {
    const part = { center: randomPlace(noise), direction: randomDirection(noise) };
    const circle = cylinderTouches({ ...part, radius: 20, arc: 6, length: 0, count: 24 }, noise);
    const face = planeTouches({ ...part, size: 50, count: 24 }, noise);
    for (const points of [circle, face])
      for (const solve of [fitSphere, fitCylinder]) expect(refused(solve(points))).toBe("degenerate-points");
  });
  test("on two parallel lines: no cylinder", () => {
    const places = [0, 3, 4, 9].flatMap((z): Vec3[] => [
      [0, 0, z],
      [5, 2, z + 1],
    ]);
    expect(refused(fitCylinder(points3(places)))).toBe("degenerate-points");
  });
  test("alike in all directions: no plane, no line", () => {
    const cube = points3([-1, 1].flatMap((x) => [-1, 1].flatMap((y) => [-1, 1].map((z): Vec3 => [x, y, z]))));
    expect(refused(fitPlane(cube))).toBe("degenerate-points");
    expect(refused(fitLine3(cube))).toBe("degenerate-points");
    const square = points2([
      [0, 0],
      [0, 1],
      [1, 0],
      [1, 1],
    ]);
    expect(refused(fitLine2(square))).toBe("degenerate-points");
    expect(refused(fitLine2(points2([[1, 1]])))).toBe("too-few-points");
  });
  test("five points on a sphere of directions: several cylinders, so none", () => {
    expect(refused(fitCylinder(touches(5)))).toBe("degenerate-points");
  });
});

describe("straight rather than round", () => {
  test("a wavy line has no circle: the radius runs away", () => {
    const wave = points2(Array.from({ length: 21 }, (_, i) => [i, [0, 1, 0, -1][i % 4]! * 0.01]));
    expect(refused(fitCircle2(wave))).toBe("no-convergence");
  });
  test("a wavy face has no sphere", () => {
    const places: Vec3[] = [];
    for (let i = -4; i <= 4; i++)
      for (let j = -4; j <= 4; j++) places.push([i, j, 0.01 * ((i + j) % 2 === 0 ? 1 : -1) * Math.sign(i)]);
    expect(refused(fitSphere(points3(places)))).toBe("no-convergence");
  });
  test("a gently bowed line still has its circle", () => {
    const bow = points2(Array.from({ length: 21 }, (_, i) => [i - 10, Math.sqrt(1000 ** 2 - (i - 10) ** 2)]));
    const fit = fitCircle2(bow);
    expect(fit.ok && Math.abs(fit.radius / 1000 - 1)).toBeLessThan(1e-6);
  });
});
