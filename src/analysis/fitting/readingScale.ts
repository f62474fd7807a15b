import type { ReadingScale } from "../fittedFeature.ts";

/**
 * The scatter of one reading (mm) that scales a fit's covariance: the larger of the stated standard uncertainty and the
 * scatter seen in the fit, because form and a loose clamp show in the readings and not in the gauge's certificate. Where the
 * seen scatter governs, its degrees of freedom are those of the fit, so that few readings get the wider factor of the
 * t-table; a stated uncertainty counts as well known.
 */
export function readingScale(
  statedMm: number | null,
  seenMm: number | null,
  degreesOfFreedom: number,
): ReadingScale {
  const seen = degreesOfFreedom > 0 ? seenMm : null;
  if (seen !== null && (statedMm === null || seen > statedMm))
    return { sigmaMm: seen, degreesOfFreedom, by: "seen", statedMm };
  if (statedMm !== null)
    return { sigmaMm: statedMm, degreesOfFreedom: Number.POSITIVE_INFINITY, by: "stated", statedMm };
  return { sigmaMm: null, degreesOfFreedom: 0, by: "none", statedMm };
}
