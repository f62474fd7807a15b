import { normalQuantile } from "./normalDistribution.ts";

/**
 * The value that chi-square with `degrees` of freedom (1 or more, may be fractional) stays under with this probability, by
 * the cube-root rule: within 3 % for 1 degree of freedom, within 0.6 % from 3 up, for probabilities from 0.5 to 0.999.
 * Throws RangeError for degrees below 1 or a probability outside (0, 1).
 * Source: E. B. Wilson, M. M. Hilferty (1931), Proc. Natl. Acad. Sci. 17, 684-688.
 * @example chiSquareQuantile(0.95, 10) // 18.29; tables say 18.31
 */
export function chiSquareQuantile(probability: number, degrees: number): number {
  if (!(degrees >= 1 - 1e-9)) throw new RangeError("chi-square needs at least one degree of freedom here");
  const spread = 2 / (9 * degrees);
  return degrees * (1 - spread + normalQuantile(probability) * Math.sqrt(spread)) ** 3;
}
