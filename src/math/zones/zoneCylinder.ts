import type { NoResult, Outcome } from "../outcome.ts";
import type { Points3 } from "../points.ts";
import { add, basis, dot, subtract, unit, type Vec3 } from "../vector.ts";
import { admit, boxOf, COLLINEAR, centred3, refuse, spreadAboutLine } from "./admission.ts";
import { type Axis, axisFamily, footed, moveAxis } from "./axisDescent.ts";
import { type Descent, descend } from "./descend.ts";
import { hull2 } from "./hull2.ts";
import { within } from "./inscribedCircle.ts";
import { FEW, outermostAbout, renumbered } from "./outermost.ts";
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
  /** Supports by their index among all points. */
  readonly best: Descent<Axis>;
  /** Least and largest radius of all points about it. */
  readonly range: { readonly inner: number; readonly outer: number };
}

/** Searches among few of many points, with those that stick out taken in until none does: then it is a cylinder of all. */
function solve(points: Points3, start: AxisStart, kind: Kind, least: number): Solved | NoResult {
  const trouble = admit([points.x, points.y, points.z], least);
  if (trouble) return trouble;
  const direction = unit(start.direction);
  const box = boxOf(points);
  const set = centred3(points, box);
  if (!(spreadAboutLine(set.points) > COLLINEAR * set.size)) {
    return refuse("degenerate-points", "the points lie on one line, which leaves no cylinder round them");
  }
  const first = footed({ place: subtract(start.center, set.center), direction });
  let some = points.x.length <= FEW ? null : outermostAbout(set.points, first);
  for (;;) {
    const best = bestOf(some === null ? set : centred3(points, box, some), first, kind);
    if (isRefused(best)) return best;
    const range = radiiAbout(set.points, best.position);
    const settled = { set, best: some === null ? best : renumbered(best, some), range };
    if (some === null || !sticksOut(best.value, range, kind)) return settled;
    const more: Int32Array = outermostAbout(set.points, best.position, some);
    if (more.length === some.length) return settled;
    some = more;
  }
}

/** The best of the cylinders that the starts lead to. */
function bestOf({ points, size }: Solved["set"], first: Axis, kind: Kind): Descent<Axis> | NoResult {
  const found = starts(points, size, first).map((axis) => search(points, size, axis, kind));
  const surrounded = found.filter(
    ({ position }) => kind !== "inscribed" || isSurrounded(points, size, position),
  );
  if (surrounded.length === 0) return refuse("degenerate-points", "the points do not surround an axis");
  const settled = surrounded.filter(({ gain }) => gain <= 1e-9 * size);
  if (settled.length === 0) return refuse("no-convergence", "the search for the cylinder did not settle");
  return settled.reduce((best, next) => preferred(best, next, 1e-13 * size));
}

function sticksOut(value: number, { inner, outer }: Solved["range"], kind: Kind): boolean {
  if (kind === "zone") return outer - inner > value;
  return kind === "circumscribed" ? outer > value : inner < -value;
}

function radiiAbout(points: Points3, axis: Axis): Solved["range"] {
  const { u, v } = basis(axis.direction);
  const [px, py, pz] = axis.place;
  let [inner, outer] = [Number.POSITIVE_INFINITY, 0];
  for (let i = 0; i < points.x.length; i++) {
    const a = points.x[i]! - px;
    const b = points.y[i]! - py;
    const c = points.z[i]! - pz;
    const radius = Math.hypot(a * u[0] + b * u[1] + c * u[2], a * v[0] + b * v[1] + c * v[2]);
    if (radius < inner) inner = radius;
    if (radius > outer) outer = radius;
  }
  return { inner, outer };
}

/** The lower of two; of equal ones the one that is certified. */
function preferred(best: Descent<Axis>, next: Descent<Axis>, rounding: number): Descent<Axis> {
  if (next.value < best.value - rounding) return next;
  const equal = next.value <= best.value + rounding;
  return equal && next.certified && !best.certified ? next : best;
}

/** Whether the axis passes within the hull of the points seen along it. */
function isSurrounded({ x, y, z }: Points3, size: number, { place, direction }: Axis): boolean {
  const { u, v } = basis(direction);
  const along = (d: Vec3): Float64Array => x.map((_, i) => dot([x[i]!, y[i]!, z[i]!], d));
  const seen = { x: along(u), y: along(v) };
  return within(seen, hull2(seen), { x: dot(place, u), y: dot(place, v) }, 1e-12 * size);
}

const axisOf = ({ set, best }: Solved) => ({
  center: add(set.center, best.position.place),
  direction: best.position.direction,
});
const isRefused = (solved: object): solved is NoResult => "ok" in solved;

/**
 * Minimum-zone cylindricity (ISO 12180): least difference of the radii of two coaxial cylinders that hold all points, about the
 * axis `start` (the fitted one). Sequential linear programmes from nine starts; stationarity is certified by the dual
 * weights, other far-off axes are not searched (`proof: "local"`). Never wider than about `start`.
 * Unit and frame are those of the points. Throws RangeError when the direction has length zero.
 */
export function zoneCylinder(points: Points3, start: AxisStart): Outcome<CylinderZone> {
  const solved = solve(points, start, "zone", 5);
  if (isRefused(solved)) return solved;
  const { inner: innerRadius, outer: outerRadius } = solved.range;
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
  const { range, best } = solved;
  return { ok: true, radius: range.outer, ...axisOf(solved), held: best.upper, proof: "local" };
}

/**
 * Largest cylinder between the points (none inside it), its axis searched about `start` and required to pass within the hull
 * of the points seen along it. Local, as `zoneCylinder`. Throws RangeError when the direction has length zero.
 */
export function inscribedCylinder(points: Points3, start: AxisStart): Outcome<OneCylinder> {
  const solved = solve(points, start, "inscribed", 5);
  if (isRefused(solved)) return solved;
  const { range, best } = solved;
  return { ok: true, radius: range.inner, ...axisOf(solved), held: best.upper, proof: "local" };
}
