import { normalQuantile } from "./normalDistribution.ts";
import { rangeOf } from "./points.ts";

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
/** A bias that changes by no more than this, in standard deviations, has settled. */
const SETTLED = 0.01;

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
  const countWithin = depths(places, sign, sigma);
  let [each, bias] = [1, 0];
  for (let round = 0; round < ROUNDS; round++) {
    each = Math.max(1, held * countWithin(COMPETES + bias));
    const next = expectedLargest(each);
    const settled = Math.abs(next - bias) < SETTLED;
    bias = next;
    if (settled) break;
  }
  return { bias: bias * sigma, variance: held * varianceOfLargest(each) * sigma * sigma };
}

/** More places are looked at once. */
const MANY = 20_000;
/** Steps of depth into which they are sorted then: so many a standard deviation, down to the deepest that can compete. */
const STEPS = 64;
const DEEPEST = 10;

/** How many places lie no deeper below the outermost than so many standard deviations. */
function depths(places: Float64Array, sign: 1 | -1, sigma: number): (reach: number) => number {
  const { low, high } = rangeOf(places);
  const outermost = sign > 0 ? high : -low;
  if (places.length <= MANY)
    return (reach) => {
      let count = 0;
      for (let i = 0; i < places.length; i++) if (sign * places[i]! >= outermost - reach * sigma) count++;
      return count;
    };
  const counts = new Float64Array(STEPS * DEEPEST + 1);
  const perStep = STEPS / sigma;
  for (let i = 0; i < places.length; i++)
    counts[Math.min(STEPS * DEEPEST, Math.floor((outermost - sign * places[i]!) * perStep))]!++;
  for (let step = 1; step < counts.length; step++) counts[step]! += counts[step - 1]!;
  return (reach) => counts[Math.min(STEPS * DEEPEST, Math.floor(reach * STEPS))]!;
}

/** Expected largest of `count` standard normal numbers, also between whole counts. Source: G. Blom 1958 (from memory), within 5 %. */
export const expectedLargest = (count: number): number => normalQuantile((count - 0.375) / (count + 0.25));

/** Variance of the largest of `count` standard normal numbers: fitted to the known values of 1 to 200, within 4 %. */
export function varianceOfLargest(count: number): number {
  const size = Math.log(count);
  return 1 / (1 + 0.64 * size + 0.07 * size * size);
}
