import type { NoResult, Outcome } from "../outcome.ts";
import type { Points3 } from "../points.ts";
import { add, basis, dot, subtract, unit, type Vec3 } from "../vector.ts";
import { admit, COLLINEAR, centred3, refuse, spreadAboutLine } from "./admission.ts";
import { type Axis, axisFamily, footed, moveAxis } from "./axisDescent.ts";
import { type Descent, descend } from "./descend.ts";
import { hull2 } from "./hull2.ts";
import { within } from "./inscribedCircle.ts";
import { settleAxis } from "./settleAxis.ts";
import type { Support } from "./support.ts";

/** Two coaxial cylinders that hold all points between them, with the least difference of radius. */
export interface CylinderZone {
  readonly width: number;
  /** A point of the axis: the foot of the middle of the points. */
  readonly center: Vec3;
  readonly direction: Vec3;
  readonly outerRadius: number;
  readonly innerRadius: number;
  readonly outer: readonly Support[];
  readonly inner: readonly Support[];
  /** Stationary and best of several starts; not searched over all axes. */
  readonly proof: "local";
}
/** The smallest cylinder about all points, or the largest between them. */
export interface OneCylinder {
  readonly radius: number;
  readonly center: Vec3;
  readonly direction: Vec3;
  /** Points that hold it; weights sum to one and are the derivatives of the radius. */
  readonly held: readonly Support[];
  readonly proof: "local";
}
/** An axis to begin with: the least-squares cylinder's. */
export interface AxisStart {
  readonly center: Vec3;
  readonly direction: Vec3;
}
type Kind = "zone" | "circumscribed" | "inscribed";

function search(points: Points3, size: number, start: Axis, kind: Kind): Descent<Axis> {
  const sign = kind === "inscribed" ? -1 : 1;
  const model = {
    sides: kind === "zone" ? ("range" as const) : ("max" as const),
    scale: size,
    linearise: (axis: Axis) => axisFamily(points, axis, sign),
    move: (axis: Axis, step: Float64Array) => moveAxis(axis, step),
  };
  const limits = new Float64Array([size / 4, size / 4, 0.25, 0.25]);
  const found = descend(model, start, limits);
  // Enough points pin the axis; with fewer the bend of the radii does, which linear steps cannot see.
  const pinned = found.upper.length + found.lower.length === (kind === "zone" ? 6 : 5) && found.certified;
  return pinned ? found : settleAxis(points, size, found, { sides: model.sides, sign });
}

/** The start itself, then shifted and tilted by about the spread of the radii. */
function starts(points: Points3, size: number, start: Axis): Axis[] {
  const { values } = axisFamily(points, start, 1);
  let [low, high] = [Number.POSITIVE_INFINITY, 0];
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  const shift = (high - low) / 2;
  const steps = [0, 1, 2, 3].flatMap((j) =>
    [1, -1].map((sign) => [0, 1, 2, 3].map((k) => (k === j ? sign * (k < 2 ? shift : shift / size) : 0))),
  );
  return [start, ...steps.map((step) => moveAxis(start, step))];
}

interface Solved {
  readonly set: { points: Points3; center: Vec3; size: number };
  readonly best: Descent<Axis>;
}

function solve(points: Points3, start: AxisStart, kind: Kind, least: number): Solved | NoResult {
  const trouble = admit([points.x, points.y, points.z], least);
  if (trouble) return trouble;
  const direction = unit(start.direction);
  const set = centred3(points);
  if (!(spreadAboutLine(set.points) > COLLINEAR * set.size)) {
    return refuse("degenerate-points", "the points lie on one line, which leaves no cylinder round them");
  }
  const first = footed({ place: subtract(start.center, set.center), direction });
  const found = starts(set.points, set.size, first).map((axis) => search(set.points, set.size, axis, kind));
  const surrounded = found.filter(({ position }) => kind !== "inscribed" || isSurrounded(set, position));
  if (surrounded.length === 0) return refuse("degenerate-points", "the points do not surround an axis");
  const settled = surrounded.filter(({ gain }) => gain <= 1e-9 * set.size);
  if (settled.length === 0) return refuse("no-convergence", "the search for the cylinder did not settle");
  return { set, best: settled.reduce((best, next) => preferred(best, next, 1e-13 * set.size)) };
}

/** The lower of two; of equal ones the one that is certified. */
function preferred(best: Descent<Axis>, next: Descent<Axis>, rounding: number): Descent<Axis> {
  if (next.value < best.value - rounding) return next;
  const equal = next.value <= best.value + rounding;
  return equal && next.certified && !best.certified ? next : best;
}

/** Whether the axis passes within the hull of the points seen along it. */
function isSurrounded({ points, size }: Solved["set"], { place, direction }: Axis): boolean {
  const { u, v } = basis(direction);
  const { x, y, z } = points;
  const along = (d: Vec3): Float64Array => x.map((_, i) => dot([x[i]!, y[i]!, z[i]!], d));
  const seen = { x: along(u), y: along(v) };
  return within(seen, hull2(seen), { x: dot(place, u), y: dot(place, v) }, 1e-12 * size);
}

const axisOf = ({ set, best }: Solved) => ({
  center: add(set.center, best.position.place),
  direction: best.position.direction,
});
const isRefused = (solved: Solved | NoResult): solved is NoResult => "ok" in solved;

/**
 * Minimum-zone cylindricity (ISO 12180): least difference of the radii of two coaxial cylinders that hold all points, about the
 * axis `start` (the fitted one). Sequential linear programmes from nine starts; stationarity is certified by the dual
 * weights, other far-off axes are not searched (`proof: "local"`). Never wider than about `start`.
 * Unit and frame are those of the points. Throws RangeError when the direction has length zero.
 */
export function zoneCylinder(points: Points3, start: AxisStart): Outcome<CylinderZone> {
  const solved = solve(points, start, "zone", 5);
  if (isRefused(solved)) return solved;
  const { values } = axisFamily(solved.set.points, solved.best.position, 1);
  let [innerRadius, outerRadius] = [Number.POSITIVE_INFINITY, 0];
  for (const value of values) {
    innerRadius = Math.min(innerRadius, value);
    outerRadius = Math.max(outerRadius, value);
  }
  const { upper: outer, lower: inner } = solved.best;
  const width = outerRadius - innerRadius;
  return { ok: true, width, ...axisOf(solved), outerRadius, innerRadius, outer, inner, proof: "local" };
}

/**
 * Smallest cylinder about all points, its axis searched about `start`. Local, as `zoneCylinder`.
 * Throws RangeError when the direction has length zero.
 */
export function circumscribedCylinder(points: Points3, start: AxisStart): Outcome<OneCylinder> {
  const solved = solve(points, start, "circumscribed", 3);
  if (isRefused(solved)) return solved;
  const { value: radius, upper: held } = solved.best;
  return { ok: true, radius, ...axisOf(solved), held, proof: "local" };
}

/**
 * Largest cylinder between the points (none inside it), its axis searched about `start` and required to pass within the hull
 * of the points seen along it. Local, as `zoneCylinder`. Throws RangeError when the direction has length zero.
 */
export function inscribedCylinder(points: Points3, start: AxisStart): Outcome<OneCylinder> {
  const solved = solve(points, start, "inscribed", 5);
  if (isRefused(solved)) return solved;
  const { value, upper: held } = solved.best;
  return { ok: true, radius: -value, ...axisOf(solved), held, proof: "local" };
}
