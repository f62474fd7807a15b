import { type FitQuality, fitQuality } from "./fitQuality.ts";
import { noResult, type Outcome } from "./outcome.ts";
import type { Points2 } from "./points.ts";
import { centeredColumns, refusal } from "./spread.ts";
import type { Vec2 } from "./vector.ts";

/** Covariance parameters: [offset along the normal at `center`, slope: turn of the line in radians]. */
export interface Line2Fit extends FitQuality {
  /** Mean of the points. */
  readonly center: Vec2;
  /** Unit vector along the line, towards +x (straight up when the line is upright). */
  readonly direction: Vec2;
  /** dy/dx; infinite for an upright line. */
  readonly slope: number;
}

/**
 * Line in a plane (x position, y height) that minimises the sum of squared distances square to it. Residuals are
 * positive to the left of the direction: above the line.
 * No result: fewer than 2 different points, points that single out no direction, not finite.
 * Throws RangeError for columns of unequal length. Source: K. Pearson (1901), Phil. Mag. 2, 559-572.
 */
export function fitLine2(points: Points2): Outcome<Line2Fit> {
  const refused = refusal([points.x, points.y], 2, "A line");
  if (refused) return refused;
  const { mean, parts } = centeredColumns([points.x, points.y]);
  const [x, y] = [parts[0]!, parts[1]!];
  let [xx, xy, yy] = [0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    xx += x[i]! * x[i]!;
    xy += x[i]! * y[i]!;
    yy += y[i]! * y[i]!;
  }
  if (Math.hypot(xx - yy, 2 * xy) <= 1e-9 * (xx + yy))
    return noResult(
      "degenerate-points",
      "The points spread alike in all directions: they single out no line.",
    );
  let angle = Math.atan2(2 * xy, xx - yy) / 2;
  let local = turned(x, y, angle);
  for (let last = Number.POSITIVE_INFINITY; ; local = turned(x, y, angle)) {
    const left = local.across / (local.along - local.off);
    if (!(Math.abs(left) > 1e-17) || Math.abs(left) >= last) break;
    last = Math.abs(left);
    angle += left;
  }
  const direction: Vec2 = [Math.cos(angle), Math.sin(angle)];
  const count = x.length;
  const covariance = [
    [1 / count, 0],
    [0, 1 / local.along],
  ];
  const condition = Math.sqrt((count / local.along) * local.extent ** 2);
  const quality = fitQuality(local.residuals, 2, { condition, iterations: 1, covariance });
  return {
    ok: true,
    center: [mean[0]!, mean[1]!],
    direction,
    slope: direction[1] / direction[0],
    ...quality,
  };
}

/** Heights over the line at `angle` through the mean, and the moments along, across and off it. */
function turned(x: Float64Array, y: Float64Array, angle: number) {
  const [cosine, sine] = [Math.cos(angle), Math.sin(angle)];
  const residuals = new Float64Array(x.length);
  let [along, across, off, extent] = [0, 0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const a = cosine * x[i]! + sine * y[i]!;
    const h = cosine * y[i]! - sine * x[i]!;
    residuals[i] = h;
    along += a * a;
    across += a * h;
    off += h * h;
    extent = Math.max(extent, Math.hypot(a, h));
  }
  return { residuals, along, across, off, extent };
}
