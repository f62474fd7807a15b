import { seededNoise } from "./seededNoise.ts";

/**
 * `some` of the rows of columns, or the columns themselves where they have no more rows. Drawn at random, the same each
 * time, because a fixed stride would pick one line out of points measured in rings.
 */
export function someOf(columns: readonly Float64Array[], some: number): readonly Float64Array[] {
  const count = columns[0]!.length;
  if (count <= some) return columns;
  const noise = seededNoise(count);
  const picks = Array.from({ length: some }, () => noise.below(count));
  return columns.map((column) => Float64Array.from(picks, (i) => column[i]!));
}
