import { chiSquareQuantile } from "../../math/chiSquareQuantile.ts";
import type { ReadingScale } from "../fittedFeature.ts";

/** A seen scatter governs when chance would show one as large in fewer cases than this. */
const RISK = 0.05;

/**
 * The scatter of one reading (mm) that scales a fit's covariance: the larger of the stated standard uncertainty and the
 * scatter seen in the fit, because form and a loose clamp show in the readings and not in the gauge's certificate. The
 * degrees of freedom are those of the fit where the seen scatter governs: nothing is stated, or it is larger than the stated
 * uncertainty makes likely (chi-square, 5 %). A few readings that scatter a little more by chance do not undo what is known
 * of the gauge: there the degrees of freedom stay infinite.
 */
export function readingScale(
  statedMm: number | null,
  seenMm: number | null,
  degreesOfFreedom: number,
): ReadingScale {
  const seen = degreesOfFreedom > 0 ? seenMm : null;
  if (seen !== null && (statedMm === null || seen > statedMm)) {
    const governs =
      statedMm === null ||
      (seen / statedMm) ** 2 * degreesOfFreedom > chiSquareQuantile(1 - RISK, degreesOfFreedom);
    return {
      sigmaMm: seen,
      degreesOfFreedom: governs ? degreesOfFreedom : Number.POSITIVE_INFINITY,
      by: "seen",
      statedMm,
    };
  }
  if (statedMm !== null)
    return { sigmaMm: statedMm, degreesOfFreedom: Number.POSITIVE_INFINITY, by: "stated", statedMm };
  return { sigmaMm: null, degreesOfFreedom: 0, by: "none", statedMm };
}
