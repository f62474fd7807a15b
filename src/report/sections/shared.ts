import type { Rounding } from "../../model/decimals.ts";
import type { Move, ReportAdvice, ReportCharacteristic, Unit, Verdict } from "../../model/setupReport.ts";
import { aligned, type Quantity, type QuantityOptions, quantity } from "../format.ts";
import { own, type PageContext } from "../pageContext.ts";
import type { View } from "./contract.ts";

/** A verdict's key for its shape and its word for the reader. */
export const verdictView = (verdict: Verdict, page: PageContext): { verdict: Verdict; word: string } => ({
  verdict,
  word: page.texts.verdicts[verdict],
});

/** A quantity as one text, the second unit in brackets where there is one. */
export const quantityText = ({ number, unit, also }: Quantity): string =>
  number + unit + (also === null ? "" : ` (${also.number}${also.unit})`);

export function lengthText(
  mm: number | null | undefined,
  page: PageContext,
  options?: QuantityOptions,
): string | null {
  return mm === null || mm === undefined ? null : quantityText(quantity(mm, "mm", page.style, options));
}

/** A limit with the digits it was given with. */
export const limitText = (limit: number, unit: Unit, page: PageContext): string =>
  quantityText(quantity(limit, unit, page.style, { as: "limit" }));

/** Limits in words that stay together: `max 0.012 mm`, or `239.950 mm to` and `240.050 mm`. */
export function limitsParts(
  limits: ReportCharacteristic["limits"],
  unit: Unit,
  page: PageContext,
): readonly string[] {
  const { max, min, to, noLimit } = page.texts.results;
  const { lower, upper } = limits;
  if (lower !== null && upper !== null) {
    return [`${limitText(lower, unit, page)} ${to}`, limitText(upper, unit, page)];
  }
  if (upper !== null) return [`${max} ${limitText(upper, unit, page)}`];
  return [lower === null ? noLimit : `${min} ${limitText(lower, unit, page)}`];
}

/** A characteristic's value with the digits that its uncertainty allows and its limits ask for. */
export function shownValue(
  entry: ReportCharacteristic,
  page: PageContext,
  value = entry.value,
): Quantity | null {
  if (value === null) return null;
  return quantity(value, entry.unit, page.style, roundingOf(entry));
}

/** What decides the digits of a characteristic's value. */
export const roundingOf = ({ uncertainty, limits }: ReportCharacteristic): Rounding => ({
  uncertainty,
  beside: [limits.lower, limits.upper],
});

/** Columns of quantities, each aligned on its decimal mark; the rest of the row stays. */
export function alignColumns<Row extends Readonly<Record<string, unknown>>, Key extends keyof Row & string>(
  rows: readonly Row[],
  keys: readonly Key[],
): readonly Row[] {
  const columns = keys.map(
    (key) => [key, aligned(rows as readonly (Row & Record<Key, Quantity | null>)[], key)] as const,
  );
  return rows.map((row, index) => ({
    ...row,
    ...Object.fromEntries(columns.map(([key, cells]) => [key, cells[index] ?? null])),
  }));
}

/** A quantity as the partial takes it. */
export const quantityView = (value: Quantity | null): View =>
  value && { ...value, also: value.also && { ...value.also } };

/** The features an entry names, for a reader. */
export function namesOf(of: ReportAdvice["of"], page: PageContext): string {
  if (of === null) return "";
  if (typeof of === "string") return page.name(of);
  if (Array.isArray(of)) return of.map((name: string) => page.name(name)).join(", ");
  return Object.entries(of as Readonly<Record<string, string>>)
    .map(([key, name]) => `${page.name(key)}: ${page.name(name)}`)
    .join(", ");
}

/** The features an entry names, as a list. */
export function featuresOf(of: ReportAdvice["of"]): readonly string[] {
  if (of === null) return [];
  return typeof of === "string" ? [of] : Object.values(of);
}

export const kindWord = (kind: string, page: PageContext): string =>
  own<string>(page.texts.kinds, kind) ?? page.name(kind);
export const adviceWord = (kind: string, page: PageContext): string =>
  own<string>(page.texts.adviceKinds, kind) ?? page.name(kind);

/** The first `most` of a list, and a line that says how many more there are. */
export function firstOf<T>(
  all: readonly T[],
  most: number,
  page: PageContext,
): { readonly shown: readonly T[]; readonly more: string | null } {
  const left = all.length - most;
  if (left <= 0) return { shown: all, more: null };
  return { shown: all.slice(0, most), more: page.text(page.texts.more, { count: String(left) }) };
}
/** What a move moves: a name of the plan, or the advice's own word for it. */
export const movedName = ({ kind }: ReportAdvice, { at }: Move, page: PageContext): string =>
  own(own<Readonly<Record<string, string>>>(page.texts.moved, kind), at) ?? page.name(at);
