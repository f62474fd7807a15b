import { type Points2, type Points3, rangeOf } from "../points.ts";
import { basis, cross, dot, length, type Vec2, type Vec3 } from "../vector.ts";
import type { CircumscribedCircle } from "./circumscribedCircle.ts";
import type { InscribedCircle } from "./inscribedCircle.ts";
import type { AxisCylinder, OrientationZone } from "./orientationZone.ts";
import type { Support } from "./support.ts";
import type { TangentPlane } from "./tangentPlane.ts";
import type { CircleZone } from "./zoneCircle.ts";
import type { CylinderZone, OneCylinder } from "./zoneCylinder.ts";
import type { LineZone } from "./zoneLine.ts";
import type { PlaneZone } from "./zonePlane.ts";

/** Every kind of result that carries its proof, with the points it is about. */
export interface Certified {
  readonly planeZone: { readonly points: Points3; readonly result: PlaneZone };
  readonly lineZone: { readonly points: Points2; readonly result: LineZone };
  readonly circleZone: { readonly points: Points2; readonly result: CircleZone };
  readonly circumscribedCircle: { readonly points: Points2; readonly result: CircumscribedCircle };
  readonly inscribedCircle: { readonly points: Points2; readonly result: InscribedCircle };
  readonly tangentPlane: { readonly points: Points3; readonly result: TangentPlane };
  readonly orientationZone: { readonly points: Points3; readonly result: OrientationZone };
  readonly axisCylinder: { readonly points: Points3; readonly result: AxisCylinder };
  readonly cylinderZone: { readonly points: Points3; readonly result: CylinderZone };
  readonly circumscribedCylinder: { readonly points: Points3; readonly result: OneCylinder };
  readonly inscribedCylinder: { readonly points: Points3; readonly result: OneCylinder };
}
/** Whether a result is proved by its own supports, and why (not). */
export interface CertificateCheck {
  readonly proved: boolean;
  readonly because: string;
}

/** Points may stick out of a zone, and supports miss its border, by this part of the size of the set. */
export const FIT_TOLERANCE = 1e-10;
/**
 * The weighted pulls of the supports may fail to cancel by this much, pulls being of order one. Where a radius bends, what is left
 * over of b lets the value improve by no more than about b^2 x radius / 2: 5e-13 of the radius.
 */
export const BALANCE_TOLERANCE = 1e-6;

/** What every kind comes down to: a number for each point, the two bounds, and the pulls that must cancel. */
interface Claim {
  readonly size: number;
  readonly count: number;
  readonly value: (index: number) => number;
  readonly above: number | null;
  readonly below: number | null;
  readonly upper: readonly Support[];
  readonly lower: readonly Support[];
  /** Derivatives of the number of point i by the position; a support's pull. */
  readonly pull: (index: number) => readonly number[];
  /** Part of the summed pull that something else than points takes up; taken off before judging. */
  readonly excuse?: (sum: readonly number[]) => readonly number[];
}

/**
 * Checks a zone, enclosing or inscribed result from its certificate alone, by formulas of its own: every point lies inside the zone
 * and every support on its border (to 1e-10 of the size of the set), weights are not negative and sum to one on each side, and the
 * weighted pulls cancel (to 1e-6), which is the condition that no small change of position improves the value. For smallest
 * enclosing circles that proves the global optimum, since the problem is convex; for the others it proves the local one.
 * Source: first-order optimality of minimax problems (V. F. Demyanov, V. N. Malozemov 1972).
 */
export function checkCertificate<K extends keyof Certified>(
  kind: K,
  points: Certified[K]["points"],
  result: Certified[K]["result"],
): CertificateCheck {
  return judge(claims[kind](points, result));
}

