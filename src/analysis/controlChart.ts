import { mean } from "../math/statistics.ts";

export interface ControlChart {
  readonly count: number;
  readonly mean: number;
  /** Limits of chance for one value; null with fewer than `FEWEST` values. */
  readonly lower: number | null;
  readonly upper: number | null;
  /** What the latest value shows: outside the limits, or the last of a run on one side of the mean. */
  readonly signals: readonly ("outside" | "run")[];
}
/** Fewer values give no limits that mean anything; common practice, no source. */
export const FEWEST = 5;
/** 3 / 1.128: three standard deviations from the mean moving range of two. */
const RANGE_FACTOR = 2.66;
const RUN = 8;

/**
 * Individuals chart of values in time order: mean, and mean plus and minus 2.66 times the mean moving range. Signals: the
 * latest value outside the limits; the latest eight on one side of the mean.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (limits); Western Electric run of eight, from memory.
 * Throws RangeError without values.
 * @example controlChart([1, 1.1, 0.9, 1, 2]).signals // ["outside"] when 2 lies beyond the limits of the values before it
 */
export function controlChart(values: readonly number[]): ControlChart {
  const latest = values.at(-1);
  if (latest === undefined) throw new RangeError("no values have no chart");
  // The latest value is judged by those before it, so that a jump does not widen its own limits.
  const before = values.length > FEWEST ? values.slice(0, -1) : values;
  const center = mean(Float64Array.from(before));
  if (values.length < FEWEST)
    return { count: values.length, mean: center, lower: null, upper: null, signals: [] };
  const ranges = before.slice(1).map((value, i) => Math.abs(value - (before[i] ?? value)));
  const reach = RANGE_FACTOR * mean(Float64Array.from(ranges));
  const [lower, upper] = [center - reach, center + reach];
  const run = values.slice(-RUN);
  const oneSided =
    run.length === RUN && (run.every((value) => value > center) || run.every((value) => value < center));
  return {
    count: values.length,
    mean: center,
    lower,
    upper,
    signals: [
      ...(latest < lower || latest > upper ? (["outside"] as const) : []),
      ...(oneSided ? (["run"] as const) : []),
    ],
  };
}
