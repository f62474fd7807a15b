import Handlebars from "handlebars";
import type { Language } from "../model/language.ts";
import { fill, valueText } from "../model/say.ts";
import type { TrendGroup } from "../model/trend.ts";
import { REPORT_FILES, type ReportAssets } from "./assets.ts";
import { cleanText } from "./cleanText.ts";
import { fontFaces } from "./fontFaces.ts";
import { type NumberStyle, type Quantity, quantity, slope } from "./format.ts";
import { TEXTS } from "./texts/index.ts";
import { trendChart } from "./trendChart.ts";

export interface TrendPageOptions {
  readonly assets: ReportAssets;
  /** Text of `trend.hbs`. */
  readonly template: string;
  readonly show: "mm" | "in";
  /** Language of the page; English where none is said. */
  readonly language?: Language;
}
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:";

/** As many decimals for every value of a trend, one more than on a report: what drifts does so in the last place. */
const DECIMALS = { mm: 4, in: 5 } as const;

/** A value with its unit as the shop reads it, with the same decimals for each of a trend. */
export function trendText(value: number, unit: string, style: NumberStyle, { signed = false } = {}): string {
  if (unit === "slope") return joined(slope(value, style));
  if (unit === "mm") return joined(quantity(value, "mm", style, { signed, decimals: DECIMALS[style.show] }));
  if (unit === "deg") return joined(quantity(value, "deg", style, { signed }));
  return valueText({ value, unit, digits: 7 }, style);
}
const joined = ({ number, unit }: Quantity): string => `${number}${unit}`;

/** Trends as one HTML page without script: a chart and its table for each. */
export function renderTrend(id: string, groups: readonly TrendGroup[], options: TrendPageOptions): string {
  const { show, assets } = options;
  const texts = TEXTS[options.language ?? "en"];
  const { trend: t, signals, tooFew, trendRules } = texts.shop;
  const numbers: NumberStyle = { show, decimal: texts.decimal === "," ? "," : "." };
  const worded = (template: string, values: Readonly<Record<string, string>>): string =>
    fill(template, values, numbers);
  const view = {
    language: texts.language,
    t,
    title: cleanText(worded(t.title, { id })),
    policy: POLICY,
    rules: trendRules,
    groups: groups.map((group) => {
      const text = (value: number): string => trendText(value, group.unit, numbers);
      return {
        name: cleanText(group.name),
        chart: trendChart(group, text, t.chart),
        signals: group.signals.map((signal) => signals[signal]).join("; "),
        limits: worded(t.mean, {
          mean: text(group.mean),
          limits:
            group.lower === null || group.upper === null
              ? tooFew
              : worded(t.limits, { lower: text(group.lower), upper: text(group.upper) }),
        }),
        rows: group.points.toReversed().map((point, i, newestFirst) => ({
          issued: point.issued,
          report: cleanText(`${point.report} r${point.revision}`),
          value: text(point.value),
          change:
            newestFirst[i + 1] === undefined
              ? ""
              : trendText(point.value - (newestFirst[i + 1]?.value ?? 0), point.unit, numbers, {
                  signed: true,
                }),
          uncertainty: point.uncertainty === null ? "\u2013" : text(point.uncertainty),
          verdict: point.verdict === null ? "" : texts.verdicts[point.verdict],
        })),
      };
    }),
  };
  const style = [
    fontFaces(assets.fonts, JSON.stringify(view)),
    ...REPORT_FILES.styles.map((file) => assets.styles[file] ?? ""),
  ].join("\n");
  const handlebars = Handlebars.create();
  return handlebars.compile(options.template, { strict: true, knownHelpersOnly: true, preventIndent: true })({
    ...view,
    style,
  });
}
