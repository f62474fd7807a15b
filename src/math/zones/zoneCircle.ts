import type { Outcome } from "../outcome.ts";
import type { Points2 } from "../points.ts";
import type { Vec2 } from "../vector.ts";
import { admit, COLLINEAR, centred2, flatPoints, refuse, spreadAboutLine } from "./admission.ts";
import { circumscribedCircle } from "./circumscribedCircle.ts";
import { narrowestRing } from "./narrowestRing.ts";
import { FEW, outermostAround, renumbered, those } from "./outermost.ts";
import { descendRing } from "./ringDescent.ts";
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
  const disc = { center: around.center, reach };
  const { best, proved, inner, outer } = narrowest(set, start, disc);
  if (!(best.gain <= 1e-10 * set.size))
    return refuse("no-convergence", "the search for the ring did not settle");
  return {
    ok: true,
    width: outer - inner,
    center: [set.center[0] + best.position[0], set.center[1] + best.position[1]],
    outerRadius: outer,
    innerRadius: inner,
    outer: best.upper,
    inner: best.lower,
    proof: proved ? "global" : "local",
    reach,
  };
}

/** The narrowest ring of few of many points, with those that stick out of it taken in until none does: it is that of all. */
function narrowest(
  { points, size }: { readonly points: Points2; readonly size: number },
  start: Vec2,
  disc: { readonly center: Vec2; readonly reach: number },
) {
  let some = points.x.length <= FEW ? null : outermostAround(points, start);
  for (;;) {
    const few = some === null ? points : those(points, some);
    const { best, proved } = narrowestRing(few, size, descendRing(few, size, start), disc);
    const range = radiiAbout(points, best.position);
    if (some !== null && range.outer - range.inner > best.value) {
      const more: Int32Array = outermostAround(points, best.position, some);
      if (more.length > some.length) {
        some = more;
        continue;
      }
    }
    return { best: some === null ? best : renumbered(best, some), proved, ...range };
  }
}

function radiiAbout({ x, y }: Points2, [cx, cy]: Vec2): { inner: number; outer: number } {
  let [inner, outer] = [Number.POSITIVE_INFINITY, 0];
  for (let i = 0; i < x.length; i++) {
    const radius = Math.hypot(x[i]! - cx, y[i]! - cy);
    if (radius < inner) inner = radius;
    if (radius > outer) outer = radius;
  }
  return { inner, outer };
}
