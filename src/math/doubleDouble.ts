/**
 * Sums and products that keep what a double loses: each function returns or gathers the rounding error beside the
 * rounded result. Source: T. J. Dekker (1971), Numer. Math. 18, 224-242; T. Ogita, S. M. Rump, S. Oishi (2005),
 * "Accurate sum and dot product", SIAM J. Sci. Comput. 26, 1955-1988.
 */

/** 2^27 + 1: cuts a double of 53 bits into two halves whose products are exact. */
const SPLITTER = 134217729;

/** Rounding error of `a + b`, exact: a + b = (rounded sum) + result. */
export function sumError(a: number, b: number): number {
  const total = a + b;
  const part = total - a;
  return a - (total - part) + (b - part);
}

/** Rounding error of `a * b`, exact for magnitudes below 1e290: a * b = (rounded product) + result. */
export function productError(a: number, b: number): number {
  const product = a * b;
  const cutA = SPLITTER * a;
  const highA = cutA - (cutA - a);
  const lowA = a - highA;
  const cutB = SPLITTER * b;
  const highB = cutB - (cutB - b);
  const lowB = b - highB;
  return lowA * lowB - (product - highA * highB - lowA * highB - highA * lowB);
}

/** A running sum held as two doubles: twice the digits of one. */
export class LongSum {
  high = 0;
  low = 0;

  /** Adds a number. Returns itself. */
  add(value: number): this {
    const total = this.high + value;
    this.low += sumError(this.high, value);
    this.high = total;
    return this;
  }

  /** Adds the exact product of two numbers. Returns itself. */
  addProduct(a: number, b: number): this {
    this.low += productError(a, b);
    return this.add(a * b);
  }

  /** The sum rounded to one double. */
  value(): number {
    return this.high + this.low;
  }
}

/** Product of two numbers held as (high, low) pairs, as such a pair. */
export function longProduct(a: LongNumber, b: LongNumber): LongNumber {
  const high = a.high * b.high;
  const low = productError(a.high, b.high) + (a.high * b.low + a.low * b.high);
  const total = high + low;
  return { high: total, low: low - (total - high) };
}

/** A number as the sum of two doubles. */
export interface LongNumber {
  readonly high: number;
  readonly low: number;
}
