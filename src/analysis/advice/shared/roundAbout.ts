import type { Points2 } from "../../../math/points.ts";
import type { Vec2 } from "../../../math/vector.ts";
import { bearing } from "./turn.ts";

/** Points of a round as seen from a centre: distances in mm, angles in degrees from +X towards +Y. */
export interface Round {
  readonly least: number;
  readonly leastAngle: number;
  readonly most: number;
  readonly mostAngle: number;
  /** No gap of half a turn between neighbouring touches. */
  readonly surrounded: boolean;
}

/** Least and largest distance of the points from `center`, with their directions. */
export function roundAbout({ x, y }: Points2, center: Vec2): Round {
  let [least, most, nearest, farthest] = [Number.POSITIVE_INFINITY, 0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const far = Math.hypot(x[i]! - center[0], y[i]! - center[1]);
    if (far < least) [least, nearest] = [far, i];
    if (far > most) [most, farthest] = [far, i];
  }
  const toward = (i: number): number => bearing((x[i] ?? 0) - center[0], (y[i] ?? 0) - center[1]) ?? 0;
  return {
    least,
    leastAngle: toward(nearest),
    most,
    mostAngle: toward(farthest),
    surrounded: widestGap({ x, y }, center) < Math.PI,
  };
}

/** Longest chord between neighbouring touches on a circle about `center`: no flat narrower than it need have been seen. */
export function widestChord(points: Points2, center: Vec2, radius: number): number {
  return 2 * radius * Math.sin(Math.min(Math.PI, widestGap(points, center)) / 2);
}

/** Widest angle between neighbouring directions of the points, radians. */
function widestGap({ x, y }: Points2, center: Vec2): number {
  const angles = Array.from(x, (value, i) => Math.atan2(y[i]! - center[1], value - center[0])).sort(
    (a, b) => a - b,
  );
  let widest = 0;
  angles.forEach((angle, i) => {
    const next = i + 1 < angles.length ? angles[i + 1]! : (angles[0] ?? 0) + 2 * Math.PI;
    widest = Math.max(widest, next - angle);
  });
  return widest;
}
