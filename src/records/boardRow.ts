import type { BoardEntry, BoardRow } from "../model/board.ts";
import { CORRECTABLE, entryWords, type ReportEntry, SETUP_KEYS } from "../model/entry.ts";
import { REPORT_SCHEMA, type ReportCharacteristic, type SetupReport } from "../model/setupReport.ts";

const VERDICTS = ["pass", "fail", "undecided", "missing"] as const;

/** What of a row comes from the report itself and never changes. */
export type ReportCells = Omit<BoardRow, "newer" | "when" | "pages" | "record" | "entries">;

/** The cells of a stored report; null for text that is no setup report. Nothing in it is trusted to have its type. */
export function cellsOf(text: string, name: string, size: number): ReportCells | null {
  let report: Partial<SetupReport> | null;
  try {
    report = JSON.parse(text) as Partial<SetupReport> | null;
  } catch {
    return null;
  }
  const verdict = VERDICTS.find((one) => one === report?.verdict);
  const stamp = report?.report;
  if (
    report?.schema !== REPORT_SCHEMA ||
    verdict === undefined ||
    Number.isNaN(Date.parse(stamp?.issued ?? ""))
  )
    return null;
  const count = (one: (typeof VERDICTS)[number]): number => Number(report.counts?.[one] ?? 0) || 0;
  const header = SETUP_KEYS.map((key) => [key, words(report.setup?.[key])]);
  const tight = tightest(Array.isArray(report.characteristics) ? report.characteristics : []);
  return {
    name,
    size,
    id: words(stamp?.id),
    revision: Number(stamp?.revision) || 1,
    issued: words(stamp?.issued),
    verdict,
    pass: count("pass"),
    fail: count("fail"),
    undecided: count("undecided"),
    missing: count("missing"),
    title: words(report.plan?.title),
    plan: words(report.plan?.name),
    ...(Object.fromEntries(header) as Pick<ReportCells, (typeof SETUP_KEYS)[number]>),
    ...tight,
  };
}
const words = (value: unknown): string =>
  typeof value === "string" || typeof value === "number" ? String(value) : "";

/** The largest share of its tolerance that any result uses. */
function tightest(all: readonly ReportCharacteristic[]): { used: number | null; tightest: string } {
  let found: { used: number | null; tightest: string } = { used: null, tightest: "" };
  for (const entry of all) {
    const used = shareOf(entry);
    // Four digits are plenty for a picture a few letters wide.
    if (used !== null && used > (found.used ?? -1))
      found = { used: Math.round(used * 1e4) / 1e4, tightest: words(entry.id) };
  }
  return found;
}
function shareOf({ value, limits }: ReportCharacteristic): number | null {
  const { lower, upper } = limits ?? {};
  if (typeof value !== "number" || typeof upper !== "number") return null;
  if (typeof lower !== "number") return upper > 0 ? Math.max(0, value / upper) : null;
  const half = (upper - lower) / 2;
  return half > 0 ? Math.abs(value - (upper + lower) / 2) / half : null;
}

export const boardEntry = (entry: ReportEntry): BoardEntry => ({
  kind: entry.kind,
  words: entryWords(entry),
  who: entry.who,
  made: entry.made,
  why: entry.why,
  corrected: Object.fromEntries(
    Object.entries(entry.corrected).filter(([key]) => (CORRECTABLE as readonly string[]).includes(key)),
  ),
});
