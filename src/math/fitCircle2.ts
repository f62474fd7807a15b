import { type FitQuality, fitQuality } from "./fitQuality.ts";
import { noResult, type Outcome } from "./outcome.ts";
import { type Points2, standardised, sum, times } from "./points.ts";
import { fitRound } from "./round.ts";
import { momentsOf, NO_SPREAD, principal, refusal } from "./spread.ts";
import type { Vec2 } from "./vector.ts";

/** Covariance parameters: [centre x, centre y, radius]. */
export interface Circle2Fit extends FitQuality {
  readonly center: Vec2;
  readonly radius: number;
}

/**
 * Circle in a plane that minimises the sum of squared distances from it along the radius (not of an algebraic
 * expression). Residuals are positive outside. With 3 points the circle through them.
 * No result: fewer than 3 different points, points on one line, points that a straight line follows better than
 * any circle, not finite. Throws RangeError for columns of unequal length.
 * Source: W. Gander, G. H. Golub, R. Strebel (1994), BIT 34, 558-578.
 */
export function fitCircle2(points: Points2): Outcome<Circle2Fit> {
  const refused = refusal([points.x, points.y], 3, "A circle");
  if (refused) return refused;
  const { x, y } = points;
  const [meanX, meanY] = [sum(x) / x.length, sum(y) / y.length];
  let [most, far] = [-1, 0];
  for (let i = 0; i < x.length; i++) {
    const squared = (x[i]! - meanX) ** 2 + (y[i]! - meanY) ** 2;
    if (squared <= most) continue;
    most = squared;
    far = i;
  }
  const extent = Math.hypot(x[far]! - meanX, y[far]! - meanY);
  const columns = [standardised(x, meanX, extent), standardised(y, meanY, extent)];
  const { squares } = principal(momentsOf(columns), 2);
  if (Math.sqrt(squares[1]!) <= NO_SPREAD * Math.sqrt(squares[0]!))
    return noResult("degenerate-points", "The points lie on one line: they hold no circle.");
  const fit = fitRound(columns, squares[1]!);
  if (!fit.ok) return fit;
  const [a, b, radius] = [fit.parameters[0]!, fit.parameters[1]!, fit.parameters[2]!];
  const quality = fitQuality(times(fit.residuals, extent), 3, {
    condition: fit.condition,
    iterations: fit.iterations,
    covariance: fit.covariance,
  });
  return {
    ok: true,
    center: [meanX + a * extent, meanY + b * extent],
    radius: radius * extent,
    ...quality,
  };
}
