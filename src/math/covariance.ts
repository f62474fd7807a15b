/**
 * A symmetric matrix by rows. Fits give the unscaled covariance C = (J^T J)^-1 of their local parameters, where J
 * holds the derivatives of the residuals: with a standard deviation s of one residual the covariance is s^2 C.
 */
export type CovarianceMatrix = readonly (readonly number[])[];

/**
 * Variance factor g^T C g of a quantity whose derivatives by the fit's local parameters are `gradient`; times the
 * variance of one residual it is the variance of the quantity (JCGM 100:2008, 5.2, in matrix form).
 * Throws RangeError when the lengths differ.
 * @example variance(circle.covariance, [0, 0, 2]) // factor of the diameter: parameters are x, y, radius
 */
export function variance(covariance: CovarianceMatrix, gradient: readonly number[]): number {
  return covarianceOf(covariance, gradient, gradient);
}

/** Covariance factor g^T C h of two quantities of one fit. Throws RangeError when the lengths differ. */
export function covarianceOf(
  covariance: CovarianceMatrix,
  first: readonly number[],
  second: readonly number[],
): number {
  if (first.length !== covariance.length || second.length !== covariance.length)
    throw new RangeError(`a gradient needs ${covariance.length} derivatives`);
  let total = 0;
  for (let i = 0; i < first.length; i++)
    for (let j = 0; j < second.length; j++) total += first[i]! * covariance[i]![j]! * second[j]!;
  return total;
}
