import type { Outcome } from "../outcome.ts";
import type { Points2 } from "../points.ts";
import type { Vec2 } from "../vector.ts";
import { admit, centred2 } from "./admission.ts";
import { normaliseSupports, type Support } from "./support.ts";

/** The smallest circle that holds all points. */
export interface CircumscribedCircle {
  readonly center: Vec2;
  readonly radius: number;
  /** The two or three points that hold it; weights sum to one and are the derivatives of the radius. */
  readonly outer: readonly Support[];
  readonly proof: "global";
}
interface Circle {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly weights: readonly number[];
}

/**
 * Smallest circle about all points, exact and global (the problem is convex): the circle of a few points takes in the
 * farthest point outside until none is outside; it grows with each exchange, so it ends. One point gives radius zero.
 * The centre is the weighted mean of the supports. Unit and frame are those of the points.
 * Source: G. Chrystal 1885, J. Elzinga and D. W. Hearn 1972.
 */
export function circumscribedCircle(points: Points2): Outcome<CircumscribedCircle> {
  const trouble = admit([points.x, points.y], 1);
  if (trouble) return trouble;
  const set = centred2(points);
  const { x, y } = set.points;
  let held = [0];
  let circle: Circle = { x: x[0]!, y: y[0]!, radius: 0, weights: [1] };
  for (let round = 0; round < 1000; round++) {
    const far = farthest(set.points, circle);
    if (held.includes(far.index) || far.distance <= circle.radius) break;
    const next = smallestOf(set.points, [...held, far.index]);
    if (!(next.circle.radius > circle.radius)) break;
    held = next.held;
    circle = next.circle;
  }
  const { distance } = farthest(set.points, circle);
  const outer = normaliseSupports(held.map((index, k) => ({ index, weight: circle.weights[k]! })));
  const center: Vec2 = [set.center[0] + circle.x, set.center[1] + circle.y];
  return { ok: true, center, radius: distance, outer, proof: "global" };
}

function farthest(points: Points2, from: { x: number; y: number }): { index: number; distance: number } {
  let [index, most] = [0, -1];
  for (let i = 0; i < points.x.length; i++) {
    const dx = points.x[i]! - from.x;
    const dy = points.y[i]! - from.y;
    const square = dx * dx + dy * dy;
    if (square > most) {
      most = square;
      index = i;
    }
  }
  return { index, distance: Math.hypot(points.x[index]! - from.x, points.y[index]! - from.y) };
}

/** Smallest circle about at most four points: the largest of those that their pairs and triples need. */
function smallestOf(points: Points2, four: readonly number[]): { held: number[]; circle: Circle } {
  let best: { held: number[]; circle: Circle } | null = null;
  let missing = Number.POSITIVE_INFINITY;
  const consider = (held: number[], circle: Circle | null) => {
    if (!circle) return;
    let outside = 0;
    for (const i of four) {
      outside = Math.max(
        outside,
        Math.hypot(points.x[i]! - circle.x, points.y[i]! - circle.y) - circle.radius,
      );
    }
    const fits = outside <= 8 * Number.EPSILON * circle.radius;
    const better = best === null || circle.radius < best.circle.radius;
    if (fits ? missing > 0 || better : missing > 0 && outside < missing) {
      best = { held, circle };
      missing = fits ? 0 : outside;
    }
  };
  for (const a of four) {
    for (const b of four) {
      if (a >= b) continue;
      consider([a, b], diametral(points, a, b));
      for (const c of four) if (b < c) consider([a, b, c], through(points, a, b, c));
    }
  }
  return (
    best ?? {
      held: [four[0]!],
      circle: { x: points.x[four[0]!]!, y: points.y[four[0]!]!, radius: 0, weights: [1] },
    }
  );
}

function diametral({ x, y }: Points2, a: number, b: number): Circle {
  const radius = Math.hypot(x[a]! - x[b]!, y[a]! - y[b]!) / 2;
  return { x: (x[a]! + x[b]!) / 2, y: (y[a]! + y[b]!) / 2, radius, weights: [0.5, 0.5] };
}

/** Circle through three points with the weights that make their mean the centre; null unless it lies between them. */
export function through({ x, y }: Points2, a: number, b: number, c: number): Circle | null {
  const [bx, by] = [x[b]! - x[a]!, y[b]! - y[a]!];
  const [cx, cy] = [x[c]! - x[a]!, y[c]! - y[a]!];
  const area = bx * cy - by * cx;
  if (area === 0) return null;
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  const [px, py] = [(cy * bb - by * cc) / (2 * area), (bx * cc - cx * bb) / (2 * area)];
  if (!Number.isFinite(px) || !Number.isFinite(py)) return null;
  const toB = (px * cy - py * cx) / area;
  const toC = (bx * py - by * px) / area;
  const weights = [1 - toB - toC, toB, toC];
  if (weights.some((weight) => weight < 0)) return null;
  return { x: x[a]! + px, y: y[a]! + py, radius: Math.hypot(px, py), weights };
}
