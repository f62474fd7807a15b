/** What quality adds to a report: never an edit, always a further entry with who, when and why. */
export type EntryKind = "disposition" | "correction" | "void";

/** What is decided about a result that is not a pass. */
export const DECISIONS = ["use-as-is", "rework", "measure-again", "scrap"] as const;
export type Decision = (typeof DECISIONS)[number];

export interface ReportEntry {
  /** The same words about the same report have the same id: said twice, it is noted once. */
  readonly id: string;
  readonly report: string;
  readonly revision: number;
  readonly kind: EntryKind;
  /** Characteristic or sign-off that a disposition is about; null: the report as a whole. */
  readonly characteristic: string | null;
  readonly who: string;
  /** ISO 8601. */
  readonly made: string;
  readonly why: string;
  readonly decision: Decision | null;
  /** Header key -> its right value, of a correction. */
  readonly corrected: Readonly<Record<string, string>>;
}

/** Header keys that a setup is known by. */
export const SETUP_KEYS = [
  "job",
  "operation",
  "setup",
  "machine",
  "pallet",
  "fixture",
  "part",
  "serial",
  "operator",
] as const;
/** Header keys whose value may be corrected: what a setup is known by, never what changes a number. */
export const CORRECTABLE = [...SETUP_KEYS, "note"] as const;

/** A header as it reads after the corrections among `entries`, the later ones winning. */
export function correctedHeader<Header extends Readonly<Record<string, string | null>>>(
  header: Header,
  entries: readonly ReportEntry[],
): Header {
  const known = entries.flatMap(({ corrected }) =>
    Object.entries(corrected).filter(([key]) => Object.hasOwn(header, key)),
  );
  return { ...header, ...Object.fromEntries(known) };
}

/** One entry in words, without its reason. */
export function entryWords({ kind, decision, characteristic, corrected }: ReportEntry): string {
  if (kind === "void") return "void";
  if (kind === "disposition")
    return `disposition: ${decision ?? ""}${characteristic === null ? "" : ` (${characteristic})`}`;
  return `correction: ${Object.entries(corrected)
    .map(([key, value]) => `${key} is ${value}`)
    .join(", ")}`;
}
