import { type FitQuality, fitQuality } from "./fitQuality.ts";
import { noResult, type Outcome } from "./outcome.ts";
import { type Points3, standardised, times } from "./points.ts";
import { fitRound } from "./round.ts";
import { NO_SPREAD, refusal, spread } from "./spread.ts";
import { add, scale, type Vec3 } from "./vector.ts";

/** Covariance parameters: [centre x, centre y, centre z, radius]. */
export interface SphereFit extends FitQuality {
  readonly center: Vec3;
  readonly radius: number;
}

/**
 * Sphere that minimises the sum of squared distances from it along the radius. Residuals are positive outside.
 * With 4 points the sphere through them.
 * No result: fewer than 4 different points, points in one plane, points that a plane follows better than any
 * sphere, not finite. Throws RangeError for columns of unequal length.
 */
export function fitSphere(points: Points3): Outcome<SphereFit> {
  const refused = refusal([points.x, points.y, points.z], 4, "A sphere");
  if (refused) return refused;
  const { center, squares, extent } = spread(points);
  if (Math.sqrt(squares[2]) <= NO_SPREAD * Math.sqrt(squares[0]))
    return noResult("degenerate-points", "The points lie in one plane: they hold no sphere.");
  const columns = [points.x, points.y, points.z].map((c, j) => standardised(c, center[j]!, extent));
  const fit = fitRound(columns, squares[2] / extent ** 2);
  if (!fit.ok) return fit;
  const [a, b, c, radius] = [...fit.parameters] as [number, number, number, number];
  const quality = fitQuality(times(fit.residuals, extent), 4, {
    condition: fit.condition,
    iterations: fit.iterations,
    covariance: fit.covariance,
  });
  return { ok: true, center: add(center, scale([a, b, c], extent)), radius: radius * extent, ...quality };
}
