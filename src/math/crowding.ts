import { normalQuantile } from "./normalDistribution.ts";

/** What chance does to an extreme of readings when several places are about equally far out. */
export interface Crowd {
  /** How much further out the extreme lies on the average than the true one, in the unit of the readings. */
  readonly bias: number;
  /** Variance of the extreme. */
  readonly variance: number;
}
export interface Side {
  /** 1: the largest places hold; -1: the smallest. */
  readonly sign: 1 | -1;
  /** Derivatives of the extreme by each place that holds it, signs left out; they sum to one. */
  readonly weights: readonly number[];
}

/** Places this many standard deviations below the true extreme still compete with it. Found by simulation. */
const COMPETES = 1.25;
const ROUNDS = 12;

/**
 * Of many equally high places the reading of the highest counts, and that is high by chance too. Those compete that are read
 * within a little more than the bias itself of the extreme, so the bias is settled by repetition. An extreme held by several
 * places (weights 1/3 each, say) is a mean of as many extremes, each over its share of the competitors: `1 / sum(w^2)` of
 * them. `sigma` is the standard deviation of one reading, in the unit of `places`.
 * Source: own, tested by simulation; expected maximum of n normal values: H. A. David, H. N. Nagaraja, Order Statistics (from
 * memory).
 * @example crowding(heights, {sign: 1, weights: [1]}, 0.001)
 */
export function crowding(places: Float64Array, { sign, weights }: Side, sigma: number): Crowd {
  const held = weights.reduce((total, weight) => total + weight * weight, 0);
  if (!(sigma > 0 && held > 0)) return { bias: 0, variance: 0 };
  let outermost = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < places.length; i++) outermost = Math.max(outermost, sign * places[i]!);
  let [each, bias] = [1, 0];
  for (let round = 0; round < ROUNDS; round++) {
    each = Math.max(1, held * countFrom(places, sign, outermost - (COMPETES + bias) * sigma));
    const next = expectedLargest(each);
    if (next === bias) break;
    bias = next;
  }
  return { bias: bias * sigma, variance: held * varianceOfLargest(each) * sigma * sigma };
}

function countFrom(places: Float64Array, sign: number, least: number): number {
  let count = 0;
  for (let i = 0; i < places.length; i++) if (sign * places[i]! >= least) count++;
  return count;
}

/** Expected largest of `count` standard normal numbers, also between whole counts. Source: G. Blom 1958 (from memory), within 5 %. */
export const expectedLargest = (count: number): number => normalQuantile((count - 0.375) / (count + 0.25));

/** Variance of the largest of `count` standard normal numbers: fitted to the known values of 1 to 200, within 4 %. */
export function varianceOfLargest(count: number): number {
  const size = Math.log(count);
  return 1 / (1 + 0.64 * size + 0.07 * size * size);
}
