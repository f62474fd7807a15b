import { describe, expect, test } from "vitest";
import type { Outcome } from "../../../src/math/outcome.ts";
import { type Points2, type Points3, points2, points3 } from "../../../src/math/points.ts";
import { cross, dot, length, scale, subtract, type Vec2, type Vec3 } from "../../../src/math/vector.ts";
import {
  circumscribedCircle,
  hull2,
  inscribedCircle,
  zoneCircle,
  zoneLine,
  zonePlane,
} from "../../../src/math/zones/index.ts";
import { uniform } from "./sets.ts";

function got<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.text);
  return outcome;
}
const SEEDS = Array.from({ length: 60 }, (_, seed) => seed + 1);
const indices = (n: number): number[] => Array.from({ length: n }, (_, i) => i);
function subsets(n: number, k: number): number[][] {
  if (k === 0) return [[]];
  return indices(n).flatMap((i) => subsets(i, k - 1).map((rest) => [...rest, i]));
}
const radii = ({ x, y }: Points2, [cx, cy]: Vec2): number[] =>
  Array.from(x, (_, i) => Math.hypot(x[i]! - cx, y[i]! - cy));

/** Crossing of a x = b for two by two, null when parallel. */
function crossing(a: readonly [Vec2, Vec2], b: Vec2): Vec2 | null {
  const det = a[0][0] * a[1][1] - a[0][1] * a[1][0];
  if (Math.abs(det) < 1e-14) return null;
  return [(b[0] * a[1][1] - a[0][1] * b[1]) / det, (a[0][0] * b[1] - b[0] * a[1][0]) / det];
}
/** Centre with equal distance within the pair (a, b) and within the pair (c, d). */
function centerOf(
  p: Points2,
  [a, b]: readonly [number, number],
  [c, d]: readonly [number, number],
): Vec2 | null {
  const row = (i: number, j: number): Vec2 => [2 * (p.x[j]! - p.x[i]!), 2 * (p.y[j]! - p.y[i]!)];
  const side = (i: number, j: number): number =>
    (p.x[j]! - p.x[i]!) * (p.x[j]! + p.x[i]!) + (p.y[j]! - p.y[i]!) * (p.y[j]! + p.y[i]!);
  return crossing([row(a, b), row(c, d)], [side(a, b), side(c, d)]);
}
/** All centres that three or two pairs of points can fix, whatever points they are. */
function candidateCenters(points: Points2): Vec2[] {
  const pairs = subsets(points.x.length, 2) as [number, number][];
  return pairs
    .flatMap((p, k) => pairs.slice(k + 1).map((q) => centerOf(points, p, q)))
    .filter((c) => c !== null);
}
/** Scattered points, strongly out of round so that several local optima exist, or a gentle form. */
function scatter(seed: number, count: number): Points2 {
  const random = uniform(seed);
  const form = seed % 3 === 0 ? 0.8 : seed % 3 === 1 ? 0.1 : 0.001;
  return points2(
    indices(count).map((): [number, number] => {
      const [a, r] = [2 * Math.PI * random(), 5 * (1 + form * (random() - 0.5))];
      return [3 + r * Math.cos(a), -2 + r * Math.sin(a)];
    }),
  );
}

