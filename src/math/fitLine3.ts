import { type FitQuality, fitQuality } from "./fitQuality.ts";
import { noResult, type Outcome } from "./outcome.ts";
import { type Points3, toFrame } from "./points.ts";
import { refusal, spread } from "./spread.ts";
import { add, basis, dot, orient, scale, unit, type Vec3 } from "./vector.ts";

/**
 * Covariance parameters: [offset along u, offset along v, slope along u, slope along v] at `center`, in the frame
 * `basis(direction)`: the axis is u = offsetU + slopeU w, v = offsetV + slopeV w. Residuals are distances from the
 * line, never negative; `dof` counts two equations a point.
 */
export interface Line3Fit extends FitQuality {
  /** Mean of the points. */
  readonly center: Vec3;
  /** Unit vector along the line. */
  readonly direction: Vec3;
}

/**
 * Line in space that minimises the sum of squared distances square to it: direction of largest spread. It points
 * to the side of `towards`, else with its largest component positive.
 * No result: fewer than 2 different points, points that single out no direction, not finite.
 * Throws RangeError for columns of unequal length. Source: K. Pearson (1901), Phil. Mag. 2, 559-572.
 */
export function fitLine3(points: Points3, towards?: Vec3): Outcome<Line3Fit> {
  const refused = refusal([points.x, points.y, points.z], 2, "A line");
  if (refused) return refused;
  const { center, squares, axes, extent } = spread(points);
  if (squares[0] - squares[1] <= 1e-9 * squares[0])
    return noResult(
      "degenerate-points",
      "The points spread alike in several directions: they single out no line.",
    );
  const turned = towards && dot(axes[0], towards) < 0 ? scale(axes[0], -1) : axes[0];
  const { direction, iterations } = settle(points, center, towards ? turned : orient(turned));
  const local = toFrame(points, center, direction);
  const residuals = local.x.map((u, i) => Math.hypot(u, local.y[i]!));
  const along = local.z.reduce((total, w) => total + w * w, 0);
  const count = residuals.length;
  const covariance = [1 / count, 1 / count, 1 / along, 1 / along].map((value, i) =>
    [0, 1, 2, 3].map((j) => (i === j ? value : 0)),
  );
  const condition = Math.sqrt(count / (along / extent ** 2));
  const quality = fitQuality(residuals, 4, { condition, iterations, covariance }, 2 * count);
  return { ok: true, center, direction, ...quality };
}

function settle(points: Points3, center: Vec3, start: Vec3): { direction: Vec3; iterations: number } {
  let direction = start;
  let iterations = 0;
  for (let last = Number.POSITIVE_INFINITY; iterations < 60; iterations++) {
    const { x, y, z } = toFrame(points, center, direction);
    let [uw, vw, ww] = [0, 0, 0];
    for (let i = 0; i < x.length; i++) {
      uw += x[i]! * z[i]!;
      vw += y[i]! * z[i]!;
      ww += z[i]! * z[i]!;
    }
    const size = Math.hypot(uw, vw) / ww;
    if (!(size > 1e-17) || size >= last) break;
    last = size;
    const { u, v, w } = basis(direction);
    direction = unit(add(w, add(scale(u, uw / ww), scale(v, vw / ww))));
  }
  return { direction, iterations };
}
