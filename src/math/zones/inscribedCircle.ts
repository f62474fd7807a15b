import { Delaunay } from "d3-delaunay";
import type { Outcome } from "../outcome.ts";
import type { Points2 } from "../points.ts";
import type { Vec2 } from "../vector.ts";
import { admit, COLLINEAR, centred2, flatPoints, refuse, spreadAboutLine } from "./admission.ts";
import { hull2 } from "./hull2.ts";
import { FEW, outermostAround, those } from "./outermost.ts";
import { normaliseSupports, type Support } from "./support.ts";

/** The largest circle without a point inside whose centre lies within the convex hull of the points. */
export interface InscribedCircle {
  readonly center: Vec2;
  readonly radius: number;
  /** The two or three points that hold it; weights sum to one and are the derivatives of the radius. */
  readonly inner: readonly Support[];
  /** The two points whose hull edge the centre rests on, or null when points alone hold the circle. */
  readonly edge: readonly [number, number] | null;
  readonly proof: "global";
}
interface Hole {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly edge: readonly [number, number] | null;
}

/**
 * Largest inscribed circle (largest empty circle with its centre within the hull), exact and global: the distance to the
 * nearest point can be largest only at a corner of the Voronoi diagram inside the hull, or where a Voronoi edge crosses an
 * edge of the hull. All of both kinds are considered; hull edges too short to beat the best are passed over, since no centre on
 * an edge is farther from its ends than half its length. At equal size the first in a fixed order of place is taken.
 * Unit and frame are those of the points. Source: G. T. Toussaint 1983.
 */
export function inscribedCircle(points: Points2): Outcome<InscribedCircle> {
  const trouble = admit([points.x, points.y], 3);
  if (trouble) return trouble;
  const set = centred2(points);
  const corners = hull2(set.points);
  if (corners.length < 3 || !(spreadAboutLine(flatPoints(set.points)) > COLLINEAR * set.size)) {
    return refuse(
      "degenerate-points",
      "the points lie on one line and leave no room for a circle between them",
    );
  }
  const best = largestHole(set.points, corners, set.size);
  if (!best) return refuse("degenerate-points", "no circle fits between the points");
  const inner = balance(set.points, best, set.size);
  return {
    ok: true,
    center: [set.center[0] + best.x, set.center[1] + best.y],
    radius: nearest(set.points, best.x, best.y),
    inner,
    edge: best.edge,
    proof: "global",
  };
}

/**
 * Looks between few of many points, the corners of the hull among them. That hole is as large as the largest between all, or
 * larger; points that stand in it are taken in until none does: then it is that of all.
 */
function largestHole(points: Points2, corners: readonly number[], size: number): Hole | null {
  if (points.x.length <= FEW) return holeBetween(points, corners, size);
  let some = outermostAround(points, [0, 0], Int32Array.from(corners));
  for (;;) {
    const place = new Map(Array.from(some, (index, at) => [index, at]));
    const few = those(points, some);
    const hole = holeBetween(
      few,
      corners.map((corner) => place.get(corner)!),
      size,
    );
    if (!hole) return null;
    const found = { ...hole, edge: hole.edge && ([some[hole.edge[0]]!, some[hole.edge[1]]!] as const) };
    if (nearest(points, hole.x, hole.y) >= hole.radius * (1 - 1e-13)) return found;
    const more: Int32Array = outermostAround(points, [hole.x, hole.y], some);
    if (more.length === some.length) return found;
    some = more;
  }
}

function holeBetween(points: Points2, corners: readonly number[], size: number): Hole | null {
  let best = innerCorner(points, corners, size);
  corners.forEach((a, k) => {
    const b = corners[(k + 1) % corners.length]!;
    const half = Math.hypot(points.x[b]! - points.x[a]!, points.y[b]! - points.y[a]!) / 2;
    if (best && half <= best.radius) return;
    const onEdge = edgeCorner(points, a, b);
    if (!best || onEdge.radius > best.radius * (1 + 1e-13)) best = onEdge;
  });
  return best;
}

function nearest({ x, y }: Points2, cx: number, cy: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < x.length; i++) {
    const dx = x[i]! - cx;
    const dy = y[i]! - cy;
    least = Math.min(least, dx * dx + dy * dy);
  }
  return Math.sqrt(least);
}

/** Largest circle about a corner of the Voronoi diagram that lies within the hull. */
function innerCorner(points: Points2, corners: readonly number[], size: number): Hole | null {
  const { x, y } = points;
  const flat = new Float64Array(2 * x.length);
  for (let i = 0; i < x.length; i++) {
    flat[2 * i] = x[i]!;
    flat[2 * i + 1] = y[i]!;
  }
  const { triangles } = new Delaunay(flat);
  const holes: Hole[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const hole = circumcircle(points, triangles[t]!, triangles[t + 1]!, triangles[t + 2]!);
    if (hole && Math.hypot(hole.x, hole.y) <= 2 * size) holes.push(hole);
  }
  holes.sort((p, q) => q.radius - p.radius || p.x - q.x || p.y - q.y);
  return holes.find((hole) => within(points, corners, hole, 1e-14 * size)) ?? null;
}

function circumcircle({ x, y }: Points2, a: number, b: number, c: number): Hole | null {
  const [bx, by] = [x[b]! - x[a]!, y[b]! - y[a]!];
  const [cx, cy] = [x[c]! - x[a]!, y[c]! - y[a]!];
  const area = 2 * (bx * cy - by * cx);
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  const [px, py] = [(cy * bb - by * cc) / area, (bx * cc - cx * bb) / area];
  if (!Number.isFinite(px) || !Number.isFinite(py)) return null;
  return { x: x[a]! + px, y: y[a]! + py, radius: Math.hypot(px, py), edge: null };
}

