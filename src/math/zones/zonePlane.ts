import type { Outcome } from "../outcome.ts";
import type { Points3 } from "../points.ts";
import { add, basis, scale, unit, type Vec3 } from "../vector.ts";
import { admit, boxOf, COLLINEAR, centred3, refuse, spreadAboutLine } from "./admission.ts";
import type { Descent } from "./descend.ts";
import { narrowestPlanes } from "./narrowestPlanes.ts";
import { FEW, outermostAlong, renumbered } from "./outermost.ts";
import { descendPlanes, provedSwing } from "./planeDescent.ts";
import type { Proof, Support } from "./support.ts";

/** Two parallel planes that hold all points, as close together as they get. */
export interface PlaneZone {
  readonly width: number;
  /** Unit normal, on the side of `about`. */
  readonly normal: Vec3;
  /** A point of the plane midway between the two. */
  readonly center: Vec3;
  /** Points on the side the normal points to; weights sum to one. */
  readonly upper: readonly Support[];
  /** Points on the other side; weights sum to one. */
  readonly lower: readonly Support[];
  /** `global`: no planes of any direction are closer. `local`: none of a slightly different direction. */
  readonly proof: Proof;
  /** Set when the search over all directions found closer planes than those about the given direction. */
  readonly narrower: { readonly width: number; readonly normal: Vec3 } | null;
}

/**
 * Minimum-zone flatness (ISO 1101): least distance of two parallel planes that hold all points, true distances square to
 * the planes. The result is the least width reached by going down from the direction `about` (the fitted normal), so it is
 * never above the width about that direction. `proof` says whether it is the least of all directions: known at once when
 * the supports are spread wider than the zone is thick, otherwise settled by `search: "global"`, which looks at all
 * directions by branch and bound to 1e-10 of the size of the set and reports closer planes in `narrower`.
 * Unit and frame are those of the points. Throws RangeError when `about` has length zero.
 */
export function zonePlane(
  points: Points3,
  options: { readonly about: Vec3; readonly search?: "local" | "global" },
): Outcome<PlaneZone> {
  const trouble = admit([points.x, points.y, points.z], 3);
  if (trouble) return trouble;
  const box = boxOf(points);
  const settled = settle(points, box, unit(options.about));
  if (!settled.ok) return settled;
  const { found, range } = settled;
  const zone: PlaneZone = {
    width: range.high - range.low,
    normal: found.position,
    center: add(box.center, scale(found.position, (range.high + range.low) / 2)),
    upper: found.upper,
    lower: found.lower,
    proof: settled.everywhere ? "global" : "local",
    narrower: null,
  };
  if (zone.proof === "global" || options.search !== "global") return { ok: true, ...zone };
  const all = narrowestPlanes(centred3(points, box).points, box.size, found);
  if (!all.proved) return { ok: true, ...zone };
  const closer = all.best.value < found.value - 1e-9 * box.size;
  if (!closer) return { ok: true, ...zone, proof: "global" };
  return { ok: true, ...zone, narrower: { width: all.best.value, normal: all.best.position } };
}

interface Settled {
  /** Supports by their index among all points. */
  readonly found: Descent<Vec3>;
  readonly range: { readonly low: number; readonly high: number };
  /** Whether its supports prove it against planes of all directions. */
  readonly everywhere: boolean;
}

/** Goes down from `about`: over few of many points, with those that stick out taken in until none does. Then it is a zone of all. */
function settle(points: Points3, box: ReturnType<typeof boxOf>, about: Vec3): Outcome<Settled> {
  let some = points.x.length <= FEW ? null : outermostAlong(points, box, about);
  for (;;) {
    const set = centred3(points, box, some);
    if (!(spreadAboutLine(set.points) > COLLINEAR * box.size)) {
      if (some === null)
        return refuse("degenerate-points", "the points lie on one line, which leaves the plane free to turn");
      some = null;
      continue;
    }
    const found = descendPlanes(set.points, box.size, about);
    const range = rangeAlong(points, box.center, found.position);
    if (some !== null && range.high - range.low > found.value) {
      const more: Int32Array = outermostAlong(points, box, found.position, some);
      if (more.length > some.length) {
        some = more;
        continue;
      }
    }
    if (!(found.gain <= 1e-10 * box.size))
      return refuse("no-convergence", "the search for the zone did not settle");
    // No zone is narrower than none at all; otherwise the supports say how far the proof reaches.
    const everywhere =
      found.value <= 1e-13 * box.size || provedSwing(set.points, found) === Number.POSITIVE_INFINITY;
    return { ok: true, found: some === null ? found : renumbered(found, some), range, everywhere };
  }
}

/** Lowest and highest point along a direction, from `center`. */
function rangeAlong({ x, y, z }: Points3, [cx, cy, cz]: Vec3, normal: Vec3): { low: number; high: number } {
  const [wx, wy, wz] = basis(normal).w;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < x.length; i++) {
    const value = (x[i]! - cx) * wx + (y[i]! - cy) * wy + (z[i]! - cz) * wz;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return { low, high };
}
