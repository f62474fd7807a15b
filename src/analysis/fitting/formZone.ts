import { rangeOf } from "../../math/points.ts";
import type { Support } from "../../math/zones/support.ts";
import type { FormZone } from "../../model/setupReport.ts";

/** Largest less smallest of a column. */
export function spreadOf(column: Float64Array): number {
  const { low, high } = rangeOf(column);
  return high - low;
}

/** A millionth of a micrometre: less than any touch means. */
const ROUNDING_MM = 1e-9;

/** A form zone for the report: supports of the upper (outer) side positive, of the lower (inner) side negative. */
export function formZone(
  leastSquares: number,
  minimum: number,
  proof: FormZone["proof"],
  upper: readonly Support[],
  lower: readonly Support[],
): FormZone {
  const support = [
    ...upper.map(({ index, weight }) => ({ point: index, weight })),
    ...lower.map(({ index, weight }) => ({ point: index, weight: -weight })),
  ];
  // A zone wider than the spread about the fit by more than rounding: coordinates so large that rounding exceeds the form.
  const beaten = minimum > leastSquares + ROUNDING_MM;
  return { leastSquares, minimum: Math.min(minimum, leastSquares), proof: beaten ? "none" : proof, support };
}
