import type { Outcome } from "../outcome.ts";
import type { Points2 } from "../points.ts";
import type { Vec2 } from "../vector.ts";
import { admit, boxOf2 } from "./admission.ts";
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
  const { center: middle } = boxOf2(points);
  const at = (index: number): Vec2 => [points.x[index]! - middle[0], points.y[index]! - middle[1]];
  let held = [0];
  let circle: Circle = { x: at(0)[0], y: at(0)[1], radius: 0, weights: [1] };
  for (let round = 0; round < 1000; round++) {
    const far = farthest(points, middle, circle);
    if (held.includes(far.index) || far.distance <= circle.radius) break;
    const next = smallestOf(at, [...held, far.index]);
    if (!(next.circle.radius > circle.radius)) break;
    held = next.held;
    circle = next.circle;
  }
  const { distance } = farthest(points, middle, circle);
  const outer = normaliseSupports(held.map((index, k) => ({ index, weight: circle.weights[k]! })));
  const center: Vec2 = [middle[0] + circle.x, middle[1] + circle.y];
  return { ok: true, center, radius: distance, outer, proof: "global" };
}

/** The point farthest from a place that is told about `middle`. */
function farthest({ x, y }: Points2, [mx, my]: Vec2, from: Circle): { index: number; distance: number } {
  let [index, most] = [0, -1];
  for (let i = 0; i < x.length; i++) {
    const dx = x[i]! - mx - from.x;
    const dy = y[i]! - my - from.y;
    const square = dx * dx + dy * dy;
    if (square > most) {
      most = square;
      index = i;
    }
  }
  return { index, distance: Math.hypot(x[index]! - mx - from.x, y[index]! - my - from.y) };
}

/** Smallest circle about at most four points: the largest of those that their pairs and triples need. */
function smallestOf(
  at: (index: number) => Vec2,
  four: readonly number[],
): { held: number[]; circle: Circle } {
  let best: { held: number[]; circle: Circle } | null = null;
  let missing = Number.POSITIVE_INFINITY;
  const consider = (held: number[], circle: Circle | null) => {
    if (!circle) return;
    let outside = 0;
    for (const i of four) {
      const [x, y] = at(i);
      outside = Math.max(outside, Math.hypot(x - circle.x, y - circle.y) - circle.radius);
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
      consider([a, b], diametral(at(a), at(b)));
      for (const c of four) if (b < c) consider([a, b, c], through(at(a), at(b), at(c)));
    }
  }
  const [x, y] = at(four[0]!);
  return best ?? { held: [four[0]!], circle: { x, y, radius: 0, weights: [1] } };
}

function diametral([ax, ay]: Vec2, [bx, by]: Vec2): Circle {
  return {
    x: (ax + bx) / 2,
    y: (ay + by) / 2,
    radius: Math.hypot(ax - bx, ay - by) / 2,
    weights: [0.5, 0.5],
  };
}

/** Circle through three places with the weights that make their mean the centre; null unless it lies between them. */
function through(a: Vec2, b: Vec2, c: Vec2): Circle | null {
  const [bx, by] = [b[0] - a[0], b[1] - a[1]];
  const [cx, cy] = [c[0] - a[0], c[1] - a[1]];
  const area = bx * cy - by * cx;
  if (area === 0) return null;
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  const [px, py] = [(cy * bb - by * cc) / (2 * area), (bx * cc - cx * bb) / (2 * area)];
  if (!Number.isFinite(px) || !Number.isFinite(py)) return null;
  const toB = (px * cy - py * cx) / area;
  const toC = (bx * py - by * px) / area;
  const weights = [1 - toB - toC, toB, toC];
  if (weights.some((weight) => weight < 0)) return null;
  return { x: a[0] + px, y: a[1] + py, radius: Math.hypot(px, py), weights };
}
