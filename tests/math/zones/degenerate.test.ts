import { describe, expect, test } from "vitest";
import type { Outcome } from "../../../src/math/outcome.ts";
import { points2, points3 } from "../../../src/math/points.ts";
import type { Vec3 } from "../../../src/math/vector.ts";
import {
  angularityZone,
  axisCylinder,
  checkCertificate,
  circumscribedCircle,
  circumscribedCylinder,
  inscribedCircle,
  inscribedCylinder,
  parallelZone,
  perpendicularityZone,
  tangentPlane,
  zoneCircle,
  zoneCylinder,
  zoneLine,
  zonePlane,
} from "../../../src/math/zones/index.ts";

function got<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.text);
  return outcome;
}
const code = (outcome: Outcome<unknown>): string => (outcome.ok ? "ok" : outcome.code);
const grid = (height: (x: number, y: number) => number, far = 0): Vec3[] =>
  [0, 1, 2, 3, 4].flatMap((i) =>
    [0, 1, 2, 3].map((j): Vec3 => [far + 10 * i, far + 10 * j, far + height(i, j)]),
  );
const ring = (count: number, radius: number, far = 0): [number, number][] =>
  Array.from({ length: count }, (_, k) => {
    const angle = (2 * Math.PI * k) / count;
    return [far + radius * Math.cos(angle), far + radius * Math.sin(angle)];
  });
const tube = (radius: number): Vec3[] =>
  [0, 15, 30].flatMap((z) => ring(8, radius).map(([x, y]): Vec3 => [x, y, z]));
const AXIS = { center: [0, 0, 10], direction: [0, 0, 1] } as const;

describe("exact data have no form and never a negative one", () => {
  test.each([0, 10_000])("a flat grid, level or sloping, at %i", (far) => {
    for (const slope of [0, 0.5, -0.013]) {
      const points = points3(grid((x, y) => slope * x - 0.3 * slope * y, far));
      const length = Math.hypot(0.1 * slope, 0.03 * slope, 1);
      const about: Vec3 = [(-0.1 * slope) / length, (0.03 * slope) / length, 1 / length];
      const zone = got(zonePlane(points, { about }));
      expect(zone.width).toBeGreaterThanOrEqual(0);
      expect(zone.width).toBeLessThan(1e-11);
      expect(checkCertificate("planeZone", points, zone)).toMatchObject({ proved: true });
      const tangent = got(tangentPlane(points, { outward: about }));
      expect(tangent.contacts).toHaveLength(20);
      expect(tangent.rocks).toBe(false);
      expect(tangent.largestGap).toBeGreaterThanOrEqual(0);
    }
  });
  test.each([0, 10_000])("an exact circle at %i", (far) => {
    const points = points2(ring(24, 50, far));
    const zone = got(zoneCircle(points));
    expect(zone.width).toBeGreaterThanOrEqual(0);
    expect(zone.width).toBeLessThan(1e-11);
    expect(zone.proof).toBe("global");
    expect(got(circumscribedCircle(points)).radius).toBeCloseTo(50, 10);
    expect(got(inscribedCircle(points)).radius).toBeCloseTo(50, 10);
  });
  test("an exact cylinder", () => {
    const points = points3(tube(20));
    const start = { center: [0.1, -0.2, 3], direction: [0.01, 0.02, 1] } as const;
    const zone = got(zoneCylinder(points, start));
    expect(zone.width).toBeGreaterThanOrEqual(0);
    expect(zone.width).toBeLessThan(1e-11);
    expect(got(circumscribedCylinder(points, start)).radius).toBeCloseTo(20, 10);
    expect(got(inscribedCylinder(points, start)).radius).toBeCloseTo(20, 10);
    expect(got(axisCylinder(points, { direction: [0, 0, 1] })).diameter).toBeCloseTo(40, 10);
  });
  test("points on one line make a strip of no width", () => {
    const points = points2([0, 1, 2, 5, 9].map((t): [number, number] => [3 + 0.1 * t, 0.7 * t]));
    const zone = got(zoneLine(points, { about: [0.1, 0.7] }));
    expect(zone.width).toBeGreaterThanOrEqual(0);
    expect(zone.width).toBeLessThan(1e-14);
  });
});

