import { median as medianOf } from "simple-statistics";
import { LongSum } from "./doubleDouble.ts";

/** Mean and sample standard deviation (divisor n - 1; null for one value). */
export interface Summary {
  readonly count: number;
  readonly mean: number;
  readonly deviation: number | null;
  /** Largest less smallest. */
  readonly range: number;
}

/** Arithmetic mean, summed in twice the digits. Throws RangeError without values. */
export function mean(values: ArrayLike<number>): number {
  return longMean(values).value();
}

function longMean(values: ArrayLike<number>): LongSum {
  if (values.length === 0) throw new RangeError("no values have no mean");
  const total = new LongSum();
  for (let i = 0; i < values.length; i++) total.add(values[i]!);
  // Quotient in two parts, so that differences from a mean of ten million keep the mean's last digits.
  const high = total.value() / values.length;
  const rest = new LongSum().add(total.high).add(total.low).addProduct(-high, values.length);
  return new LongSum().add(high).add(rest.value() / values.length);
}

/** Values less their mean, the mean held in twice the digits. */
function deviations(values: ArrayLike<number>): Float64Array {
  const center = longMean(values);
  return Float64Array.from(values, (value) => value - center.high - center.low);
}

/** Sum of squares about the mean: two passes, both summed in twice the digits. Throws RangeError without values. */
export function sumOfSquaresAboutMean(values: ArrayLike<number>): number {
  const total = new LongSum();
  for (const part of deviations(values)) total.addProduct(part, part);
  return total.value();
}

/** Sample standard deviation, divisor n - 1. Throws RangeError with fewer than two values. */
export function sampleDeviation(values: ArrayLike<number>): number {
  if (values.length < 2) throw new RangeError("a standard deviation needs at least two values");
  return Math.sqrt(sumOfSquaresAboutMean(values) / (values.length - 1));
}

/**
 * Lag-1 autocorrelation: sum of products of neighbours' deviations over the sum of squared deviations, about the
 * mean of all. Null where all values are equal. Throws RangeError without values.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.12.
 */
export function lagOneAutocorrelation(values: ArrayLike<number>): number | null {
  const parts = deviations(values);
  const products = new LongSum();
  const squares = new LongSum();
  for (let i = 0; i < parts.length; i++) {
    squares.addProduct(parts[i]!, parts[i]!);
    if (i > 0) products.addProduct(parts[i]!, parts[i - 1]!);
  }
  return squares.value() > 0 ? products.value() / squares.value() : null;
}

/** Middle value, or the mean of the two middle ones. Throws without values. */
export function median(values: ArrayLike<number>): number {
  return medianOf(Array.from(values));
}

/** Count, mean, deviation and range at once. Throws RangeError without values. */
export function summarise(values: ArrayLike<number>): Summary {
  const all = Float64Array.from(values);
  const center = mean(all);
  const deviation = all.length < 2 ? null : sampleDeviation(all);
  let [low, high] = [all[0]!, all[0]!];
  for (const value of all) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return { count: all.length, mean: center, deviation, range: high - low };
}
