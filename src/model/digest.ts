import type { Verdict } from "./setupReport.ts";

export const DIGEST_SCHEMA = "plinth.digest/1";

/** What one day brought, and what the shop should look at. Lengths in mm. */
export interface Digest {
  readonly schema: typeof DIGEST_SCHEMA;
  /** The day in `zone`, YYYY-MM-DD. */
  readonly date: string;
  readonly zone: string;
  readonly shop: string | null;
  readonly counts: Readonly<Record<Verdict, number>>;
  /** Newest revision of each setup that was issued this day: fail, missing, undecided, pass. */
  readonly reports: readonly DigestReport[];
  readonly gauges: readonly DigestGauge[];
  /** Values that the shop follows from night to night. */
  readonly trends: readonly DigestTrend[];
  /** Results of this day that chance does not explain beside the earlier ones of the same plan and machine. */
  readonly drift: readonly DigestDrift[];
  /** What quality said on this day. */
  readonly entries: readonly DigestEntry[];
  /** Setups whose verdict differs from their last revision of an earlier day. */
  readonly changes: readonly { readonly id: string; readonly from: Verdict; readonly to: Verdict }[];
}
export interface DigestReport {
  readonly id: string;
  readonly revision: number;
  readonly verdict: Verdict;
  readonly title: string;
  readonly issued: string;
  readonly job: string | null;
  readonly operation: string | null;
  readonly machine: string | null;
  readonly pallet: string | null;
  readonly counts: Readonly<Record<Verdict, number>>;
  /** What quality said of it up to now, in words; a header is given as corrected. */
  readonly entries: readonly string[];
  /** Path below the workspace without ending, with `/`. */
  readonly base: string;
}
export interface DigestGauge {
  readonly name: string;
  readonly due: string;
  /** Days from the digest's day to the due day; below zero it is overdue. */
  readonly days: number;
}
export interface DigestTrend {
  readonly of: string;
  readonly quantity: string;
  readonly machine: string | null;
  readonly unit: string;
  readonly count: number;
  readonly latest: number;
  readonly mean: number;
  readonly lower: number | null;
  readonly upper: number | null;
  /** Rules of the chart that the latest value breaks. */
  readonly signals: readonly ("outside" | "two-of-three" | "four-of-five" | "run")[];
}
export interface DigestDrift extends Omit<DigestTrend, "of" | "quantity"> {
  readonly report: string;
  readonly characteristic: string;
}
export interface DigestEntry {
  readonly report: string;
  readonly revision: number;
  readonly words: string;
  readonly who: string;
  readonly made: string;
  readonly why: string;
}
