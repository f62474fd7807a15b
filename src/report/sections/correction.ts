import type { ReportCharacteristic, ReportCorrection } from "../../model/setupReport.ts";
import { plainNumber, type Quantity, quantity, slope } from "../format.ts";
import { own, type PageContext } from "../pageContext.ts";
import { plotCorrections } from "../plots/index.ts";
import type { Section, View } from "./contract.ts";
import { alignColumns, kindWord, namesOf, quantityText, quantityView, shownValue } from "./shared.ts";

/** Before, what was moved, and after, in one table: first what was corrected, then the characteristics that it changed. */
export const correction: Section = {
  name: "correction",
  heading: (page) => page.texts.correction.heading,
  view: (page) => {
    const { report, texts } = page;
    const measuredBefore = report.characteristics.filter(
      (entry) => entry.asFound !== null || (entry.state === "as-found" && entry.value !== null),
    );
    // Slopes and lengths are aligned each among themselves.
    const rows = [
      ...lined((report.corrections ?? []).map((entry) => correctedRow(entry, page))),
      ...lined(measuredBefore.map((entry) => characteristicRow(entry, page))),
    ];
    return {
      text: texts.correction,
      plot: plotOf(page),
      empty: rows.length === 0 ? texts.correction.empty : null,
      rows: rows.map((row) => ({
        ...row,
        asFound: quantityView(row.asFound),
        made: quantityView(row.made),
        asLeft: quantityView(row.asLeft),
      })),
    };
  },
};

function plotOf(page: PageContext): View {
  const plot = plotCorrections(page.report.corrections ?? [], page);
  return plot && { svg: plot.svg, caption: plot.caption };
}

const lined = (rows: readonly Row[]): readonly Row[] => alignColumns(rows, ["asFound", "made", "asLeft"]);

type Row = {
  readonly asFound: Quantity | null;
  readonly made: Quantity | null;
  readonly asLeft: Quantity | null;
  readonly [key: string]: View | Quantity | null;
};

function correctedRow(entry: ReportCorrection, page: PageContext): Row {
  const shown = (value: number): Quantity =>
    entry.unit === "slope" ? slope(value, page.style) : quantity(value, "mm", page.style, { signed: true });
  return {
    id: page.name(entry.feature),
    what: own<string>(page.texts.adviceValues, entry.quantity) ?? page.name(entry.quantity),
    asFound: shown(entry.asFound),
    made: shown(entry.made),
    wanted: page.text(page.texts.correction.wanted, { amount: quantityText(shown(entry.wanted)) }),
    asLeft: shown(entry.asLeft),
    ratio: entry.ratio === null ? null : plainNumber(entry.ratio, 2, page.style),
    because: page.say(entry.because),
  };
}

/** A form or a size is not moved by a correction: only before and after are shown. */
function characteristicRow(entry: ReportCharacteristic, page: PageContext): Row {
  const onlyFound = entry.asFound === null;
  return {
    id: page.name(entry.id),
    what: `${kindWord(entry.kind, page)}, ${namesOf(entry.of, page)}`,
    asFound: shownValue(entry, page, onlyFound ? entry.value : entry.asFound),
    made: null,
    wanted: null,
    asLeft: onlyFound ? null : shownValue(entry, page),
    ratio: null,
    because: null,
  };
}
