import { decimalsFor } from "../../model/decimals.ts";
import type { ReportCharacteristic } from "../../model/setupReport.ts";
import { percent, plainNumber, type Quantity, quantity } from "../format.ts";
import type { PageContext } from "../pageContext.ts";
import { plotResult } from "../plots/index.ts";
import type { Section, View } from "./contract.ts";
import { laterWays } from "./open.ts";
import { type BesideRow, resultNotes } from "./resultNotes.ts";
import {
  alignColumns,
  kindWord,
  limitsParts,
  limitText,
  namesOf,
  quantityView,
  roundingOf,
  shownValue,
  verdictView,
} from "./shared.ts";

/** Every characteristic with its limits, value, uncertainty, verdict and reason. */
export const results: Section = {
  name: "results",
  heading: (page) => page.texts.results.heading,
  view: (page) => {
    const { report, texts } = page;
    const { notes, rows: beside } = resultNotes(page);
    const rows = report.characteristics.map((entry, index) => rowOf(entry, beside[index], page));
    const ready = alignColumns(rows, ["value", "uncertainty", "margin"]);
    return {
      text: texts.results,
      empty: rows.length === 0 ? texts.results.empty : null,
      rows: ready.map((row) => ({
        ...row,
        value: quantityView(row.value),
        uncertainty: quantityView(row.uncertainty),
        margin: quantityView(row.margin),
      })),
      legend: page.text(texts.results.legend, { coverage: coverageText(report.decision.coverage, page) }),
      noValue: texts.noValue,
      notes,
    };
  },
};

interface Row {
  readonly value: Quantity | null;
  readonly uncertainty: Quantity | null;
  readonly margin: Quantity | null;
  readonly [key: string]: View | Quantity | null;
}

function rowOf(entry: ReportCharacteristic, beside: BesideRow | undefined, page: PageContext): Row {
  const { report, texts, style } = page;
  const bar = plotResult(entry, page);
  const ownCoverage = entry.coverage !== null && Math.abs(entry.coverage - report.decision.coverage) > 0.005;
  const details = [
    entry.conformance === null
      ? null
      : page.text(texts.results.conformance, { share: percent(entry.conformance, style) }),
    ownCoverage ? `k = ${coverageText(entry.coverage ?? 2, page)}` : null,
    ...(beside?.own ?? []),
    ...laterWays(entry, report).map((text) => `${texts.open.decide} ${page.say(text)}`),
  ].filter((text) => text !== null && text !== "");
  return {
    id: page.name(entry.id),
    kind: kindWord(entry.kind, page),
    of: namesOf(entry.of, page) + (entry.to === null ? "" : ` ${texts.results.datum} ${page.name(entry.to)}`),
    limits: limitsParts(entry.limits, entry.unit, page),
    nominal:
      entry.nominal === null
        ? null
        : `${texts.results.nominal} ${limitText(entry.nominal, entry.unit, page)}`,
    value: shownValue(entry, page),
    uncertainty: uncertaintyOf(entry, page),
    margin: marginOf(entry, page),
    points: entry.points,
    mark: verdictView(entry.verdict, page),
    because: page.say(entry.because),
    details: details.map((text) => text ?? ""),
    notes: beside === undefined || beside.numbers.length === 0 ? null : beside.numbers.join(", "),
    bar: bar && { ...bar },
  };
}

function uncertaintyOf(entry: ReportCharacteristic, page: PageContext): Quantity | null {
  if (entry.uncertainty === null) return null;
  return quantity(entry.uncertainty, entry.unit, page.style, { as: "uncertainty" });
}

/** The distance of the value to the nearer limit; negative outside. */
function marginOf(entry: ReportCharacteristic, page: PageContext): Quantity | null {
  const { value, limits } = entry;
  if (value === null || (limits.lower === null && limits.upper === null)) return null;
  const margin = Math.min(
    limits.upper === null ? Number.POSITIVE_INFINITY : limits.upper - value,
    limits.lower === null ? Number.POSITIVE_INFINITY : value - limits.lower,
  );
  return quantity(margin, entry.unit, page.style, {
    decimals: (shown) => decimalsFor(value, roundingOf(entry), shown),
    signed: true,
  });
}

const coverageText = (coverage: number, page: PageContext): string =>
  Number.isInteger(coverage) ? String(coverage) : plainNumber(coverage, 2, page.style);
