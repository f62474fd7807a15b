import { fitCircle2 } from "./fitCircle2.ts";
import { fitPlane, type PlaneFit } from "./fitPlane.ts";
import type { FitQuality } from "./fitQuality.ts";
import { noResult, type Outcome } from "./outcome.ts";
import { dropped, fromFrame, type Points3 } from "./points.ts";
import type { Vec3 } from "./vector.ts";

/**
 * Covariance parameters: [centre along u, centre along v, radius] in the frame `basis(direction)`. The third
 * coordinate of the centre and the direction depend on `plane.covariance`: same frame, origin `plane.center`.
 */
export interface Circle3Fit extends FitQuality {
  readonly center: Vec3;
  /** Unit normal of the circle's plane. */
  readonly direction: Vec3;
  readonly radius: number;
  /** The plane the points were dropped on; its residuals are the distances from it. */
  readonly plane: PlaneFit;
}

/**
 * Circle in space: the points are dropped on their own least-squares plane, and the circle is fitted there by
 * distance along the radius. Residuals are radial, positive outside. `towards` turns the direction only.
 * No result: fewer than 3 different points, points on one line, straight rather than round, not finite.
 * Throws RangeError for columns of unequal length.
 */
export function fitCircle3(points: Points3, towards?: Vec3): Outcome<Circle3Fit> {
  const plane = fitPlane(points, towards);
  if (!plane.ok) return { ...plane, text: plane.text.replace(/plane/g, "circle") };
  const circle = fitCircle2(dropped(points, plane.center, plane.direction));
  if (!circle.ok) {
    // Different in space, but one above the other: seen along the normal too few are left.
    return circle.code === "too-few-points" ? noResult("degenerate-points", circle.text) : circle;
  }
  const { center, ...rest } = circle;
  const place = fromFrame([center[0], center[1], 0], plane.center, plane.direction);
  return { ...rest, center: place, direction: plane.direction, plane };
}
