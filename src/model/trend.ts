import type { Verdict } from "./setupReport.ts";

export interface TrendPoint {
  readonly issued: string;
  readonly report: string;
  readonly revision: number;
  readonly plan: string;
  readonly of: string;
  /** Kind of the characteristic, feature or advice. */
  readonly kind: string;
  readonly quantity: string;
  readonly value: number;
  readonly unit: string;
  readonly uncertainty: number | null;
  readonly verdict: Verdict | null;
  /** Value of the key that the trend is divided by; null when the setup does not state it. */
  readonly group: string | null;
}
/** One value of one plan over time, with its chart. */
export interface TrendGroup {
  readonly name: string;
  readonly unit: string;
  /** Oldest first. */
  readonly points: readonly TrendPoint[];
  readonly mean: number;
  /** Limits of chance from the values before the latest; null while they are too few. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly signals: readonly TrendSignal[];
}
export type TrendSignal = "outside" | "two-of-three" | "four-of-five" | "run";

/** The rules of a chart in words. */
export const SIGNAL_WORDS: Readonly<Record<TrendSignal, string>> = {
  outside: "the latest lies outside the limits",
  "two-of-three": "two of the latest three lie near one limit",
  "four-of-five": "four of the latest five lie well on one side",
  run: "eight in a row lie on one side",
};
