import type { Outcome } from "../outcome.ts";
import type { Points3 } from "../points.ts";
import { add, scale, unit, type Vec3 } from "../vector.ts";
import { admit, COLLINEAR, centred3, refuse, spreadAboutLine } from "./admission.ts";
import type { Descent } from "./descend.ts";
import { narrowestPlanes } from "./narrowestPlanes.ts";
import { descendPlanes, planeFamily, provedSwing } from "./planeDescent.ts";
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
  const about = unit(options.about);
  const set = centred3(points);
  if (!(spreadAboutLine(set.points) > COLLINEAR * set.size)) {
    return refuse("degenerate-points", "the points lie on one line, which leaves the plane free to turn");
  }
  const found = descendPlanes(set.points, set.size, about);
  if (!(found.gain <= 1e-10 * set.size))
    return refuse("no-convergence", "the search for the zone did not settle");
  // No zone is narrower than none at all; otherwise the supports say how far the proof reaches.
  const everywhere =
    found.value <= 1e-13 * set.size || provedSwing(set.points, found) === Number.POSITIVE_INFINITY;
  const local = describe(set, found, everywhere ? "global" : "local");
  if (local.proof === "global" || options.search !== "global") return { ok: true, ...local };
  const all = narrowestPlanes(set.points, set.size, found);
  if (!all.proved) return { ok: true, ...local };
  const closer = all.best.value < found.value - 1e-9 * set.size;
  if (!closer) return { ok: true, ...local, proof: "global" };
  return { ok: true, ...local, narrower: { width: all.best.value, normal: all.best.position } };
}

function describe(set: { points: Points3; center: Vec3 }, found: Descent<Vec3>, proof: Proof): PlaneZone {
  const { values } = planeFamily(set.points, found.position);
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < values.length; i++) {
    low = Math.min(low, values[i]!);
    high = Math.max(high, values[i]!);
  }
  return {
    width: high - low,
    normal: found.position,
    center: add(set.center, scale(found.position, (high + low) / 2)),
    upper: found.upper,
    lower: found.lower,
    proof,
    narrower: null,
  };
}
