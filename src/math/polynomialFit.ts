import { type LongNumber, longProduct } from "./doubleDouble.ts";
import { type LinearFit, leastSquares } from "./leastSquares.ts";
import type { Outcome } from "./outcome.ts";

/**
 * Least-squares polynomial: coefficients c of `y = c0 + c1 x + ... + cd x^d`, lowest power first and for x as
 * given, not shifted. Powers are held in twice the digits of a double, because the rounding of x^10 alone would
 * cost half the digits of a badly conditioned polynomial. `intercept: false` leaves out c0.
 * No result and throws as `leastSquares`.
 */
export function polynomialFit(
  x: Float64Array,
  y: Float64Array,
  degree: number,
  options: { readonly intercept?: boolean } = {},
): Outcome<LinearFit> {
  const columns: Float64Array[] = [];
  const tails: Float64Array[] = [];
  let powers: LongNumber[] = Array.from(x, () => ({ high: 1, low: 0 }));
  for (let power = 0; power <= degree; power++) {
    if (power > 0) powers = powers.map((p, i) => longProduct(p, { high: x[i]!, low: 0 }));
    if (power === 0 && options.intercept === false) continue;
    columns.push(Float64Array.from(powers, (p) => p.high));
    tails.push(Float64Array.from(powers, (p) => p.low));
  }
  return leastSquares(columns, y, { tails });
}
