import type { NoResult, Outcome } from "../outcome.ts";
import { type Points3, rangeOf } from "../points.ts";
import { add, subtract, type Vec3 } from "../vector.ts";
import { admit, centred3, refuse } from "./admission.ts";
import { type Descent, descend } from "./descend.ts";
import type { Support } from "./support.ts";

/** Two concentric spheres that hold all points between them, with the least difference of radius found. */
export interface SphereZone {
  readonly width: number;
  readonly center: Vec3;
  /** Points on the outer sphere; weights sum to one. */
  readonly outer: readonly Support[];
  /** Points on the inner sphere; weights sum to one. */
  readonly inner: readonly Support[];
  /** Stationary near the start; not searched over all centres. */
  readonly proof: "local";
}
/** The smallest sphere about all points, or the largest between them. */
export interface OneSphere {
  readonly radius: number;
  readonly center: Vec3;
  /** Points that hold it; weights sum to one and are the derivatives of the radius. */
  readonly held: readonly Support[];
  /** The smallest about all points is the only one (the problem is convex); the largest between them is local. */
  readonly proof: "global" | "local";
}
type Kind = "zone" | "inscribed";

/** Distances from a centre (negative for `sign` -1), with their derivatives by the step of the centre. */
function distanceFamily({ x, y, z }: Points3, [cx, cy, cz]: Vec3, sign: 1 | -1) {
  const values = new Float64Array(x.length);
  const gradients = new Float64Array(3 * x.length);
  for (let i = 0; i < x.length; i++) {
    const dx = x[i]! - cx;
    const dy = y[i]! - cy;
    const dz = z[i]! - cz;
    const radius = Math.hypot(dx, dy, dz);
    values[i] = sign * radius;
    if (radius === 0) continue;
    gradients[3 * i] = (-sign * dx) / radius;
    gradients[3 * i + 1] = (-sign * dy) / radius;
    gradients[3 * i + 2] = (-sign * dz) / radius;
  }
  return { values, gradients, size: 3 };
}

/** Whether a centre lies outside the box of the points: no sphere between them is held there, it grows on and on. */
function outsideOf({ x, y, z }: Points3): (center: Vec3) => boolean {
  const box = [rangeOf(x), rangeOf(y), rangeOf(z)];
  return (center) => box.some(({ low, high }, axis) => center[axis]! < low || center[axis]! > high);
}

interface Solved {
  readonly center: Vec3;
  readonly best: Descent<Vec3>;
}
function solve(points: Points3, start: Vec3, kind: Kind): Solved | NoResult {
  const trouble = admit([points.x, points.y, points.z], 4);
  if (trouble) return trouble;
  const set = centred3(points);
  if (!(set.size > 0)) return refuse("degenerate-points", "all points coincide");
  const sign = kind === "inscribed" ? -1 : 1;
  const model = {
    sides: kind === "zone" ? ("range" as const) : ("max" as const),
    scale: set.size,
    linearise: (center: Vec3) => distanceFamily(set.points, center, sign),
    move: (center: Vec3, step: Float64Array): Vec3 => add(center, [step[0]!, step[1]!, step[2]!]),
    ...(kind === "inscribed" && { endless: outsideOf(set.points) }),
  };
  const half = set.size / 2;
  const best = descend(model, subtract(start, set.center), new Float64Array([half, half, half]));
  // Where the points surround no centre the sphere grows without end, and no position is stationary.
  if (!(best.gain <= 1e-9 * set.size))
    return refuse("no-convergence", "the points do not hold a sphere from all sides");
  return { center: add(set.center, best.position), best };
}
const isRefused = (solved: Solved | NoResult): solved is NoResult => "ok" in solved;

/**
 * Minimum-zone form of a sphere: least difference of the radii of two concentric spheres that hold all points, downhill of
 * the centre `start` (the fitted one). Never wider than about `start`. Unit and frame are those of the points.
 */
export function zoneSphere(points: Points3, start: Vec3): Outcome<SphereZone> {
  const solved = solve(points, start, "zone");
  if (isRefused(solved)) return solved;
  const { best, center } = solved;
  return { ok: true, width: best.value, center, outer: best.upper, inner: best.lower, proof: "local" };
}

/**
 * Largest sphere between the points (none inside it), downhill of `start`. Its centre lies within the hull of the points that
 * hold it; no result where the points leave a side open and the sphere would grow without end.
 */
export function inscribedSphere(points: Points3, start: Vec3): Outcome<OneSphere> {
  const solved = solve(points, start, "inscribed");
  if (isRefused(solved)) return solved;
  const { best, center } = solved;
  return { ok: true, radius: -best.value, center, held: best.upper, proof: "local" };
}