const claims: {
  [K in keyof Certified]: (points: Certified[K]["points"], result: Certified[K]["result"]) => Claim;
} = {
  planeZone: (points, result) =>
    planeClaim(points, { ...result, above: result.width / 2, below: -result.width / 2 }),
  lineZone: lineClaim,
  circleZone: (points, { center, outer, inner, outerRadius, innerRadius }) =>
    circleClaim(points, center, { outer, inner, above: outerRadius, below: innerRadius }),
  circumscribedCircle: (points, { center, outer, radius }) =>
    circleClaim(points, center, { outer, inner: [], above: radius, below: null }),
  inscribedCircle: (points, result) => ({
    ...circleClaim(points, result.center, {
      outer: [],
      inner: result.inner,
      above: null,
      below: result.radius,
    }),
    ...(result.edge ? { excuse: edgeExcuse(points, result.center, result.edge) } : {}),
  }),
  tangentPlane: (points, result) => planeClaim(points, { ...result, above: 0, below: -result.largestGap }),
  orientationZone: orientationClaim,
  axisCylinder: (points, { diameter, center, direction, outer }) => {
    const claim = cylinderClaim(
      points,
      { center, direction },
      { outer, inner: [], above: diameter / 2, below: null },
    );
    // The direction is prescribed: only the pulls on the place count.
    return { ...claim, pull: (i) => claim.pull(i).slice(0, 2) };
  },
  cylinderZone: (points, result) =>
    cylinderClaim(points, result, { ...result, above: result.outerRadius, below: result.innerRadius }),
  circumscribedCylinder: (points, result) =>
    cylinderClaim(points, result, { outer: result.held, inner: [], above: result.radius, below: null }),
  inscribedCylinder: (points, result) =>
    cylinderClaim(points, result, { outer: [], inner: result.held, above: null, below: result.radius }),
};

function judge(claim: Claim): CertificateCheck {
  const slack = FIT_TOLERANCE * claim.size;
  const no = (because: string): CertificateCheck => ({ proved: false, because });
  const { count, value, above, below } = claim;
  const [low, high] = [
    (below ?? Number.NEGATIVE_INFINITY) - slack,
    (above ?? Number.POSITIVE_INFINITY) + slack,
  ];
  for (let i = 0; i < count; i++) {
    const here = value(i);
    if (!(here <= high && here >= low)) return no(`point ${i + 1} lies outside the zone`);
  }
  const trouble = badSide(claim, claim.upper, above) ?? badSide(claim, claim.lower, below);
  if (trouble) return no(trouble);
  let sum: readonly number[] = claim.pull((claim.upper[0] ?? claim.lower[0])?.index ?? 0).map(() => 0);
  const gather = (supports: readonly Support[], sign: number) => {
    for (const { index, weight } of supports) {
      const pull = claim.pull(index);
      sum = sum.map((value, j) => value + sign * weight * pull[j]!);
    }
  };
  gather(claim.upper, 1);
  gather(claim.lower, -1);
  const rest = Math.hypot(...(claim.excuse ? claim.excuse(sum) : sum));
  if (!(rest <= BALANCE_TOLERANCE))
    return no(`the supports do not balance: ${rest.toExponential(1)} is left over`);
  const supports = claim.upper.length + claim.lower.length;
  return {
    proved: true,
    because: `all points inside, ${supports} supports on the border, their pulls cancel`,
  };
}

function badSide(claim: Claim, supports: readonly Support[], border: number | null): string | null {
  if (border === null) return supports.length > 0 ? "supports on a side that has no border" : null;
  let total = 0;
  for (const { index, weight } of supports) {
    if (!(Number.isInteger(index) && index >= 0 && index < claim.count))
      return `there is no point ${index + 1}`;
    if (!(weight >= 0)) return `the weight of point ${index + 1} is negative`;
    if (!(Math.abs(claim.value(index) - border) <= FIT_TOLERANCE * claim.size))
      return `point ${index + 1} is not on the border`;
    total += weight;
  }
  return Math.abs(total - 1) <= 1e-9 ? null : "the weights of a side do not sum to one";
}

/** Size of a set for tolerances; far from the origin the rounding of the coordinates themselves counts too. */
function sizeOf(columns: readonly Float64Array[]): number {
  const ranges = columns.map(rangeOf);
  const far = Math.max(...ranges.map(({ low, high }) => Math.max(Math.abs(low), Math.abs(high))));
  return Math.max(...ranges.map(({ low, high }) => high - low)) + (32 * Number.EPSILON * far) / FIT_TOLERANCE;
}

