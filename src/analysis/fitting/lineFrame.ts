import type { Points3 } from "../../math/points.ts";
import { cross, dot, length, orient, scale, subtract, unit, type Vec3 } from "../../math/vector.ts";
import type { AxisName, FeaturePlan } from "../../model/plan/plan.ts";
import { statedSide } from "./touches.ts";

/** Unit vector of a named axis. */
export const axisVector = (axis: AxisName): Vec3 => [
  axis === "x" ? 1 : 0,
  axis === "y" ? 1 : 0,
  axis === "z" ? 1 : 0,
];
export const axisIndex = (axis: AxisName): 0 | 1 | 2 => (axis === "x" ? 0 : axis === "y" ? 1 : 2);

/** The plane of travel and height of a line: unit vectors, square to each other. */
export interface LineFrame {
  readonly along: Vec3;
  readonly height: Vec3;
}

/**
 * Plane of travel and height as the plan states it by `along` and `height`; null where it states only one or none. Then
 * the line is fitted in space.
 */
export function statedFrame(plan: FeaturePlan): LineFrame | null {
  if (plan.along === null || plan.height === null || plan.along === plan.height) return null;
  return { along: axisVector(plan.along), height: axisVector(plan.height) };
}

/**
 * Height direction of a line in space, square to it: the stated height, else the side of the touches or the plan's
 * normal, else the only axis across the line in which the points differ at all. Null where nothing tells it.
 */
export function heightOf(
  points: Points3,
  direction: Vec3,
  plan: FeaturePlan | null,
  touches: Points3 | null,
): Vec3 | null {
  const stated =
    plan === null ? null : plan.height === null ? statedSide(touches, plan) : axisVector(plan.height);
  const wanted = stated ?? onlyMovingAxis(points, direction);
  if (wanted === null) return null;
  const across = subtract(wanted, scale(direction, dot(wanted, direction)));
  return length(across) > 1e-6 ? unit(across) : null;
}

function onlyMovingAxis(points: Points3, direction: Vec3): Vec3 | null {
  const main = largestAxis(direction);
  const moving = (["x", "y", "z"] as const).filter((axis) => {
    const column = points[axis];
    return axisIndex(axis) !== main && column.some((value) => value !== column[0]);
  });
  const [only] = moving;
  return only !== undefined && moving.length === 1 ? axisVector(only) : null;
}

/** Index of the largest component; of equal ones z, then y, then x. */
export function largestAxis(direction: Vec3): 0 | 1 | 2 {
  const size = direction.map(Math.abs) as [number, number, number];
  const most = Math.max(...size) * (1 - 1e-12);
  return size[2] >= most ? 2 : size[1] >= most ? 1 : 0;
}

/** A height for a line without a stated one: square to it, in the plane in which the points scatter most. */
export function scatterHeight(points: Points3, center: Vec3, direction: Vec3): Vec3 {
  let best: Vec3 | null = null;
  let most = 0;
  for (let i = 0; i < points.x.length; i++) {
    const from = subtract([points.x[i]!, points.y[i]!, points.z[i]!], center);
    const across = subtract(from, scale(direction, dot(from, direction)));
    if (length(across) > most) {
      most = length(across);
      best = across;
    }
  }
  if (best !== null && most > 0) return orient(unit(best));
  const start: Vec3 = Math.abs(direction[2]) < 0.9 ? [0, 0, 1] : [0, 1, 0];
  return unit(cross(direction, unit(cross(start, direction))));
}
