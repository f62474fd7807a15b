import type { Outcome } from "../outcome.ts";
import { centroid, type Points3 } from "../points.ts";
import { add, basis, dot, scale, subtract, unit, type Vec3 } from "../vector.ts";
import { admit, COLLINEAR, centred3, refuse, spreadAboutLine } from "./admission.ts";
import { certify } from "./certify.ts";
import { hull2, surroundMargin } from "./hull2.ts";
import { type AffineFamily, extremes } from "./minimax.ts";
import { descendPlanes, planeFamily } from "./planeDescent.ts";
import type { Support } from "./support.ts";

/** The plane outside the material whose largest gap to the points is least: what a flat gauge seats on. */
export interface TangentPlane {
  /** Unit normal out of the material. */
  readonly normal: Vec3;
  /** A point of the plane: the foot of the points' centroid. */
  readonly center: Vec3;
  /** Distance of the farthest point below the plane. */
  readonly largestGap: number;
  /** All points that touch the plane, within 1e-9 of the size of the set. */
  readonly contacts: readonly number[];
  /** Touching points that fix the plane, and the farthest ones; weights sum to one on each side. */
  readonly upper: readonly Support[];
  readonly lower: readonly Support[];
  /** True when the contacts do not surround the centroid: a flat part set on this face can rock. */
  readonly rocks: boolean;
  readonly proof: "local";
}
/** Part of the size of a set within which a point counts as touching. */
const TOUCH = 1e-9;

/**
 * Tangent plane: outside the material (all gaps >= 0) with the largest gap least, distances square to the plane, searched about
 * `outward`. The largest gap for a direction is the width of the set along it, so this is the minimum-zone plane moved to its
 * outer side. Where several planes share the least gap the one nearest in direction to `outward` is taken, so that the answer
 * does not hang on the order of the points. Source: ISO 5459 sense (minimax from outside), common practice.
 * Throws RangeError when `outward` has length zero.
 */
export function tangentPlane(points: Points3, options: { readonly outward: Vec3 }): Outcome<TangentPlane> {
  const trouble = admit([points.x, points.y, points.z], 3);
  if (trouble) return trouble;
  const outward = unit(options.outward);
  const set = centred3(points);
  if (!(spreadAboutLine(set.points) > COLLINEAR * set.size)) {
    return refuse("degenerate-points", "the points lie on one line, which leaves the plane free to turn");
  }
  const found = descendPlanes(set.points, set.size, outward);
  if (!(found.gain <= 1e-10 * set.size))
    return refuse("no-convergence", "the search for the plane did not settle");
  const nearest = nearestOptimum(set.points, set.size, found.position, outward);
  const certified = certify(planeFamily(set.points, nearest), "range", 1e-11 * set.size);
  const normal = certified ? nearest : found.position;
  const { upper, lower } = certified ?? found;
  const family = planeFamily(set.points, normal);
  const { largest, smallest } = extremes(family, new Float64Array(2));
  const middle = centroid(set.points);
  const foot = add(middle, scale(normal, largest - dot(middle, normal)));
  const contacts: number[] = [];
  family.values.forEach((value, i) => {
    if (largest - value <= TOUCH * set.size) contacts.push(i);
  });
  return {
    ok: true,
    normal,
    center: add(set.center, foot),
    largestGap: largest - smallest,
    contacts,
    upper,
    lower,
    rocks: !surrounds(set, contacts, middle, normal),
    proof: "local",
  };
}

/** Whether the contacts, seen along the normal, have the centroid strictly between them. */
function surrounds(
  set: { points: Points3; size: number },
  contacts: readonly number[],
  middle: Vec3,
  normal: Vec3,
): boolean {
  const { u, v } = basis(normal);
  const arms = contacts.map((i) => subtract([set.points.x[i]!, set.points.y[i]!, set.points.z[i]!], middle));
  const seen = {
    x: Float64Array.from(arms, (arm) => dot(arm, u)),
    y: Float64Array.from(arms, (arm) => dot(arm, v)),
  };
  return hull2(seen).length >= 3 && surroundMargin(seen) > TOUCH * set.size;
}

/** Slopes a, b with a x + b y <= limit. */
interface HalfPlane {
  readonly x: number;
  readonly y: number;
  readonly limit: number;
}

/** Of all directions about `optimum` with the same range (up to rounding) the one nearest to `target`. */
function nearestOptimum(points: Points3, size: number, optimum: Vec3, target: Vec3): Vec3 {
  const { u, v, w } = basis(optimum);
  const ahead = dot(target, w);
  if (!(ahead > 0)) return optimum;
  const goal = { x: dot(target, u) / ahead, y: dot(target, v) / ahead };
  const family = planeFamily(points, optimum);
  const start = extremes(family, new Float64Array(2));
  const most = start.largest - start.smallest + 1e-13 * size;
  const cuts: HalfPlane[] = [];
  let at = goal;
  for (let round = 0; round < 60; round++) {
    const seen = extremes(family, new Float64Array([at.x, at.y]));
    if (seen.largest - seen.smallest <= most + 1e-13 * size) {
      return unit(add(w, add(scale(u, at.x), scale(v, at.y))));
    }
    cuts.push(cutOf(family, seen.top, seen.bottom, most));
    const next = nearestWithin(cuts, goal);
    if (!next) return optimum;
    at = next;
  }
  return optimum;
}

function cutOf({ values, gradients }: AffineFamily, top: number, bottom: number, most: number): HalfPlane {
  const x = gradients[2 * top]! - gradients[2 * bottom]!;
  const y = gradients[2 * top + 1]! - gradients[2 * bottom + 1]!;
  const length = Math.hypot(x, y) || 1;
  return { x: x / length, y: y / length, limit: (most - (values[top]! - values[bottom]!)) / length };
}

/** The place within all half planes nearest to `goal`: a foot on one border or a crossing of two. */
function nearestWithin(
  cuts: readonly HalfPlane[],
  goal: { x: number; y: number },
): { x: number; y: number } | null {
  const candidates: { x: number; y: number }[] = [];
  cuts.forEach((a, k) => {
    const over = a.x * goal.x + a.y * goal.y - a.limit;
    candidates.push({ x: goal.x - over * a.x, y: goal.y - over * a.y });
    for (const b of cuts.slice(k + 1)) {
      const turn = a.x * b.y - a.y * b.x;
      if (Math.abs(turn) < 1e-12) continue;
      candidates.push({
        x: (a.limit * b.y - b.limit * a.y) / turn,
        y: (a.x * b.limit - b.x * a.limit) / turn,
      });
    }
  });
  const away = ({ x, y }: { x: number; y: number }): number => Math.hypot(x - goal.x, y - goal.y);
  const allowed = candidates.filter(({ x, y }) =>
    cuts.every((cut) => cut.x * x + cut.y * y <= cut.limit + 1e-15 * (1 + away({ x, y }))),
  );
  return allowed.sort((p, q) => away(p) - away(q))[0] ?? null;
}
