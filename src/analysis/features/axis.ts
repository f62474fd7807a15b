import { fitLine3 } from "../../math/fitLine3.ts";
import { noResult } from "../../math/outcome.ts";
import { points3 } from "../../math/points.ts";
import { add, dot, length, scale, subtract, unit, type Vec3 } from "../../math/vector.ts";
import type { Geometry } from "../fittedFeature.ts";
import { awayFromAxis } from "../fitting/touches.ts";
import { type FitKind, NO_FORM } from "./contract.ts";

/**
 * Axis through the centres of features, from the first to the last: the line through two, the line of least squared
 * orthogonal distances through more. It ends at its first and last centre. Lengths in mm, frame of the log. Its covariance
 * is that of the features it goes through. It has no form. Throws nothing for data.
 */
export const axis: FitKind = {
  fit: "axis",
  minimumPoints: 2,
  formPoints: null,
  singleSurface: true,
  fitTo({ through }) {
    const centers = through.map(({ geometry }) => geometry.center);
    if (centers.length < 2)
      return noResult("too-few-points", "An axis needs at least 2 features to go through.");
    const points = points3(centers);
    const fit = fitLine3(points, subtract(centers.at(-1)!, centers[0]!));
    if (!fit.ok)
      return noResult("degenerate-points", "The centres that the axis goes through are one place.");
    const geometry = axisThrough(through.map((feature) => feature.geometry));
    const at = (center: Vec3): number => dot(subtract(center, geometry.center), geometry.direction!);
    const [first, last] = [at(centers[0]!), at(centers.at(-1)!)];
    return {
      ok: true,
      value: {
        geometry,
        points,
        residuals: fit.residuals,
        rmsMm: fit.rms,
        degreesOfFreedom: fit.dof,
        scatterMm: fit.scatter,
        condition: fit.condition,
        iterations: fit.iterations,
        parameters: { covariance: [], at: () => geometry },
        extent: [Math.min(first, last), Math.max(first, last)],
        tipProblem: null,
        derived: axisThrough,
      },
    };
  },
  blindness: () => null,
  distance: ({ center, direction }, place) => length(awayFromAxis(center, direction!)(place)),
  formOf: () => ({ ok: true, value: NO_FORM }),
};

/** The axis through centres that are known to determine one. Throws RangeError where they do not. */
function axisThrough(through: readonly Geometry[]): Geometry {
  const centers = through.map(({ center }) => center);
  const span = subtract(centers.at(-1)!, centers[0]!);
  if (centers.length === 2 && length(span) > 0)
    return {
      center: scale(add(centers[0]!, centers[1]!), 0.5),
      direction: unit(span),
      radius: null,
    };
  const fit = fitLine3(points3(centers), span);
  if (!fit.ok) throw new RangeError("the centres determine no axis");
  return { center: fit.center, direction: fit.direction, radius: null };
}