describe("against trying every candidate", () => {
  test.each(SEEDS)("minimum-zone circle, set %i", (seed) => {
    const points = scatter(seed, 6 + (seed % 4));
    const zone = got(zoneCircle(points));
    const around = got(circumscribedCircle(points)).center;
    let least = Number.POSITIVE_INFINITY;
    for (const center of candidateCenters(points)) {
      if (Math.hypot(center[0] - around[0], center[1] - around[1]) > zone.reach) continue;
      const r = radii(points, center);
      least = Math.min(least, Math.max(...r) - Math.min(...r));
    }
    // The disc of centres can cut off a ring that keeps narrowing outwards; then the result is local and says so.
    if (zone.proof === "global") expect(Math.abs(zone.width - least)).toBeLessThan(1e-10);
    else expect(zone.width).toBeGreaterThanOrEqual(least - 1e-10);
  });
  test.each(SEEDS)("circumscribed circle, set %i", (seed) => {
    const points = scatter(seed, 7);
    const centers = subsets(7, 2).map(
      ([a, b]): Vec2 => [(points.x[a!]! + points.x[b!]!) / 2, (points.y[a!]! + points.y[b!]!) / 2],
    );
    const least = Math.min(
      ...[...centers, ...candidateCenters(points)].map((c) => Math.max(...radii(points, c))),
    );
    expect(Math.abs(got(circumscribedCircle(points)).radius - least)).toBeLessThan(1e-10);
  });
  test.each(SEEDS)("inscribed circle, set %i", (seed) => {
    const points = scatter(seed, 5 + (seed % 6));
    const corners = hull2(points);
    const inside = ([cx, cy]: Vec2): boolean =>
      corners.every((a, k) => {
        const b = corners[(k + 1) % corners.length]!;
        const [ex, ey] = [points.x[b]! - points.x[a]!, points.y[b]! - points.y[a]!];
        return ex * (cy - points.y[a]!) - ey * (cx - points.x[a]!) >= -1e-10;
      });
    // Places on a hull edge that are equally far from two points.
    const onEdges = corners.flatMap((a, k) => {
      const b = corners[(k + 1) % corners.length]!;
      const normal: Vec2 = [points.y[b]! - points.y[a]!, points.x[a]! - points.x[b]!];
      const level = normal[0] * points.x[a]! + normal[1] * points.y[a]!;
      return subsets(points.x.length, 2).flatMap(([i, j]) => {
        const row: Vec2 = [2 * (points.x[j!]! - points.x[i!]!), 2 * (points.y[j!]! - points.y[i!]!)];
        const side = points.x[j!]! ** 2 - points.x[i!]! ** 2 + points.y[j!]! ** 2 - points.y[i!]! ** 2;
        return crossing([normal, row], [level, side]) ?? [];
      }) as unknown as number[];
    });
    const pairs: Vec2[] = [];
    for (let k = 0; k < onEdges.length; k += 2) pairs.push([onEdges[k]!, onEdges[k + 1]!]);
    const allowed = [...candidateCenters(points), ...pairs].filter(inside);
    const most = Math.max(...allowed.map((c) => Math.min(...radii(points, c))));
    expect(Math.abs(got(inscribedCircle(points)).radius - most)).toBeLessThan(1e-9);
  });
  test.each(SEEDS)("strip, set %i", (seed) => {
    const points = scatter(seed, 8);
    const widths = subsets(8, 2).map(([a, b]) => {
      const [ex, ey] = [points.x[b!]! - points.x[a!]!, points.y[b!]! - points.y[a!]!];
      const heights = Array.from(points.x, (x, i) => (ex * points.y[i]! - ey * x) / Math.hypot(ex, ey));
      return Math.max(...heights) - Math.min(...heights);
    });
    const zone = got(zoneLine(points, { about: [1, 0.1] }));
    expect(Math.abs((zone.narrower?.width ?? zone.width) - Math.min(...widths))).toBeLessThan(1e-12);
    expect(zone.proof === "global").toBe(zone.narrower === null);
  });
  test.each(SEEDS)("planes of every direction, set %i", (seed) => {
    const random = uniform(seed);
    const thick = seed % 3 === 0 ? 3 : seed % 3 === 1 ? 0.5 : 0.01;
    const points = points3(indices(8).map((): Vec3 => [4 * random(), 3 * random(), thick * random()]));
    const least = Math.min(...normals(points).map((normal) => widthAlong(points, normal)));
    const zone = got(zonePlane(points, { about: [0, 0, 1], search: "global" }));
    expect(Math.abs((zone.narrower?.width ?? zone.width) - least)).toBeLessThan(1e-9);
    expect(zone.proof === "global").toBe(zone.narrower === null);
    expect(zone.width).toBeLessThanOrEqual(widthAlong(points, [0, 0, 1]));
  });
});

function widthAlong(points: Points3, normal: Vec3): number {
  const heights = Array.from(points.x, (x, i) => dot([x, points.y[i]!, points.z[i]!], normal));
  return Math.max(...heights) - Math.min(...heights);
}
/** Normals of every plane through three points and of every pair of edges. */
function normals(points: Points3): Vec3[] {
  const at = (i: number): Vec3 => [points.x[i]!, points.y[i]!, points.z[i]!];
  const edges = subsets(points.x.length, 2).map(([a, b]) => subtract(at(b!), at(a!)));
  return edges.flatMap((e, k) =>
    edges.slice(k + 1).flatMap((f): Vec3[] => {
      const normal = cross(e, f);
      const size = length(normal);
      return size > 1e-12 ? [scale(normal, 1 / size)] : [];
    }),
  );
}