/** Whether a place lies within the hull, up to `slack`. */
export function within(
  { x, y }: Points2,
  corners: readonly number[],
  at: { x: number; y: number },
  slack: number,
): boolean {
  return corners.every((a, k) => {
    const b = corners[(k + 1) % corners.length]!;
    const [ex, ey] = [x[b]! - x[a]!, y[b]! - y[a]!];
    return ex * (at.y - y[a]!) - ey * (at.x - x[a]!) >= -slack * Math.hypot(ex, ey);
  });
}

/**
 * Place on the hull edge from `a` to `b` farthest from its nearest point. Along the edge the squared distances are
 * t^2 + (one straight line in t for each point), so the nearest point follows the lower envelope of those lines,
 * and between its breaks the distance has no largest value.
 */
function edgeCorner({ x, y }: Points2, a: number, b: number): Hole {
  const length = Math.hypot(x[b]! - x[a]!, y[b]! - y[a]!);
  const [ex, ey] = [(x[b]! - x[a]!) / length, (y[b]! - y[a]!) / length];
  const lines = Array.from(x, (_, i) => {
    const [dx, dy] = [x[i]! - x[a]!, y[i]! - y[a]!];
    return { slope: -2 * (dx * ex + dy * ey), base: dx * dx + dy * dy };
  });
  let best = { t: 0, square: 0 };
  // Walk along the envelope from t = 0: the next line to take over is the one that crosses the present one first.
  let [t, slope, base] = [0, 0, 0];
  while (t < length) {
    let [next, nextSlope, nextBase] = [length, slope, base];
    for (const line of lines) {
      if (!(line.slope < slope)) continue;
      const crossing = (line.base - base) / (slope - line.slope);
      if (crossing < next || (crossing === next && line.slope < nextSlope)) {
        [next, nextSlope, nextBase] = [Math.max(t, crossing), line.slope, line.base];
      }
    }
    if (nextSlope === slope) break;
    [t, slope, base] = [next, nextSlope, nextBase];
    const square = t * t + slope * t + base;
    if (square > best.square) best = { t, square };
  }
  return { x: x[a]! + best.t * ex, y: y[a]! + best.t * ey, radius: Math.sqrt(best.square), edge: [a, b] };
}

/** Touching points with the weights that balance their pulls on the centre (up to a push square to the hull edge). */
function balance(points: Points2, hole: Hole, size: number): Support[] {
  const radius = nearest(points, hole.x, hole.y);
  const touching: { index: number; ux: number; uy: number }[] = [];
  for (let i = 0; i < points.x.length; i++) {
    const dx = points.x[i]! - hole.x;
    const dy = points.y[i]! - hole.y;
    const distance = Math.hypot(dx, dy);
    if (distance <= radius + 1e-11 * size) touching.push({ index: i, ux: dx / distance, uy: dy / distance });
  }
  return hole.edge ? balanceAlong(points, hole.edge, touching) : balanceAround(touching);
}

function balanceAlong(
  { x, y }: Points2,
  [a, b]: readonly [number, number],
  touching: readonly { index: number; ux: number; uy: number }[],
): Support[] {
  const length = Math.hypot(x[b]! - x[a]!, y[b]! - y[a]!);
  const along = ({ ux, uy }: { ux: number; uy: number }): number =>
    (ux * (x[b]! - x[a]!) + uy * (y[b]! - y[a]!)) / length;
  const sorted = [...touching].sort((p, q) => along(p) - along(q));
  const [back, front] = [sorted[0]!, sorted.at(-1)!];
  const [before, after] = [-along(back), along(front)];
  return normaliseSupports([
    { index: back.index, weight: after },
    { index: front.index, weight: before },
  ]);
}

/** Two opposite or three surrounding unit vectors whose weighted sum is nearest to zero. */
function balanceAround(touching: readonly { index: number; ux: number; uy: number }[]): Support[] {
  let best: { entries: Support[]; rest: number } = { entries: [], rest: Number.POSITIVE_INFINITY };
  const consider = (entries: Support[], rest: number) => {
    if (rest < best.rest - 1e-15) best = { entries, rest };
  };
  // A few evenly spread touches are enough to surround the centre when very many lie on the circle.
  const step = Math.max(1, Math.floor(touching.length / 60));
  const some = touching.filter((_, k) => k % step === 0);
  for (const p of some) {
    for (const q of some) {
      if (p.index >= q.index) continue;
      const pair = [p, q].map(({ index }) => ({ index, weight: 0.5 }));
      consider(pair, Math.hypot(p.ux + q.ux, p.uy + q.uy) / 2);
      for (const r of some) {
        if (q.index >= r.index) continue;
        const parts = [q.ux * r.uy - q.uy * r.ux, r.ux * p.uy - r.uy * p.ux, p.ux * q.uy - p.uy * q.ux];
        const total = parts[0]! + parts[1]! + parts[2]!;
        const weights = parts.map((part) => part / total);
        if (!weights.every((weight) => weight >= 0)) continue;
        const sx = weights[0]! * p.ux + weights[1]! * q.ux + weights[2]! * r.ux;
        const sy = weights[0]! * p.uy + weights[1]! * q.uy + weights[2]! * r.uy;
        consider(
          [p, q, r].map(({ index }, k) => ({ index, weight: weights[k]! })),
          Math.hypot(sx, sy),
        );
      }
    }
  }
  return normaliseSupports(best.entries);
}
