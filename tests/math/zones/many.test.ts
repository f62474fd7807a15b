// Of many points the zones are searched among few. The results are those of all points: every one proves itself on all of them.
import { Delaunay } from "d3-delaunay";
import { describe, expect, test } from "vitest";
import type { Outcome } from "../../../src/math/outcome.ts";
import { type Points2, type Points3, points2, points3 } from "../../../src/math/points.ts";
import { add, basis, scale, type Vec3 } from "../../../src/math/vector.ts";
import {
  type Certified,
  checkCertificate,
  circumscribedCylinder,
  hull2,
  inscribedCircle,
  inscribedCylinder,
  zoneCircle,
  zoneCylinder,
  zoneLine,
  zonePlane,
} from "../../../src/math/zones/index.ts";
import { direction, uniform } from "./sets.ts";

const SEEDS = Array.from({ length: 24 }, (_, seed) => 9001 + seed);
const countFor = (seed: number): number => 2001 + ((seed * 379) % 4000);

function proves<K extends keyof Certified>(
  kind: K,
  points: Certified[K]["points"],
  outcome: Outcome<Certified[K]["result"]>,
): void {
  if (!outcome.ok) expect.fail(outcome.text);
  expect(checkCertificate(kind, points, outcome)).toMatchObject({ proved: true });
}

/** A wavy tube somewhere in space: a whole turn or half of one, now and then with a few points far off. */
function tube(seed: number): { points: Points3; center: Vec3; direction: Vec3 } {
  const random = uniform(seed);
  const along = direction(random);
  const { u, v, w } = basis(along);
  const center: Vec3 = [400 * random(), -300 * random(), 200 * random()];
  const [radius, long, turn] = [5 + 80 * random(), 20 + 200 * random(), seed % 3 === 0 ? 3 : 2 * Math.PI];
  const places = Array.from({ length: countFor(seed) }, (_, i): Vec3 => {
    const [angle, height] = [turn * random(), long * (random() - 0.5)];
    const dent = seed % 4 === 0 && i % 997 === 0 ? 0.2 * random() : 0;
    const r = radius + 0.02 * Math.cos(3 * angle + height / 30) + 0.004 * random() - dent;
    return add(
      center,
      add(scale(u, r * Math.cos(angle)), add(scale(v, r * Math.sin(angle)), scale(w, height))),
    );
  });
  return { points: points3(places), center, direction: along };
}
/** A ring, an arc, a blob or a block of points. */
function flat(seed: number): Points2 {
  const random = uniform(seed);
  const [cx, cy] = [900 * random(), -700 * random()];
  return points2(
    Array.from({ length: countFor(seed) }, (): [number, number] => {
      const angle = (seed % 4 === 1 ? 2.2 : 2 * Math.PI) * random();
      const r = 77 + (seed % 4 === 2 ? 30 : 0.05) * random();
      if (seed % 4 === 3) return [cx + 100 * random(), cy + Math.round(50 * random())];
      return [cx + r * Math.cos(angle) + 2 * Math.cos(3 * angle), cy + 0.9 * r * Math.sin(angle)];
    }),
  );
}

describe("zones of thousands of points", () => {
  test.each(SEEDS)("cylinders, set %i", (seed) => {
    const { points, ...start } = tube(seed);
    proves("cylinderZone", points, zoneCylinder(points, start));
    // Half a turn surrounds no axis: what holds a cylinder about it or in it is no matter of these points.
    if (seed % 3 === 0) return;
    proves("circumscribedCylinder", points, circumscribedCylinder(points, start));
    proves("inscribedCylinder", points, inscribedCylinder(points, start));
  });
  test.each(SEEDS)("rings, strips and faces, set %i", (seed) => {
    const points = flat(seed);
    if (seed % 4 === 0) proves("circleZone", points, zoneCircle(points));
    proves("lineZone", points, zoneLine(points, { about: [1, 0] }));
    const random = uniform(seed);
    const face = {
      ...points,
      z: points.x.map((x, i) => 0.001 * x + 1e-6 * points.y[i]! ** 2 + 0.003 * random()),
    };
    proves("planeZone", face, zonePlane(face, { about: [-0.001, 0, 1] }));
  });
  test.each(SEEDS)("the hull and the largest hole, set %i", (seed) => {
    const points = flat(seed);
    const corners = hull2(points);
    expect(corners).toEqual(chainOf(points));
    const hole = inscribedCircle(points);
    proves("inscribedCircle", points, hole);
    if (hole.ok && hole.edge === null) expect(hole.radius).toBeCloseTo(largestVoronoi(points, corners), 9);
  });
});

/** Convex hull by turning at every sorted point (A. M. Andrew 1979), all points taken. */
function chainOf({ x, y }: Points2): number[] {
  const order = Array.from(x, (_, i) => i).sort((a, b) => x[a]! - x[b]! || y[a]! - y[b]!);
  const half = (from: readonly number[]): number[] => {
    const kept: number[] = [];
    for (const i of from) {
      const last = kept.at(-1);
      if (last !== undefined && x[last] === x[i] && y[last] === y[i]) continue;
      const isLeft = (a: number, b: number): boolean =>
        (x[b]! - x[a]!) * (y[i]! - y[a]!) - (y[b]! - y[a]!) * (x[i]! - x[a]!) > 0;
      while (kept.length > 1 && !isLeft(kept.at(-2)!, kept.at(-1)!)) kept.pop();
      kept.push(i);
    }
    return kept.slice(0, -1);
  };
  return [...half(order), ...half(order.reverse())];
}

/** Largest distance from a corner of the Voronoi diagram within the hull to its points. */
function largestVoronoi({ x, y }: Points2, corners: readonly number[]): number {
  const delaunay = new Delaunay(
    Float64Array.from({ length: 2 * x.length }, (_, k) => (k % 2 ? y : x)[k >> 1]!),
  );
  const { circumcenters } = delaunay.voronoi();
  let most = 0;
  for (let t = 0; 3 * t < delaunay.triangles.length; t++) {
    const [px, py] = [circumcenters[2 * t]!, circumcenters[2 * t + 1]!];
    const inside = corners.every((a, k) => {
      const b = corners[(k + 1) % corners.length]!;
      return (x[b]! - x[a]!) * (py - y[a]!) - (y[b]! - y[a]!) * (px - x[a]!) >= 0;
    });
    const from = delaunay.triangles[3 * t]!;
    if (inside) most = Math.max(most, Math.hypot(px - x[from]!, py - y[from]!));
  }
  return most;
}
