import { mean } from "../math/statistics.ts";

/** What the latest value shows; see `controlChart`. */
export type ControlSignal = "outside" | "two-of-three" | "four-of-five" | "run";
export interface ControlChart {
  readonly count: number;
  readonly mean: number;
  /** Limits of chance for one value; null with fewer than `FEWEST` values. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly signals: readonly ControlSignal[];
}
/** Fewer values give no limits that mean anything; common practice, no source. */
export const FEWEST = 5;
/** 3 / 1.128: three standard deviations from the mean moving range of two. */
const RANGE_FACTOR = 2.66;
const RUN = 8;
/** What arithmetic alone may move a value, as a share of its size. */
const ROUNDING = 1e-12;

/**
 * Individuals chart of values in time order: mean, and mean plus and minus 2.66 times the mean moving range. The latest value
 * is judged by the limits of those before it, with the rules: it lies outside the limits; two of the latest three lie beyond
 * two thirds of the way to one limit; four of the latest five beyond one third; the latest eight lie on one side of the mean.
 * The last two of each group count only when the latest value is among them.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (limits); Western Electric rules as told there in 6.3.2,
 * from memory. Throws RangeError without values.
 * @example controlChart([1, 1.1, 0.9, 1, 1.05, 2]).signals // ["outside"]: 2 lies beyond the limits of the values before it
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
  return {
    count: values.length,
    mean: center,
    lower: center - reach,
    upper: center + reach,
    signals: signalsOf(values, center, reach),
  };
}

function signalsOf(values: readonly number[], center: number, reach: number): ControlSignal[] {
  const latest = values.at(-1) ?? center;
  const side = latest < center ? -1 : 1;
  const noise = ROUNDING * Math.max(Math.abs(center), Math.abs(latest));
  /** Whether so many of the last lie on the latest one's side beyond a share of the reach, the latest among them. */
  const beyond = (share: number, of: number, atLeast: number): boolean => {
    const limit = share * reach + noise;
    const last = values.slice(-of);
    return (
      last.length === of &&
      side * (latest - center) > limit &&
      last.filter((value) => side * (value - center) > limit).length >= atLeast
    );
  };
  return [
    ...(beyond(1, 1, 1) ? (["outside"] as const) : []),
    ...(beyond(2 / 3, 3, 2) ? (["two-of-three"] as const) : []),
    ...(beyond(1 / 3, 5, 4) ? (["four-of-five"] as const) : []),
    ...(beyond(0, RUN, RUN) ? (["run"] as const) : []),
  ];
}
