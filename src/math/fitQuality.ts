import type { CovarianceMatrix } from "./covariance.ts";

/** How well a fit went: what every fit of a feature says beside its parameters. */
export interface FitQuality {
  /** One for each point, in the order of the points. */
  readonly residuals: Float64Array;
  /** sqrt(sum of squares / number of points). */
  readonly rms: number;
  /** Degrees of freedom: residuals that are free, 0 where the points only just determine the feature. */
  readonly dof: number;
  /** sqrt(sum of squares / dof): the standard deviation of one reading as the data show it. Null without dof. */
  readonly scatter: number | null;
  /** Of the derivatives of the residuals, lengths in units of the points' extent: 1 is best, large is shaky. */
  readonly condition: number;
  readonly iterations: number;
  /**
   * Unscaled covariance (J^T J)^-1 of the local parameters that each fit names. With u the standard deviation of
   * one reading along the residual, u^2 g^T C g is the variance of a quantity with derivatives g (`variance`).
   */
  readonly covariance: CovarianceMatrix;
}

/** Quality from residuals and the number of fitted parameters; `equations` is the number of residuals if not one a point. */
export function fitQuality(
  residuals: Float64Array,
  parameterCount: number,
  evidence: Pick<FitQuality, "condition" | "iterations" | "covariance">,
  equations = residuals.length,
): FitQuality {
  let sumOfSquares = 0;
  for (let i = 0; i < residuals.length; i++) sumOfSquares += residuals[i]! * residuals[i]!;
  const dof = equations - parameterCount;
  return {
    residuals,
    rms: Math.sqrt(sumOfSquares / residuals.length),
    dof,
    scatter: dof > 0 ? Math.sqrt(sumOfSquares / dof) : null,
    ...evidence,
  };
}

/** Covariance with each parameter's unit changed: entry (i, j) times factors[i] factors[j]. */
export function rescaled(covariance: CovarianceMatrix, factors: readonly number[]): number[][] {
  return covariance.map((row, i) => row.map((value, j) => value * factors[i]! * factors[j]!));
}
