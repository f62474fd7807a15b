import type { CovarianceMatrix } from "./covariance.ts";
import { leastSquares } from "./leastSquares.ts";
import { noResult, type Outcome } from "./outcome.ts";

export interface RotationFit {
  /** Centre of the rotation. */
  readonly xc: number;
  readonly zc: number;
  /** Place of the target from the centre at angle 0: x = xc + p, z = zc + q. */
  readonly p: number;
  readonly q: number;
  /** Distance of the target from the centre. */
  readonly arm: number;
  /** Measured less fitted, for each angle. */
  readonly residualsX: Float64Array;
  readonly residualsZ: Float64Array;
  /** sqrt(sum of squares / number of x and z residuals). */
  readonly rms: number;
  /** 2 n - 4. */
  readonly dof: number;
  /** sqrt(sum of squares / dof), null without degrees of freedom. */
  readonly scatter: number | null;
  /** Unscaled, for [xc, zc, p, q]. */
  readonly covariance: CovarianceMatrix;
  readonly condition: number;
}

/**
 * Centre of a rotation about y from the places (x, z) of one target at known angles: linear least squares of
 * x = xc + p cos t + q sin t, z = zc - p sin t + q cos t with t = sense * angle. Sense +1: a rising angle swings
 * +z towards +x. Angles in radians; x and z in one unit.
 * No result: fewer than 2 angles or all alike (then any centre will do), not finite.
 * Throws RangeError for columns of unequal length.
 */
export function fitRotation(
  angles: Float64Array,
  x: Float64Array,
  z: Float64Array,
  sense: 1 | -1,
): Outcome<RotationFit> {
  const count = angles.length;
  if (x.length !== count || z.length !== count)
    throw new RangeError("angles and places must have one length");
  if (![angles, x, z].every((column) => column.every(Number.isFinite)))
    return noResult("not-finite", "An angle or a place is not a finite number.");
  if (count < 2) return noResult("too-few-points", "The centre of a rotation needs at least 2 angles.");
  const cosines = angles.map(Math.cos);
  const sines = angles.map((a) => Math.sin(sense * a));
  const fit = leastSquares(designColumns(cosines, sines), joined(x, z));
  if (!fit.ok || fit.condition > 1e7)
    return noResult(
      "degenerate-points",
      "The angles lie too close together to show the centre of the rotation.",
    );
  const [xc = 0, zc = 0, p = 0, q = 0] = fit.coefficients;
  const { dof, scatter, covariance, condition, residuals } = fit;
  return {
    ok: true,
    xc,
    zc,
    p,
    q,
    arm: Math.hypot(p, q),
    residualsX: residuals.slice(0, count),
    residualsZ: residuals.slice(count),
    rms: Math.sqrt(fit.sumOfSquares / (2 * count)),
    dof,
    scatter,
    covariance,
    condition,
  };
}

/** Rows of x first, then of z; columns xc, zc, p, q. */
function designColumns(cosines: Float64Array, sines: Float64Array): Float64Array[] {
  const ones = new Float64Array(cosines.length).fill(1);
  const none = new Float64Array(cosines.length);
  return [
    joined(ones, none),
    joined(none, ones),
    joined(
      cosines,
      sines.map((s) => -s),
    ),
    joined(sines, cosines),
  ];
}

function joined(upper: Float64Array, lower: Float64Array): Float64Array {
  const out = new Float64Array(upper.length + lower.length);
  out.set(upper);
  out.set(lower, upper.length);
  return out;
}
