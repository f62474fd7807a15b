import Handlebars from "handlebars";
import type { Digest, DigestTrend } from "../model/digest.ts";
import type { Language } from "../model/language.ts";
import { fill } from "../model/say.ts";
import { REPORT_FILES, type ReportAssets } from "./assets.ts";
import { cleanText } from "./cleanText.ts";
import { csvText } from "./csv.ts";
import { fontFaces } from "./fontFaces.ts";
import { type PageSize, pageStyle } from "./pageStyle.ts";
import { trendText } from "./renderTrend.ts";
import { TEXTS } from "./texts/index.ts";
import type { Texts } from "./texts/words.ts";
import { translator } from "./translate.ts";

export interface DigestOptions {
  readonly assets: ReportAssets;
  /** Text of `digest.hbs`. */
  readonly template: string;
  readonly page: PageSize;
  readonly show: "mm" | "in";
  /** Language of the page; English where none is said. */
  readonly language?: Language;
}
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:";

/** The page of a digest as one HTML text without script. Same digest and options, same text. */
export function renderDigest(digest: Digest, options: DigestOptions): string {
  const { assets, page, show } = options;
  const texts = TEXTS[options.language ?? "en"];
  const { digest: t } = texts.shop;
  const { plain } = translator(texts);
  const title = worded(t.title, { date: digest.date });
  const view = {
    date: digest.date,
    language: texts.language,
    t,
    title,
    day: worded(t.day, { zone: digest.zone }),
    shop: digest.shop === null ? "" : cleanText(digest.shop),
    policy: POLICY,
    counts: (["fail", "missing", "undecided", "pass"] as const).map((verdict) => ({
      verdict,
      word: texts.verdicts[verdict],
      count: digest.counts[verdict],
    })),
    empty: digest.reports.length === 0,
    reports: digest.reports.map((report) => ({
      ...report,
      title: cleanText(report.title),
      word: texts.verdicts[report.verdict],
      entries: report.entries.map((words) => cleanText(plain(words))),
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
      words: worded(gauge.days < 0 ? t.overdue : t.dueIn, { days: Math.abs(gauge.days) }),
      late: gauge.days < 0,
    })),
    trends: digest.trends.map((trend) => ({
      name: cleanText(`${trend.of} ${trend.quantity}`),
      ...trendView(trend, show, texts),
    })),
    drift: digest.drift.map((drift) => ({
      name: cleanText(drift.characteristic),
      report: cleanText(drift.report),
      ...trendView(drift, show, texts),
    })),
    entries: digest.entries.map((entry) => ({
      report: cleanText(`${entry.report} r${entry.revision}`),
      words: cleanText(plain(entry.words)),
      why: cleanText(entry.why),
      who: cleanText(entry.who),
    })),
    rules: digest.trends.length + digest.drift.length > 0 ? texts.shop.trendRules : "",
    changes: digest.changes.map(({ id, from, to }) => ({
      id,
      from: texts.verdicts[from],
      to: texts.verdicts[to],
    })),
  };
  const style = [
    fontFaces(assets.fonts, JSON.stringify(view)),
    pageStyle(page, { left: title, middle: view.shop, pageOf: texts.page }),
    ...REPORT_FILES.styles.map((file) => assets.styles[file] ?? ""),
  ].join("\n");
  const handlebars = Handlebars.create();
  handlebars.registerPartial("mark", assets.templates["partials/mark.hbs"] ?? "");
  return handlebars.compile(options.template, { strict: true, knownHelpersOnly: true, preventIndent: true })({
    ...view,
    style,
  });
}

const worded = (template: string, values: Readonly<Record<string, string | number>>): string =>
  fill(template, values, { show: "mm", decimal: "." });

function trendView(trend: Omit<DigestTrend, "of" | "quantity">, show: "mm" | "in", texts: Texts) {
  const style = { show, decimal: texts.decimal === "," ? "," : "." } as const;
  const number = (value: number | null): string =>
    value === null ? "\u2013" : trendText(value, trend.unit, style);
  const words = trend.signals.map((signal) => texts.shop.signals[signal]);
  return {
    machine: cleanText(trend.machine ?? "\u2013"),
    count: trend.count,
    latest: number(trend.latest),
    mean: number(trend.mean),
    lower: number(trend.lower),
    upper: number(trend.upper),
    words: words.join("; ") || (trend.lower === null ? texts.shop.tooFew : texts.shop.steady),
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
