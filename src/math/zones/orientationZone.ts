import type { Outcome } from "../outcome.ts";
import type { Points3 } from "../points.ts";
import { add, basis, dot, scale, unit, type Vec3 } from "../vector.ts";
import { admit, centred3, refuse } from "./admission.ts";
import { circumscribedCircle } from "./circumscribedCircle.ts";
import type { Support } from "./support.ts";
import { type TurnRange, turnRange } from "./turnRange.ts";

/** Two parallel planes at a prescribed orientation that hold all points. */
export interface OrientationZone {
  readonly width: number;
  readonly normal: Vec3;
  /** A point of the plane midway between the two. */
  readonly center: Vec3;
  /** Points on the side the normal points to; weights sum to one. */
  readonly upper: readonly Support[];
  readonly lower: readonly Support[];
  /** Unit direction in which the normal is free to turn, or null when it is prescribed in full. */
  readonly turn: Vec3 | null;
  /** `global` where the direction is prescribed in full, `local` where it was searched about a given one. */
  readonly proof: "global" | "local";
}
/** The smallest cylinder along a prescribed direction that holds all points. */
export interface AxisCylinder {
  readonly diameter: number;
  /** A point of the cylinder's axis. */
  readonly center: Vec3;
  readonly direction: Vec3;
  /** Points that hold it; weights sum to one, d(diameter) = 2 x weight for each point moved outward. */
  readonly outer: readonly Support[];
  readonly proof: "global";
}

/**
 * Zone of an angularity (ISO 1101): least distance of two parallel planes that hold all points, their normal at exactly `angle`
 * (radians) to the normal `datum` of the datum plane. One turn about the datum normal is free; the result is the local optimum
 * downhill of the turn at which `about` (the fitted normal) lies, exact to the last digits. Since a normal has no sign, `angle`
 * and its supplement mean the same planes: both are tried and the narrower zone counts.
 * Throws RangeError when a direction has length zero.
 */
export function angularityZone(
  points: Points3,
  options: { readonly datum: Vec3; readonly about: Vec3; readonly angle: number },
): Outcome<OrientationZone> {
  const trouble = admit([points.x, points.y, points.z], 2);
  if (trouble) return trouble;
  const { u, v, w } = basis(options.datum);
  const about = unit(options.about);
  const [side, rise] = [dot(about, u), dot(about, v)];
  const set = centred3(points);
  const slant = Math.abs(Math.sin(options.angle)) < 1e-12 ? 0 : Math.sin(options.angle);
  if (slant === 0) return parallelZone(points, { datum: dot(about, w) < 0 ? scale(w, -1) : w });
  if (!(Math.hypot(side, rise) > 1e-9) || !(set.size > 0)) {
    return refuse("degenerate-points", "the face lies along the datum and leaves the zone free to turn");
  }
  const column = (d: Vec3, factor: number): Float64Array =>
    set.points.x.map((x, i) => factor * (x * d[0] + set.points.y[i]! * d[1] + set.points.z[i]! * d[2]));
  const [x, y] = [column(u, slant), column(v, slant)];
  const zoneAt = (along: number) => {
    const found = turnRange({ x, y, lift: column(w, along) }, Math.atan2(rise, side), set.size);
    const across = add(scale(u, Math.cos(found.angle)), scale(v, Math.sin(found.angle)));
    const normal = unit(add(scale(across, slant), scale(w, along)));
    const turn = add(scale(u, -Math.sin(found.angle)), scale(v, Math.cos(found.angle)));
    return { ...planes(set.center, normal, found), turn, proof: "local" as const };
  };
  // A right angle is exact: no lift is left over from the rounded cosine.
  const lean = Math.cos(options.angle);
  if (Math.abs(lean) < 1e-15) return { ok: true, ...zoneAt(0) };
  const [one, other] = [zoneAt(lean), zoneAt(-lean)];
  return { ok: true, ...(other.width < one.width ? other : one) };
}

/**
 * Zone of the perpendicularity of a face to a datum plane (ISO 1101): two parallel planes square to the datum, searched about the
 * fitted normal `about`. The angularity zone at a right angle. Throws RangeError when a direction has length zero.
 */
export function perpendicularityZone(
  points: Points3,
  options: { readonly datum: Vec3; readonly about: Vec3 },
): Outcome<OrientationZone> {
  return angularityZone(points, { ...options, angle: Math.PI / 2 });
}

/**
 * Zone along a fixed direction: largest minus smallest distance along `datum`. The parallelism of a face to a datum plane, or the
 * zone of two planes for an axis given by its end points. Throws RangeError when `datum` has length zero.
 */
export function parallelZone(points: Points3, options: { readonly datum: Vec3 }): Outcome<OrientationZone> {
  const trouble = admit([points.x, points.y, points.z], 1);
  if (trouble) return trouble;
  const normal = unit(options.datum);
  const set = centred3(points);
  const heights = set.points.x.map((x, i) => dot([x, set.points.y[i]!, set.points.z[i]!], normal));
  let [top, bottom] = [0, 0];
  heights.forEach((height, i) => {
    if (height > heights[top]!) top = i;
    if (height < heights[bottom]!) bottom = i;
  });
  const found = {
    largest: heights[top]!,
    smallest: heights[bottom]!,
    upper: [{ index: top, weight: 1 }],
    lower: [{ index: bottom, weight: 1 }],
  };
  return { ok: true, ...planes(set.center, normal, found), turn: null, proof: "global" };
}

function planes(
  origin: Vec3,
  normal: Vec3,
  found: Pick<TurnRange, "largest" | "smallest" | "upper" | "lower">,
): Omit<OrientationZone, "proof" | "turn"> {
  return {
    width: found.largest - found.smallest,
    normal,
    center: add(origin, scale(normal, (found.largest + found.smallest) / 2)),
    upper: found.upper,
    lower: found.lower,
  };
}

/**
 * Smallest cylinder along `direction` that holds all points, for instance the ends of a fitted axis: the diametral zone of a
 * perpendicularity or parallelism of an axis (ISO 1101). Exact: the smallest circle about the points dropped along the direction.
 * Throws RangeError when `direction` has length zero.
 */
export function axisCylinder(points: Points3, options: { readonly direction: Vec3 }): Outcome<AxisCylinder> {
  const trouble = admit([points.x, points.y, points.z], 1);
  if (trouble) return trouble;
  const { u, v, w } = basis(options.direction);
  const set = centred3(points);
  const dropped = (d: Vec3): Float64Array =>
    set.points.x.map((x, i) => dot([x, set.points.y[i]!, set.points.z[i]!], d));
  const circle = circumscribedCircle({ x: dropped(u), y: dropped(v) });
  if (!circle.ok) return circle;
  const center = add(set.center, add(scale(u, circle.center[0]), scale(v, circle.center[1])));
  return {
    ok: true,
    diameter: 2 * circle.radius,
    center,
    direction: w,
    outer: circle.outer,
    proof: "global",
  };
}
