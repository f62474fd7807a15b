/** Columns for drawing hold at most this many points. */
const MOST_POINTS = 2000;

/**
 * Indices of the points to draw: all of a few, else of each stretch the one with the highest and the one with the lowest
 * number, in order, so that no extreme is lost.
 */
export function thinned(numbers: Float64Array): number[] {
  const { length } = numbers;
  if (length <= MOST_POINTS) return Array.from(numbers, (_, i) => i);
  const stretch = Math.ceil((2 * length) / MOST_POINTS);
  const kept = new Set<number>();
  for (let start = 0; start < length; start += stretch) {
    let [low, high] = [start, start];
    for (let i = start; i < Math.min(start + stretch, length); i++) {
      if (numbers[i]! < numbers[low]!) low = i;
      if (numbers[i]! > numbers[high]!) high = i;
    }
    kept.add(low).add(high);
  }
  return [...kept].sort((a, b) => a - b);
}

/** The entries of a column at some places, as the record keeps them. */
export const at = (places: readonly number[], column: ArrayLike<number>): number[] =>
  places.map((place) => column[place]!);