const placed = (points: Points3, i: number, from: Vec3): Vec3 => [
  points.x[i]! - from[0],
  points.y[i]! - from[1],
  points.z[i]! - from[2],
];

function planeClaim(
  points: Points3,
  zone: Pick<PlaneZone, "normal" | "center" | "upper" | "lower"> & { above: number; below: number },
): Claim {
  const size = sizeOf([points.x, points.y, points.z]);
  const { u, v } = basis(zone.normal);
  return {
    ...zone,
    size,
    count: points.x.length,
    value: along(points, zone.center, zone.normal),
    pull: (i) => [u, v].map((d) => dot(placed(points, i, zone.center), d) / size),
  };
}

/** Distance of a point from `from` along a direction. */
const along =
  ({ x, y, z }: Points3, [fx, fy, fz]: Vec3, [nx, ny, nz]: Vec3) =>
  (i: number): number =>
    (x[i]! - fx) * nx + (y[i]! - fy) * ny + (z[i]! - fz) * nz;

function lineClaim(points: Points2, { normal, direction, center, width, upper, lower }: LineZone): Claim {
  const size = sizeOf([points.x, points.y]);
  const alongLine = (i: number, d: Vec2): number =>
    (points.x[i]! - center[0]) * d[0] + (points.y[i]! - center[1]) * d[1];
  return {
    size,
    count: points.x.length,
    value: (i) => alongLine(i, normal),
    above: width / 2,
    below: -width / 2,
    upper,
    lower,
    pull: (i) => [alongLine(i, direction) / size],
  };
}

interface Ring {
  readonly outer: readonly Support[];
  readonly inner: readonly Support[];
  readonly above: number | null;
  readonly below: number | null;
}

function circleClaim({ x, y }: Points2, [cx, cy]: Vec2, { outer, inner, above, below }: Ring): Claim {
  const value = (i: number): number => Math.hypot(x[i]! - cx, y[i]! - cy);
  const pull = (i: number): number[] => {
    const radius = value(i) || 1;
    return [(x[i]! - cx) / radius, (y[i]! - cy) / radius];
  };
  const size = sizeOf([x, y]) + (above ?? 0);
  return { size, count: x.length, value, above, below, upper: outer, lower: inner, pull };
}

/** On a hull edge the circle wants out: the part of the pull that points out of the hull is taken up by the hull. */
function edgeExcuse({ x, y }: Points2, center: Vec2, [a, b]: readonly [number, number]) {
  const edge: Vec2 = [x[b]! - x[a]!, y[b]! - y[a]!];
  const size = Math.hypot(...edge);
  const [ex, ey] = [edge[0] / size, edge[1] / size];
  const off = (center[0] - x[a]!) * ey - (center[1] - y[a]!) * ex;
  return ([sx, sy]: readonly number[]): number[] => {
    const along = sx! * ex + sy! * ey;
    const outward = sx! * ey - sy! * ex;
    return [along, Math.min(0, outward), Math.abs(off) > FIT_TOLERANCE * size ? 1 : 0];
  };
}

function orientationClaim(points: Points3, zone: OrientationZone): Claim {
  const claim = planeClaim(points, { ...zone, above: zone.width / 2, below: -zone.width / 2 });
  const { turn } = zone;
  const pull = (i: number): number[] =>
    turn ? [dot(placed(points, i, zone.center), turn) / claim.size] : [];
  return { ...claim, pull };
}

function cylinderClaim(points: Points3, axis: { center: Vec3; direction: Vec3 }, ring: Ring): Claim {
  const { u, v, w } = basis(axis.direction);
  const size = sizeOf([points.x, points.y, points.z]) + (ring.above ?? 0);
  const value = (i: number): number => length(cross(placed(points, i, axis.center), w));
  const pull = (i: number): number[] => {
    const arm = placed(points, i, axis.center);
    const radius = value(i) || 1;
    const [pu, pv] = [dot(arm, u) / radius, dot(arm, v) / radius];
    const height = dot(arm, w) / size;
    return [pu, pv, height * pu, height * pv];
  };
  return {
    size,
    count: points.x.length,
    value,
    above: ring.above,
    below: ring.below,
    upper: ring.outer,
    lower: ring.inner,
    pull,
  };
}
