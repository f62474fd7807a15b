import { centroid, type Points3, pointAt } from "../../math/points.ts";
import { dot, length, scale, subtract, unit, type Vec3 } from "../../math/vector.ts";
import type { FeaturePlan } from "../../model/plan/plan.ts";
import { type Said, say } from "../../model/say.ts";

/** Mean of the outward touch directions, unit length; null without directions or where they cancel, as around a bore. */
export function meanTouch(touches: Points3 | null): Vec3 | null {
  if (touches === null || touches.x.length === 0) return null;
  const mean = centroid(touches);
  return length(mean) > 1e-3 ? unit(mean) : null;
}

/** The side a surface's normal points to: the mean touch direction, else the plan's normal; null without both. */
export function statedSide(touches: Points3 | null, plan: FeaturePlan): Vec3 | null {
  return meanTouch(touches) ?? (plan.normal === null ? null : unit(plan.normal));
}

/** Points moved by `distance` along `direction` (unit). */
export function shifted(points: Points3, direction: Vec3, distance: number): Points3 {
  if (distance === 0) return points;
  const by = scale(direction, distance);
  return {
    x: points.x.map((x) => x + by[0]),
    y: points.y.map((y) => y + by[1]),
    z: points.z.map((z) => z + by[2]),
  };
}

/** Whether the material lies outside the round (bore, -1) or inside (boss, +1), and why it is not known (0). */
export interface RoundSide {
  readonly sign: 1 | -1 | 0;
  readonly problem: Said | null;
}

/**
 * Side of a round feature: the plan's `surface`, else the touch directions: outward normals of a boss point away from its
 * centre line, those of a bore towards it. `away` gives the vector from the centre or axis to a place.
 */
export function roundSide(plan: FeaturePlan, touched: Touched, away: (place: Vec3) => Vec3): RoundSide {
  if (plan.surface !== null) return { sign: plan.surface === "boss" ? 1 : -1, problem: null };
  let balance = 0;
  if (touched.touches !== null)
    for (let i = 0; i < touched.points.x.length; i++)
      balance += Math.sign(dot(away(pointAt(touched.points, i)), pointAt(touched.touches, i)));
  if (balance !== 0) return { sign: balance > 0 ? 1 : -1, problem: null };
  return {
    sign: 0,
    problem: say(
      "The log gives ball centres, and the plan does not say whether {feature} is a bore or a boss.",
      {
        feature: plan.name,
      },
    ),
  };
}
interface Touched {
  readonly points: Points3;
  readonly touches: Points3 | null;
}

/**
 * Points moved from the ball's centre to the surface of a round: towards the axis for a boss, away for a bore.
 * A point on the axis itself has no direction and stays.
 */
export function movedRadially(
  points: Points3,
  away: (place: Vec3) => Vec3,
  side: RoundSide["sign"],
  ballRadius: number,
): Points3 {
  if (ballRadius === 0 || side === 0) return points;
  const out = { x: points.x.slice(), y: points.y.slice(), z: points.z.slice() };
  for (let i = 0; i < points.x.length; i++) {
    const radial = away(pointAt(points, i));
    const size = length(radial);
    if (size === 0) continue;
    const by = scale(radial, (-side * ballRadius) / size);
    out.x[i] = points.x[i]! + by[0];
    out.y[i] = points.y[i]! + by[1];
    out.z[i] = points.z[i]! + by[2];
  }
  return out;
}

/** The vector from an axis to a place, square to the axis. */
export function awayFromAxis(center: Vec3, direction: Vec3): (place: Vec3) => Vec3 {
  return (place) => {
    const from = subtract(place, center);
    return subtract(from, scale(direction, dot(from, direction)));
  };
}

/** Why the ball cannot be taken off a surface without a stated side. */
export const sideUnknown = (feature: string): Said =>
  say(
    "The log gives ball centres, and neither touch directions nor a normal say on which side of {feature} the material is.",
    {
      feature,
    },
  );