describe("worked by hand", () => {
  test("one corner of a square face raised by 1: half of it is form", () => {
    const points = points3([
      [0, 0, 0],
      [1000, 0, 0],
      [0, 1000, 0],
      [1000, 1000, 1],
    ]);
    const zone = got(zonePlane(points, { about: [0, 0, 1] }));
    expect(zone.width).toBeCloseTo(0.5, 6);
    expect(zone.upper.map(({ weight }) => weight).sort()).toEqual([
      expect.closeTo(0.5, 5),
      expect.closeTo(0.5, 5),
    ]);
  });
  test("a thin rod-like face: the zone about its normal is reported, the narrower one across named", () => {
    // Oblong in section, 0.002 across and 0.02 high: turning it at first makes it wider.
    const places = [-50, -20, 0, 30, 50].flatMap((x) =>
      [-0.001, 0.001].flatMap((y) => [-0.01, 0.01].map((z): Vec3 => [x, y, z + 1e-6 * x * x])),
    );
    const zone = got(zonePlane(points3(places), { about: [0, 0, 1], search: "global" }));
    expect(zone.narrower).not.toBeNull();
    expect(zone.width).toBeGreaterThan(0.02);
    expect(zone.narrower!.width).toBeCloseTo(0.002, 12);
    expect(zone.proof).toBe("local");
  });
  test("a square: circles through and between the corners", () => {
    const points = points2([
      [0, 0],
      [2, 0],
      [2, 2],
      [0, 2],
    ]);
    expect(got(circumscribedCircle(points)).radius).toBeCloseTo(Math.SQRT2, 14);
    expect(got(inscribedCircle(points)).radius).toBeCloseTo(Math.SQRT2, 14);
    expect(got(zoneCircle(points)).width).toBeLessThan(1e-14);
  });
  test("a long flat triangle: the inscribed circle's centre rests on the long edge", () => {
    const points = points2([
      [-10, 0],
      [10, 0],
      [0, 1],
    ]);
    const circle = got(inscribedCircle(points));
    // On y = 0, equally far from (-10, 0) and (0, 1): (x + 10)^2 = x^2 + 1.
    expect(circle.radius).toBeCloseTo(10 - 99 / 20, 12);
    expect(Math.abs(circle.center[0])).toBeCloseTo(99 / 20, 12);
    expect(circle.edge).not.toBeNull();
    expect(checkCertificate("inscribedCircle", points, circle).proved).toBe(true);
  });
  test("a face leaning 0.1 in 100 against its datum: perpendicularity, angularity, parallelism", () => {
    const wall = points3([0, 50, 100].flatMap((z) => [0, 40].map((y): Vec3 => [0.001 * z, y, z])));
    const datum: Vec3 = [0, 0, 1];
    const square = got(perpendicularityZone(wall, { datum, about: [1, 0, -0.001] }));
    expect(square.width).toBeCloseTo(0.1, 12);
    expect(square.normal[2]).toBe(0);
    const lean = Math.atan2(1, -0.001);
    const angled = got(angularityZone(wall, { datum, about: [1, 0, -0.001], angle: lean }));
    expect(angled.width).toBeLessThan(1e-12);
    // The supplement names the same planes.
    const other = got(angularityZone(wall, { datum, about: [1, 0, -0.001], angle: Math.PI - lean }));
    expect(other.width).toBeCloseTo(angled.width, 12);
    expect(got(parallelZone(wall, { datum: [0, 0, -1] })).width).toBe(100);
    const axis = points3([
      [0, 0, 0],
      [0.03, 0.04, 100],
    ]);
    expect(got(axisCylinder(axis, { direction: datum })).diameter).toBeCloseTo(0.05, 14);
  });
  test("a bowl rocks on nothing: its rim surrounds the centroid", () => {
    const points = points3(grid((x, y) => ((x - 2) ** 2 + (y - 1.5) ** 2) * 0.01));
    const tangent = got(tangentPlane(points, { outward: [0, 0, 1] }));
    expect(tangent.contacts).toEqual([0, 3, 16, 19]);
    expect(tangent.rocks).toBe(false);
    expect(tangent.normal[2]).toBeCloseTo(1, 12);
  });
  test("of equally good tangent planes the one nearest to the outward direction is taken", () => {
    const roof = points3(grid((x) => -0.01 * Math.abs(x - 2)));
    const tangent = got(tangentPlane(roof, { outward: [0, 0, 1] }));
    expect(tangent.normal[0]).toBeCloseTo(0, 12);
    expect(tangent.contacts).toEqual([8, 9, 10, 11]);
    expect(tangent.rocks).toBe(true);
  });
});

