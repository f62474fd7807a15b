/**
 * A point that holds a zone, with its dual weight: the rate at which the zone's value changes when this point moves
 * along the outward measuring direction (plus on the outer or upper side, minus on the inner or lower side).
 */
export interface Support {
  readonly index: number;
  readonly weight: number;
}
/** How far a result is proved: against every position, or against every small change of the position found. */
export type Proof = "global" | "local";

/** One list entry per point: weights of one point are added, tiny ones dropped, order by index. */
export function mergeSupports(entries: readonly Support[]): Support[] {
  const total = new Map<number, number>();
  for (const { index, weight } of entries) total.set(index, (total.get(index) ?? 0) + weight);
  return [...total]
    .filter(([, weight]) => weight > 0)
    .sort((a, b) => a[0] - b[0])
    .map(([index, weight]) => ({ index, weight }));
}
/** Weights scaled so that they sum to one; an empty list stays empty. */
export function normaliseSupports(entries: readonly Support[]): Support[] {
  const merged = mergeSupports(entries);
  let total = 0;
  for (const entry of merged) total += entry.weight;
  return total > 0 ? merged.map(({ index, weight }) => ({ index, weight: weight / total })) : merged;
}
