import { describe, expect, test } from "vitest";
import type { Outcome } from "../../../src/math/outcome.ts";
import { type Points2, type Points3, points2, points3 } from "../../../src/math/points.ts";
import { basis, dot, subtract, type Vec3 } from "../../../src/math/vector.ts";
import {
  angularityZone,
  axisCylinder,
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
import { cylinder, direction, face, reorder, round, uniform } from "./sets.ts";

function got<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.text);
  return outcome;
}
interface Motion {
  readonly turn: (v: Vec3) => Vec3;
  readonly place: (v: Vec3) => Vec3;
  readonly factor: number;
}
function motion(random: () => number, factor: number): Motion {
  const { u, v, w } = basis(direction(random));
  const shift: Vec3 = [50 * random(), -70 * random(), 30 * random()];
  const turn = (p: Vec3): Vec3 => [dot(p, u), dot(p, v), dot(p, w)];
  const place = (p: Vec3): Vec3 => turn(p).map((c, k) => factor * c + shift[k]!) as unknown as Vec3;
  return { turn, place, factor };
}
const moved = (points: Points3, { place }: Motion): Points3 =>
  points3(Array.from(points.x, (x, i) => place([x, points.y[i]!, points.z[i]!])));
function shuffled<T extends Points2 | Points3>(points: T, random: () => number): T {
  const order = Array.from(points.x, (_, i) => i).sort(() => random() - 0.5);
  return reorder(points, order);
}
/** Rounds in a plane: turned, moved and scaled within it. */
function movedRound(points: Points2, random: () => number, factor: number): Points2 {
  const [angle, dx, dy] = [6 * random(), 9 * random(), -5 * random()];
  const [cos, sin] = [Math.cos(angle) * factor, Math.sin(angle) * factor];
  return points2(
    Array.from(points.x, (x, i): [number, number] => [
      cos * x - sin * points.y[i]! + dx,
      sin * x + cos * points.y[i]! + dy,
    ]),
  );
}
const SEEDS = Array.from({ length: 60 }, (_, seed) => 501 + seed);
const FACTORS = [1, 1 / 25.4, 1000] as const;

describe("turning, moving, reordering and scaling change no result", () => {
  test.each(SEEDS)("faces, set %i", (seed) => {
    const random = uniform(seed + 10_000);
    const { points, normal } = face(seed);
    const m = motion(random, FACTORS[seed % 3]!);
    const other = shuffled(moved(points, m), random);
    const about = m.turn(normal);
    const datum = basis(normal).u;
    const tolerance = 3e-10 * Math.max(1, m.factor);
    const same = (a: number, b: number) => expect(Math.abs(b - m.factor * a)).toBeLessThan(tolerance);
    same(got(zonePlane(points, { about: normal })).width, got(zonePlane(other, { about })).width);
    same(
      got(tangentPlane(points, { outward: normal })).largestGap,
      got(tangentPlane(other, { outward: about })).largestGap,
    );
    same(
      got(parallelZone(points, { datum: normal })).width,
      got(parallelZone(other, { datum: about })).width,
    );
    const turned = m.turn(datum);
    same(
      got(perpendicularityZone(points, { datum, about: normal })).width,
      got(perpendicularityZone(other, { datum: turned, about })).width,
    );
    const slanted = normal.map((c, k) => Math.cos(1.2) * c + Math.sin(1.2) * datum[k]!) as unknown as Vec3;
    same(
      got(angularityZone(points, { datum: slanted, about: normal, angle: 1.2 })).width,
      got(angularityZone(other, { datum: m.turn(slanted), about, angle: 1.2 })).width,
    );
  });
  test.each(SEEDS)("rounds, set %i", (seed) => {
    const random = uniform(seed + 20_000);
    const { points, full } = round(seed);
    const factor = FACTORS[seed % 3]!;
    const other = shuffled(movedRound(points, random, factor), random);
    const same = (a: number, b: number) =>
      expect(Math.abs(b - factor * a)).toBeLessThan(3e-10 * Math.max(1, factor) * (full ? 1 : 10));
    same(got(circumscribedCircle(points)).radius, got(circumscribedCircle(other)).radius);
    same(got(inscribedCircle(points)).radius, got(inscribedCircle(other)).radius);
    const [zone, again] = [got(zoneCircle(points)), got(zoneCircle(other))];
    expect(again.proof).toBe(zone.proof);
    if (zone.proof === "global") same(zone.width, again.width);
  });
  test.each(SEEDS.slice(0, 25))("cylinders, set %i", (seed) => {
    const random = uniform(seed + 30_000);
    const set = cylinder(seed);
    const m = motion(random, FACTORS[seed % 3]!);
    const other = shuffled(moved(set.points, m), random);
    const start = { center: m.place(set.center), direction: m.turn(set.direction) };
    const same = (a: number, b: number) =>
      expect(Math.abs(b - m.factor * a)).toBeLessThan(3e-9 * Math.max(1, m.factor));
    same(got(zoneCylinder(set.points, set)).width, got(zoneCylinder(other, start)).width);
    same(got(circumscribedCylinder(set.points, set)).radius, got(circumscribedCylinder(other, start)).radius);
    same(got(inscribedCylinder(set.points, set)).radius, got(inscribedCylinder(other, start)).radius);
    same(got(axisCylinder(set.points, set)).diameter, got(axisCylinder(other, start)).diameter);
  });
});

