/** Steps below this are rounding, mm. */
const ROUNDING = 1e-7;

/** The least difference of rising values that is more than rounding; infinite when there is none. */
export function leastStep(rising: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < rising.length; i++) {
    const gap = rising[i]! - rising[i - 1]!;
    if (gap > ROUNDING && gap < least) least = gap;
  }
  return least;
}
