import type { Outcome } from "../outcome.ts";
import type { Points2 } from "../points.ts";
import type { Vec2 } from "../vector.ts";
import { admit, COLLINEAR, centred2, flatPoints, refuse, spreadAboutLine } from "./admission.ts";
import { circumscribedCircle } from "./circumscribedCircle.ts";
import { narrowestRing } from "./narrowestRing.ts";
import { descendRing, radiusFamily } from "./ringDescent.ts";
import type { Proof, Support } from "./support.ts";

/** Two concentric circles that hold all points between them, with the least difference of radius. */
export interface CircleZone {
  readonly width: number;
  readonly center: Vec2;
  readonly outerRadius: number;
  readonly innerRadius: number;
  /** Points on the outer circle; weights sum to one. */
  readonly outer: readonly Support[];
  /** Points on the inner circle; weights sum to one. */
  readonly inner: readonly Support[];
  /** `global`: no centre within `reach` of the smallest enclosing circle's centre gives a narrower ring. */
  readonly proof: Proof;
  readonly reach: number;
}

/**
 * Minimum-zone roundness (ISO 12181): least difference of the radii of two concentric circles that hold all points. Goes down
 * from `start` (the fitted centre; without it the centre of the smallest enclosing circle) and then proves by branch and bound
 * over all centres within `reach` that no ring is narrower by more than 1e-11 of the size, taking the better one if there is.
 * `reach` is twice the radius of the smallest enclosing circle, or twice the distance of `start` from its centre if that is more:
 * on a short arc a ring about an ever farther centre turns into a strip, which is straightness and no longer roundness.
 * Never wider than the ring about `start`. Unit and frame are those of the points.
 */
export function zoneCircle(points: Points2, options: { readonly start?: Vec2 } = {}): Outcome<CircleZone> {
  const trouble = admit([points.x, points.y], 3);
  if (trouble) return trouble;
  const set = centred2(points);
  if (!(spreadAboutLine(flatPoints(set.points)) > COLLINEAR * set.size)) {
    return refuse("degenerate-points", "the points lie on one line, which has no centre");
  }
  const around = circumscribedCircle(set.points);
  if (!around.ok) return around;
  const start: Vec2 = options.start
    ? [options.start[0] - set.center[0], options.start[1] - set.center[1]]
    : around.center;
  const away = Math.hypot(start[0] - around.center[0], start[1] - around.center[1]);
  const reach = 2 * Math.max(around.radius, away);
  const first = descendRing(set.points, set.size, start);
  const { best, proved } = narrowestRing(set.points, set.size, first, { center: around.center, reach });
  if (!(best.gain <= 1e-10 * set.size))
    return refuse("no-convergence", "the search for the ring did not settle");
  const { values } = radiusFamily(set.points, best.position);
  const [outerRadius, innerRadius] = [Math.max(0, largest(values)), -largest(values.map((value) => -value))];
  return {
    ok: true,
    width: outerRadius - innerRadius,
    center: [set.center[0] + best.position[0], set.center[1] + best.position[1]],
    outerRadius,
    innerRadius,
    outer: best.upper,
    inner: best.lower,
    proof: proved ? "global" : "local",
    reach,
  };
}

const largest = (values: Float64Array): number =>
  values.reduce((most, value) => Math.max(most, value), -Infinity);