describe("sets that decide nothing are refused with a reason", () => {
  const line3 = points3([0, 1, 2, 3, 4, 5].map((t): Vec3 => [t, 2 * t, -t]));
  const line2 = points2([0, 1, 2, 3].map((t): [number, number] => [t, 2 * t]));
  test.each([
    ["plane of collinear points", () => zonePlane(line3, { about: [0, 0, 1] }), "degenerate-points"],
    [
      "tangent plane of collinear points",
      () => tangentPlane(line3, { outward: [0, 0, 1] }),
      "degenerate-points",
    ],
    [
      "plane of two points",
      () =>
        zonePlane(
          points3([
            [0, 0, 0],
            [1, 0, 0],
          ]),
          { about: [0, 0, 1] },
        ),
      "too-few-points",
    ],
    ["strip of one point", () => zoneLine(points2([[0, 0]]), { about: [1, 0] }), "too-few-points"],
    [
      "strip of one repeated point",
      () =>
        zoneLine(
          points2([
            [1, 2],
            [1, 2],
          ]),
          { about: [1, 0] },
        ),
      "degenerate-points",
    ],
    ["ring of collinear points", () => zoneCircle(line2), "degenerate-points"],
    ["inscribed circle of collinear points", () => inscribedCircle(line2), "degenerate-points"],
    [
      "ring of two points",
      () =>
        zoneCircle(
          points2([
            [0, 0],
            [1, 1],
          ]),
        ),
      "too-few-points",
    ],
    ["circle of no points", () => circumscribedCircle(points2([])), "too-few-points"],
    ["cylinder of collinear points", () => zoneCylinder(line3, AXIS), "degenerate-points"],
    [
      "a missing number",
      () =>
        zonePlane(
          points3([
            [0, 0, 0],
            [1, 0, Number.NaN],
            [0, 1, 0],
          ]),
          { about: [0, 0, 1] },
        ),
      "not-finite",
    ],
    ["an infinite number", () => circumscribedCircle(points2([[0, Number.POSITIVE_INFINITY]])), "not-finite"],
    [
      "perpendicularity of a face along the datum",
      () => perpendicularityZone(points3(tube(3)), { datum: [0, 0, 1], about: [0, 0, 1] }),
      "degenerate-points",
    ],
    [
      "inscribed cylinder of a half shell",
      () => inscribedCylinder(points3(tube(20).filter(([x]) => x > 1)), AXIS),
      "degenerate-points",
    ],
  ] as const)("%s", (_, solve, reason) => {
    expect(code(solve())).toBe(reason);
  });
  test("collinear points and single points still have a circumscribed circle", () => {
    expect(got(circumscribedCircle(line2)).radius).toBeCloseTo(Math.hypot(1.5, 3), 14);
    expect(got(circumscribedCircle(points2([[4, 5]]))).radius).toBe(0);
    expect(
      got(
        circumscribedCircle(
          points2([
            [4, 5],
            [4, 5],
          ]),
        ),
      ).radius,
    ).toBe(0);
  });
  test("a direction of length zero is a mistake of the caller", () => {
    expect(() => zonePlane(points3(tube(3)), { about: [0, 0, 0] })).toThrow(RangeError);
    expect(() => zoneLine(line2, { about: [0, 0] })).toThrow(RangeError);
  });
});
