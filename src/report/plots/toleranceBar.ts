import type { ReportCharacteristic } from "../../model/setupReport.ts";
import { quantity } from "../format.ts";
import type { PageContext } from "../pageContext.ts";
import type { ResultPlotKind } from "./contract.ts";
import { INK } from "./drawing.ts";
import { element, pathOf, picture, px } from "./svg.ts";

const SIZE = { width: 120, height: 22 } as const;
const BOX = { left: 4, right: 116, top: 3, bottom: 19, middle: 11 } as const;
const GUARD = "#c5ced4";
/** A value further away than this many tolerance widths is an arrow at the edge. */
const FARTHEST = 1.5;

/** One characteristic against its limits: guard band, value with its uncertainty, value as found. */
export const toleranceBar: ResultPlotKind = {
  name: "tolerance-bar",
  draw: (entry, page) => {
    const zone = zoneOf(entry);
    if (entry.value === null || zone === null) return null;
    const { rule, guard } = page.report.decision;
    const band = rule === "guarded" ? guard * (entry.uncertainty ?? 0) : 0;
    const scale = scaleOf(entry, zone, band);
    const svg = picture(
      SIZE,
      labelOf(entry, page),
      element("rect", {
        x: scale(zone.low),
        y: BOX.top,
        width: scale(zone.high) - scale(zone.low),
        height: BOX.bottom - BOX.top,
        fill: "#fff",
        stroke: "#8d979e",
        "stroke-width": 0.6,
        class: "inside",
      }),
      ...limitsOf(entry).map((limit) => guardBand({ limit, band }, zone, scale)),
      ...limitsOf(entry).map((limit) =>
        element("path", {
          d: `M${px(scale(limit))} ${BOX.top - 2}V${BOX.bottom + 2}`,
          stroke: INK,
          "stroke-width": 2.4,
          class: "limit",
        }),
      ),
      spread(entry, scale),
      entry.asFound === null ? "" : spot(entry.asFound, scale, "found"),
      spot(entry.value, scale, "value"),
    );
    return { svg, caption: labelOf(entry, page) };
  },
};

interface Zone {
  readonly low: number;
  readonly high: number;
}
type Scale = (value: number) => number;

/** Between the limits; from zero where there is only an upper one. */
function zoneOf({ limits: { lower, upper } }: ReportCharacteristic): Zone | null {
  if (lower !== null && upper !== null) return upper > lower ? { low: lower, high: upper } : null;
  if (upper !== null) return upper > 0 ? { low: 0, high: upper } : null;
  if (lower !== null) return lower < 0 ? { low: lower, high: 0 } : null;
  return null;
}

const limitsOf = ({ limits: { lower, upper } }: ReportCharacteristic): readonly number[] =>
  [lower, upper].filter((limit) => limit !== null);

/** Wide enough for the value, its uncertainty, the guard band and the value as found, as long as these are not far away. */
function scaleOf(
  { value, asFound, uncertainty }: ReportCharacteristic,
  { low, high }: Zone,
  band: number,
): Scale {
  const width = high - low;
  const margin = Math.max(0.12 * width, band);
  const spread = uncertainty ?? 0;
  const all = [value, asFound].flatMap((one) => (one === null ? [] : [one - spread, one + spread]));
  const from = Math.max(Math.min(low - margin, ...all), low - FARTHEST * width);
  const to = Math.min(Math.max(high + margin, ...all), high + FARTHEST * width);
  const perUnit = (BOX.right - BOX.left) / (to - from);
  return (one) => Math.min(BOX.right, Math.max(BOX.left, BOX.left + (one - from) * perUnit));
}

interface Guard {
  readonly limit: number;
  readonly band: number;
}
/** The band on both sides of a limit in which nothing is decided. */
function guardBand({ limit, band }: Guard, { low, high }: Zone, scale: Scale): string {
  if (!(band > 0)) return "";
  const width = high - low;
  const [from, to] = [limit - band, limit + band].map((edge) =>
    Math.min(high + FARTHEST * width, Math.max(low - FARTHEST * width, edge)),
  ) as [number, number];
  return element("rect", {
    x: scale(from),
    y: BOX.top,
    width: scale(to) - scale(from),
    height: BOX.bottom - BOX.top,
    fill: GUARD,
    class: "guard",
  });
}

function spread({ value, uncertainty }: ReportCharacteristic, scale: Scale): string {
  if (value === null || uncertainty === null) return "";
  const [from, to] = [scale(value - uncertainty), scale(value + uncertainty)];
  const { middle } = BOX;
  return element("path", {
    d: `M${px(from)} ${middle - 3.5}v7M${px(from)} ${middle}H${px(to)}M${px(to)} ${middle - 3.5}v7`,
    stroke: INK,
    "stroke-width": 1.2,
    fill: "none",
    class: "spread",
  });
}

/** A dot, or an arrow at the edge for a value beyond it. */
function spot(value: number, scale: Scale, name: "value" | "found"): string {
  const [x, y] = [scale(value), BOX.middle];
  const look = { fill: name === "value" ? INK : "#fff", stroke: INK, "stroke-width": 1.2, class: name };
  const beyond = x <= BOX.left ? -1 : x >= BOX.right ? 1 : 0;
  if (beyond === 0) return element("circle", { cx: x, cy: y, r: name === "value" ? 3 : 3.4, ...look });
  const head: [number, number][] = [
    [x + 2 * beyond, y],
    [x - 6 * beyond, y - 5],
    [x - 6 * beyond, y + 5],
  ];
  return element("path", { d: pathOf(head, true), ...look });
}

function labelOf(entry: ReportCharacteristic, page: PageContext): string {
  const text = (value: number): string => {
    const shown = quantity(value, entry.unit, page.style, { uncertainty: entry.uncertainty });
    return shown.number + shown.unit;
  };
  const { plots, results, verdicts } = page.texts;
  const { lower, upper } = entry.limits;
  const limits = [
    lower === null ? "" : `${results.min} ${text(lower)}`,
    upper === null ? "" : `${results.max} ${text(upper)}`,
  ];
  return page.text(plots.toleranceLabel, {
    name: page.name(entry.id),
    value: text(entry.value ?? 0),
    limits: limits.filter((one) => one !== "").join(", "),
    verdict: verdicts[entry.verdict],
  });
}
