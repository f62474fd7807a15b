import type { Move, ReportCharacteristic } from "../../model/setupReport.ts";
import { plainNumber, type Quantity, quantity } from "../format.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section } from "./contract.ts";
import {
  alignColumns,
  featuresOf,
  kindWord,
  namesOf,
  quantityText,
  quantityView,
  shownValue,
} from "./shared.ts";

/** Before, what was to be moved, and after, in one table. */
export const correction: Section = {
  name: "correction",
  heading: (page) => page.texts.correction.heading,
  view: (page) => {
    const { report, texts } = page;
    const entries = report.characteristics.filter(
      (entry) => entry.asFound !== null || (entry.state === "as-found" && entry.value !== null),
    );
    const rows = entries.map((entry) => ({
      id: page.name(entry.id),
      what: `${kindWord(entry.kind, page)}, ${namesOf(entry.of, page)}`,
      ...states(entry, page),
      moves: movesFor(entry, page),
      ratio: ratioOf(entry, page),
    }));
    return {
      text: texts.correction,
      empty: rows.length === 0 ? texts.correction.empty : null,
      rows: alignColumns(rows, ["asFound", "asLeft"]).map((row) => ({
        ...row,
        asFound: quantityView(row.asFound),
        asLeft: quantityView(row.asLeft),
      })),
    };
  },
};

function states(
  entry: ReportCharacteristic,
  page: PageContext,
): { readonly asFound: Quantity | null; readonly asLeft: Quantity | null } {
  const onlyFound = entry.asFound === null && entry.state === "as-found";
  return {
    asFound: shownValue(entry, page, onlyFound ? entry.value : entry.asFound),
    asLeft: onlyFound ? null : shownValue(entry, page),
  };
}

function movesFor(entry: ReportCharacteristic, page: PageContext): readonly string[] {
  const features = new Set(featuresOf(entry.of));
  return page.report.advice
    .filter((advice) => featuresOf(advice.of).some((feature) => features.has(feature)))
    .flatMap((advice) => advice.moves.map((move) => moveText(move, page)));
}

function moveText(move: Move, page: PageContext): string {
  const amount = quantityText(quantity(move.amount, move.unit, page.style, { signed: true }));
  const along = move.along.length === 1 ? move.along.toUpperCase() : move.along;
  return `${page.name(move.at)}: ${page.name(along)} ${amount}`;
}

function ratioOf(entry: ReportCharacteristic, page: PageContext): string | null {
  if (entry.asFound === null || entry.asFound === 0 || entry.value === null) return null;
  return plainNumber(entry.value / entry.asFound, 2, page.style);
}
