import type { ReportCorrection } from "../../model/setupReport.ts";
import { own, type PageContext } from "../pageContext.ts";
import type { CorrectionPlotKind } from "./contract.ts";
import { INK, nameAt, scaleBar, stroke } from "./drawing.ts";
import { deviationText, niceBelow, niceLengthBelow, roundLength, slopeText } from "./scales.ts";
import { element, label, picture, px } from "./svg.ts";

const WIDTH = 400;
const ROW = 38;
const BOX = { left: 112, right: 392, top: 24 } as const;
const MOST_ROWS = 30;

/** What was corrected, as found and as left about zero, each unit to one scale. */
export const foundAndLeft: CorrectionPlotKind = {
  name: "found-and-left",
  draw: (all, page) => {
    const groups = (["slope", "mm"] as const)
      .map((unit) => all.filter((entry) => entry.unit === unit).slice(0, MOST_ROWS))
      .filter((entries) => entries.length > 0 && largestOf(entries) > 0);
    if (groups.length === 0) return null;
    let top = 0;
    const drawn = groups.map((entries) => {
      const group = groupAt(top, entries, page);
      top += BOX.top + ROW * entries.length + 20;
      return group;
    });
    const { plots } = page.texts;
    const svg = picture({ width: WIDTH, height: top }, plots.foundLeftLabel, ...drawn);
    return { svg, caption: plots.foundLeftCaption };
  },
};

const largestOf = (entries: readonly ReportCorrection[]): number =>
  entries.reduce((most, { asFound, asLeft }) => Math.max(most, Math.abs(asFound), Math.abs(asLeft)), 0);

function groupAt(top: number, entries: readonly ReportCorrection[], page: PageContext): string {
  const pxPerUnit = ((BOX.right - BOX.left) / 2 - 26) / largestOf(entries);
  const middle = (BOX.left + BOX.right) / 2;
  const bottom = top + BOX.top + ROW * entries.length - 16;
  const x = (value: number): number => middle + value * pxPerUnit;
  const zero = stroke([middle, top + 8], [middle, bottom], { "stroke-width": 1.6, class: "zero" });
  const rows = entries.map((entry, index) => rowAt(top + BOX.top + ROW * index, entry, x, page));
  return zero + rows.join("") + bar(bottom + 16, pxPerUnit, entries[0]?.unit ?? "mm", page);
}

function rowAt(y: number, entry: ReportCorrection, x: (value: number) => number, page: PageContext): string {
  const [from, to] = [x(entry.asFound), x(entry.asLeft)];
  const what = own<string>(page.texts.adviceValues, entry.quantity) ?? page.name(entry.quantity);
  const dot = (cx: number, filled: boolean): string =>
    element("circle", {
      cx,
      cy: y,
      r: 4.5,
      fill: filled ? INK : "#fff",
      stroke: INK,
      "stroke-width": 1.4,
      class: filled ? "left" : "found",
    });
  return [
    stroke([BOX.left, y], [BOX.right, y], { stroke: "#c5ced4", "stroke-width": 0.7 }),
    label(2, y - 3, page.name(entry.feature, { most: 16 }), { class: "strong" }),
    ...linesOf(what).map((line, index) => label(2, y + 10 + 12 * index, line)),
    stroke([from, y], [to, y], { "stroke-width": 1.6, class: "made" }),
    head(from, to, y),
    dot(from, false),
    dot(to, true),
    nameAt(within(from), y - 9, shownValue(entry.asFound, entry, page)),
    nameAt(within(to), y + 18, shownValue(entry.asLeft, entry, page), true),
  ].join("");
}

/** Numbers at the edge stay on the sheet. */
const within = (x: number): number => Math.min(WIDTH - 44, Math.max(BOX.left + 30, x));

/** What stands in brackets goes below. */
const linesOf = (what: string): readonly string[] => what.split(/ (?=\()/).slice(0, 2);

/** Half way along, so that the dots stay readable. */
function head(from: number, to: number, y: number): string {
  const way = Math.sign(to - from);
  if (Math.abs(to - from) < 26) return "";
  const tip = (from + to) / 2 + 4 * way;
  return element("path", { d: `M${px(tip)} ${px(y)}l${-8 * way} -4v8Z`, fill: INK, class: "way" });
}

const shownValue = (value: number, { unit }: ReportCorrection, page: PageContext): string =>
  unit === "slope" ? slopeText(value, page) : deviationText(value, page);

function bar(y: number, pxPerUnit: number, unit: "mm" | "slope", page: PageContext): string {
  const length = unit === "slope" ? niceBelow(80 / pxPerUnit) : niceLengthBelow(80 / pxPerUnit, page);
  const text = unit === "slope" ? slopeText(length, page).replace("+", "") : roundLength(length, page);
  return scaleBar({ left: BOX.left, y, length: length * pxPerUnit, text });
}
