import { type FitQuality, fitQuality } from "./fitQuality.ts";
import { noResult, type Outcome } from "./outcome.ts";
import { dividedBy, type Points2, times } from "./points.ts";
import { fitRound } from "./round.ts";
import { centeredColumns, momentsOf, NO_SPREAD, principal, refusal } from "./spread.ts";
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
  const { mean, parts } = centeredColumns([points.x, points.y]);
  const [x, y] = [parts[0]!, parts[1]!];
  let extent = 0;
  for (let i = 0; i < x.length; i++) extent = Math.max(extent, Math.hypot(x[i]!, y[i]!));
  const columns = parts.map((part) => dividedBy(part, extent));
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
    center: [mean[0]! + a * extent, mean[1]! + b * extent],
    radius: radius * extent,
    ...quality,
  };
}
