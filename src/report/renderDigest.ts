import Handlebars from "handlebars";
import type { Digest, DigestTrend } from "../model/digest.ts";
import { valueText } from "../model/say.ts";
import { CHART_RULES, SIGNAL_WORDS } from "../model/trend.ts";
import { REPORT_FILES, type ReportAssets } from "./assets.ts";
import { cleanText } from "./cleanText.ts";
import { csvText } from "./csv.ts";
import { fontFaces } from "./fontFaces.ts";
import { type PageSize, pageStyle } from "./pageStyle.ts";
import { en } from "./texts/en.ts";

export interface DigestOptions {
  readonly assets: ReportAssets;
  /** Text of `digest.hbs`. */
  readonly template: string;
  readonly page: PageSize;
  readonly show: "mm" | "in";
}
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:";

/** The page of a digest as one HTML text without script. Same digest and options, same text. */
export function renderDigest(digest: Digest, options: DigestOptions): string {
  const { assets, page } = options;
  const view = {
    date: digest.date,
    zone: digest.zone,
    shop: digest.shop === null ? "" : cleanText(digest.shop),
    policy: POLICY,
    counts: (["fail", "missing", "undecided", "pass"] as const).map((verdict) => ({
      verdict,
      word: en.verdicts[verdict],
      count: digest.counts[verdict],
    })),
    empty: digest.reports.length === 0,
    reports: digest.reports.map((report) => ({
      ...report,
      title: cleanText(report.title),
      word: en.verdicts[report.verdict],
      entries: report.entries.map(cleanText),
      job: cleanText(report.job ?? "\u2013"),
      operation: cleanText(report.operation ?? "\u2013"),
      machine: cleanText(
        [report.machine, report.pallet].filter((one) => one !== null).join(" / ") || "\u2013",
      ),
      // The digest lies in reports/digests, the reports one folder above.
      link: `../${encodeURIComponent(report.base.split("/").at(-1) ?? "")}.html`,
    })),
    gauges: digest.gauges.map((gauge) => ({
      ...gauge,
      name: cleanText(gauge.name),
      words: gauge.days < 0 ? `overdue by ${-gauge.days} days` : `due in ${gauge.days} days`,
      late: gauge.days < 0,
    })),
    trends: digest.trends.map((trend) => ({
      name: cleanText(`${trend.of} ${trend.quantity}`),
      ...trendView(trend, options.show),
    })),
    drift: digest.drift.map((drift) => ({
      name: cleanText(drift.characteristic),
      report: cleanText(drift.report),
      ...trendView(drift, options.show),
    })),
    entries: digest.entries.map((entry) => ({
      report: cleanText(`${entry.report} r${entry.revision}`),
      words: cleanText(entry.words),
      why: cleanText(entry.why),
      who: cleanText(entry.who),
    })),
    rules: digest.trends.length + digest.drift.length > 0 ? CHART_RULES : "",
    changes: digest.changes.map(({ id, from, to }) => ({ id, from: en.verdicts[from], to: en.verdicts[to] })),
  };
  const style = [
    fontFaces(assets.fonts, JSON.stringify(view)),
    pageStyle(page, { left: `Digest ${digest.date}`, middle: view.shop, pageOf: en.page }),
    ...REPORT_FILES.styles.map((file) => assets.styles[file] ?? ""),
  ].join("\n");
  const handlebars = Handlebars.create();
  handlebars.registerPartial("mark", assets.templates["partials/mark.hbs"] ?? "");
  return handlebars.compile(options.template, { strict: true, knownHelpersOnly: true, preventIndent: true })({
    ...view,
    style,
  });
}

function trendView(trend: Omit<DigestTrend, "of" | "quantity">, show: "mm" | "in") {
  const number = (value: number | null): string => {
    if (value === null) return "\u2013";
    if (trend.unit === "mm") return valueText({ mm: value }, { show, decimal: "." });
    if (trend.unit === "deg") return valueText({ deg: value }, { show, decimal: "." });
    if (trend.unit === "slope") return valueText({ slope: value }, { show, decimal: "." });
    return valueText({ value, unit: trend.unit, digits: 6 }, { show, decimal: "." });
  };
  const words = trend.signals.map((signal) => SIGNAL_WORDS[signal]);
  return {
    machine: cleanText(trend.machine ?? "\u2013"),
    count: trend.count,
    latest: number(trend.latest),
    mean: number(trend.mean),
    lower: number(trend.lower),
    upper: number(trend.upper),
    words: words.join("; ") || (trend.lower === null ? "too few values for limits" : "steady"),
    grave: trend.signals.length > 0,
  };
}

/** The reports of the day as a table for a spreadsheet. */
export function digestCsv(digest: Digest): string {
  const head = [
    "date",
    "id",
    "revision",
    "verdict",
    "title",
    "job",
    "operation",
    "machine",
    "pallet",
    "issued",
    "fail",
    "missing",
    "undecided",
    "pass",
    "file",
    "entries",
  ];
  return csvText([
    head,
    ...digest.reports.map((report) => {
      const { id, revision, verdict, title, job, operation, machine, pallet, issued, counts, base } = report;
      return [
        digest.date,
        id,
        revision,
        verdict,
        title,
        job,
        operation,
        machine,
        pallet,
        issued,
        counts.fail,
        counts.missing,
        counts.undecided,
        counts.pass,
        `${base}.pdf`,
        report.entries.join("; "),
      ];
    }),
  ]);
}
