import type { Outcome } from "../outcome.ts";
import { type Points3, pointAt } from "../points.ts";
import { add, dot, length, scale, subtract, type Vec3 } from "../vector.ts";
import { admit, centred3, refuse } from "./admission.ts";
import { invert } from "./invert.ts";
import { normaliseSupports } from "./support.ts";
import type { OneSphere } from "./zoneSphere.ts";

interface Sphere {
  readonly center: Vec3;
  readonly radius: number;
  readonly held: readonly number[];
  readonly weights: readonly number[];
}

/**
 * Smallest sphere about all points, exact and global (the problem is convex): the sphere of a few points takes in the
 * farthest point outside until none is outside; it grows with each exchange, so it ends. The centre is the weighted mean
 * of the two to four points that hold it. Unit and frame are those of the points.
 * Source: D. J. Elzinga and D. W. Hearn 1972, for spheres as for circles.
 */
export function circumscribedSphere(points: Points3): Outcome<OneSphere> {
  const trouble = admit([points.x, points.y, points.z], 4);
  if (trouble) return trouble;
  const set = centred3(points);
  if (!(set.size > 0)) return refuse("degenerate-points", "all points coincide");
  let sphere: Sphere = { center: pointAt(set.points, 0), radius: 0, held: [0], weights: [1] };
  for (let round = 0; round < 1000; round++) {
    const far = farthest(set.points, sphere.center);
    if (sphere.held.includes(far.index) || far.distance <= sphere.radius) break;
    const next = smallestOf(set.points, [...sphere.held, far.index]);
    if (next === null || !(next.radius > sphere.radius)) break;
    sphere = next;
  }
  const { center, held, weights } = sphere;
  return {
    ok: true,
    radius: farthest(set.points, center).distance,
    center: add(set.center, center),
    held: normaliseSupports(held.map((index, k) => ({ index, weight: weights[k]! }))),
    proof: "global",
  };
}

function farthest({ x, y, z }: Points3, [cx, cy, cz]: Vec3): { index: number; distance: number } {
  let index = 0;
  let most = -1;
  for (let i = 0; i < x.length; i++) {
    const square = (x[i]! - cx) ** 2 + (y[i]! - cy) ** 2 + (z[i]! - cz) ** 2;
    if (square > most) {
      most = square;
      index = i;
    }
  }
  return { index, distance: Math.sqrt(most) };
}

/** Smallest sphere about at most five points: of those that two to four of them hold, one with no other outside. */
function smallestOf(points: Points3, five: readonly number[]): Sphere | null {
  let best: Sphere | null = null;
  let missing = Number.POSITIVE_INFINITY;
  for (const held of subsets(five)) {
    const sphere = heldBy(points, held);
    if (sphere === null) continue;
    const distances = five.map((i) => length(subtract(pointAt(points, i), sphere.center)));
    const outside = Math.max(0, ...distances.map((one) => one - sphere.radius));
    const fits = outside <= 16 * Number.EPSILON * sphere.radius;
    const better = fits
      ? missing > 0 || best === null || sphere.radius < best.radius
      : missing > 0 && outside < missing;
    if (!better) continue;
    best = sphere;
    missing = fits ? 0 : outside;
  }
  return best;
}

/** All choices of two to four. */
function subsets(all: readonly number[]): number[][] {
  const chosen = Array.from({ length: 2 ** all.length }, (_, bits) =>
    all.filter((_one, k) => bits & (1 << k)),
  );
  return chosen.filter((one) => one.length >= 2 && one.length <= 4);
}

/** The sphere about the mean with equal distances to all of `held`; null unless that mean lies between them. */
function heldBy(points: Points3, held: readonly number[]): Sphere | null {
  const from = pointAt(points, held[0]!);
  const arms = held.slice(1).map((i) => subtract(pointAt(points, i), from));
  const k = arms.length;
  const gram = new Float64Array(k * k);
  arms.forEach((a, i) => {
    arms.forEach((b, j) => {
      gram[i * k + j] = dot(a, b);
    });
  });
  const half = arms.map((_, i) => gram[i * k + i]! / 2);
  const inverse = new Float64Array(k * k);
  if (!invert(gram, inverse, k)) return null;
  const shares = half.map((_, i) => half.reduce((sum, value, j) => sum + inverse[i * k + j]! * value, 0));
  const weights = [1 - shares.reduce((sum, share) => sum + share, 0), ...shares];
  if (!weights.every((weight) => weight >= 0)) return null;
  const arm = arms.reduce<Vec3>((sum, one, i) => add(sum, scale(one, shares[i]!)), [0, 0, 0]);
  return { center: add(from, arm), radius: length(arm), held, weights };
}
