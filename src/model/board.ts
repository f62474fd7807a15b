import type { Verdict } from "./setupReport.ts";

export const BOARD_SCHEMA = "plinth.board/1";
/** Rows in one data file: few enough to come quickly, many enough that 20 000 reports are 20 files. */
export const ROWS_PER_PAGE = 1000;

/** One revision of a report as the board shows it. */
export interface BoardRow {
  /** File name without ending. */
  readonly name: string;
  /** Bytes of the JSON, by which a row is known to be up to date. */
  readonly size: number;
  readonly id: string;
  readonly revision: number;
  /** The revision that replaced it; 0 for the newest. */
  readonly newer: number;
  readonly issued: string;
  /** `YYYY-MM-DD HH:MM` in the board's zone. */
  readonly when: string;
  readonly verdict: Verdict;
  readonly pass: number;
  readonly fail: number;
  readonly undecided: number;
  readonly missing: number;
  readonly title: string;
  readonly plan: string;
  readonly job: string;
  readonly operation: string;
  readonly setup: string;
  readonly machine: string;
  readonly pallet: string;
  readonly fixture: string;
  readonly part: string;
  readonly serial: string;
  readonly operator: string;
  /** Share of its tolerance that the tightest result uses, 1 at the limit; null where nothing has a limit. */
  readonly used: number | null;
  /** The characteristic that uses it. */
  readonly tightest: string;
  /** Endings of the pages that are there. */
  readonly pages: readonly string[];
  /** Folder below `records` where it is attached or spoken of, or empty. */
  readonly record: string;
  readonly entries: readonly BoardEntry[];
}
export interface BoardEntry {
  readonly kind: string;
  readonly words: string;
  readonly who: string;
  readonly made: string;
  readonly why: string;
  readonly corrected: Readonly<Record<string, string>>;
}
export interface Board {
  readonly shop: string | null;
  readonly zone: string;
  /** Oldest first. */
  readonly rows: readonly BoardRow[];
  /** Days of the newest digests, newest first. */
  readonly digests: readonly string[];
  /** Files that look like reports and could not be read. */
  readonly unreadable: readonly string[];
}