describe("order among the definitions", () => {
  test.each(SEEDS)("no start is better than the zone reached from it, set %i", (seed) => {
    const { points, normal } = face(seed);
    expect(got(zonePlane(points, { about: normal })).width).toBeLessThanOrEqual(
      got(parallelZone(points, { datum: normal })).width * (1 + 1e-12) + 1e-12,
    );
    const { points: ring, center } = round(seed);
    const radii = Array.from(ring.x, (x, i) => Math.hypot(x - center[0], ring.y[i]! - center[1]));
    const about = Math.max(...radii) - Math.min(...radii);
    expect(got(zoneCircle(ring, { start: center })).width).toBeLessThanOrEqual(about + 1e-12);
    const set = cylinder(seed);
    const { w } = basis(set.direction);
    const away = Array.from(set.points.x, (x, i) => {
      const arm = subtract([x, set.points.y[i]!, set.points.z[i]!], set.center);
      return Math.sqrt(Math.max(0, dot(arm, arm) - dot(arm, w) ** 2));
    });
    expect(got(zoneCylinder(set.points, set)).width).toBeLessThanOrEqual(
      Math.max(...away) - Math.min(...away) + 1e-10,
    );
  });
  test.each(SEEDS)("weights are the derivatives of the width, set %i", (seed) => {
    const { points, normal } = face(seed);
    const zone = got(zonePlane(points, { about: normal }));
    if (zone.width < 1e-4) return expect(zone.width).toBeGreaterThanOrEqual(0);
    const heaviest = [...zone.upper].sort((a, b) => b.weight - a.weight)[0]!;
    const h = zone.width * 1e-4;
    const out = points3(
      Array.from(points.x, (x, i) => {
        const d = i === heaviest.index ? h : 0;
        return [
          x + d * zone.normal[0],
          points.y[i]! + d * zone.normal[1],
          points.z[i]! + d * zone.normal[2],
        ] as Vec3;
      }),
    );
    // Moving a support outward widens the zone at least at the rate of its weight (exactly so when no support changes).
    const rise = got(zonePlane(out, { about: zone.normal })).width - zone.width;
    expect(rise).toBeGreaterThan(heaviest.weight * h - 1e-9);
    expect(rise).toBeLessThanOrEqual(h + 1e-9);
  });
});

test("a straight edge of the strip is found from either side and reversed directions give the same strip", () => {
  const points = points2([
    [0, 0],
    [10, 0.02],
    [20, -0.01],
    [30, 0.03],
    [40, 0],
  ]);
  const one = got(zoneLine(points, { about: [1, 0] }));
  const other = got(zoneLine(points, { about: [-1, 0] }));
  expect(other.width).toBeCloseTo(one.width, 14);
  expect(other.direction[0]).toBeLessThan(0);
});
