// Every picture and every kind of page, for people to look at: `npm run gallery`.
import type { SetupReport } from "../../src/model/setupReport.ts";
import type { TrendGroup } from "../../src/model/trend.ts";
import { loadAssets, shippedText } from "../../src/records/assets.ts";
import { fontFaces } from "../../src/report/fontFaces.ts";
import { type PageContext, pageContext } from "../../src/report/pageContext.ts";
import type { Plot } from "../../src/report/plots/contract.ts";
import {
  ADVICE_PLOTS,
  CORRECTION_PLOTS,
  FEATURE_PLOTS,
  plotAdvice,
  plotCorrections,
  plotFeature,
  plotResult,
  RESULT_PLOTS,
} from "../../src/report/plots/index.ts";
import { renderReport } from "../../src/report/render.ts";
import { renderDigest } from "../../src/report/renderDigest.ts";
import { renderTrend } from "../../src/report/renderTrend.ts";
import { cases, recordOf, SAMPLES } from "../golden/road.ts";
import { emptyReport, pictureReport, report } from "../report/fixtures.ts";
import { longSetup } from "../report/longSetup.ts";

/** Pictures of one kind shown at most. */
const MOST = 6;

interface Shown extends Plot {
  readonly of: string;
}

/** Name of each file of the gallery and its text; `index.html` is where to begin. */
export async function galleryFiles(): Promise<Readonly<Record<string, string>>> {
  const assets = await loadAssets();
  const samples = await Promise.all(
    cases(SAMPLES).map(async (name) => [name, await recordOf(`${SAMPLES}${name}`)] as const),
  );
  const records: readonly (readonly [string, SetupReport])[] = [
    ...samples,
    ["a crowd", crowdReport()],
    ["a full setup", report],
    ["every advice", pictureReport],
  ];
  const page = (record: SetupReport, supersededBy?: number): string =>
    renderReport(record, {
      assets,
      page: "a4",
      ...(supersededBy === undefined ? {} : { supersededBy }),
    });
  const pages: Record<string, string> = {
    ...Object.fromEntries(samples.map(([name, record]) => [`page-${name}`, page(record)])),
    "page-failed": page(report),
    "page-german-inch": page({ ...report, language: "de", show: "in" }),
    "page-superseded": page(report, 3),
    "page-nothing-measured": page(emptyReport),
    "page-every-advice": page(pictureReport),
    "page-long": page(longSetup()),
    "page-digest": renderDigest(digest(), {
      assets,
      template: await shippedText("templates/digest.hbs"),
      page: "a4",
      show: "mm",
    }),
    "page-trend": renderTrend("flat-0", [trend()], {
      assets,
      template: await shippedText("templates/trend.hbs"),
      show: "mm",
    }),
  };
  const style = `${fontFaces(assets.fonts, "")}\n${Object.values(assets.styles).join("\n")}`;
  const files = Object.fromEntries(Object.entries(pages).map(([name, html]) => [`${name}.html`, html]));
  return { "index.html": indexOf(records, Object.keys(files), style), ...files };
}

function indexOf(
  records: readonly (readonly [string, SetupReport])[],
  pages: readonly string[],
  style: string,
): string {
  const kinds = [...FEATURE_PLOTS, ...ADVICE_PLOTS, ...RESULT_PLOTS, ...CORRECTION_PLOTS].map(
    ({ name }) => name,
  );
  const shown = new Map<string, Shown[]>(kinds.map((kind) => [kind, []]));
  for (const [of, record] of records)
    for (const { kind, ...plot } of plotsOf(record)) shown.get(kind)?.push({ ...plot, of });
  const parts = [...shown].map(([kind, plots]) => {
    // Every record has its turn before one shows a second picture.
    const some = [...new Map(plots.map((plot) => [plot.of, plot])).values(), ...plots].slice(0, MOST);
    const figures = [...new Set(some)].map(
      ({ svg, caption, key, of }) =>
        `<figure>${svg}<figcaption><b>${of}</b> ${caption} ${(key ?? []).join(" ")}</figcaption></figure>`,
    );
    return `<section id="plot-${kind}"><h2>${kind}</h2><div class="wall">${figures.join("\n")}</div></section>`;
  });
  const list = pages.map((name) => `<li><a href="${name}">${name}</a></li>`).join("");
  return `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Gallery</title>
<style>${style}
main{max-width:none}.wall{display:grid;grid-template-columns:repeat(auto-fill,minmax(340px,1fr));gap:6mm}</style></head>
<body><main><h1>Gallery</h1><section id="pages"><h2>Pages</h2><ul>${list}</ul></section>
${parts.join("\n")}</main></body></html>`;
}

/** All pictures of a record by their kind. */
function plotsOf(record: SetupReport): readonly (Plot & { readonly kind: string })[] {
  const page: PageContext = pageContext(record, null);
  const named = (kind: string | undefined, plot: Plot | null) =>
    plot === null || kind === undefined ? [] : [{ ...plot, kind }];
  return [
    ...Object.entries(record.features).flatMap(([name, feature], index) =>
      plotFeature(name, feature, `${record.report.id}-${index}`, page),
    ),
    ...record.advice.flatMap((advice, index) =>
      named(advice.plot?.kind, plotAdvice(advice, `${record.report.id}-advice-${index}`, page)),
    ),
    ...record.characteristics.flatMap((entry) => named(RESULT_PLOTS[0]?.name, plotResult(entry, page))),
    ...named(CORRECTION_PLOTS[0]?.name, plotCorrections(record.corrections ?? [], page)),
  ];
}

/** Faces, rounds and travels of so many points that they are drawn as a crowd. */
function crowdReport(): SetupReport {
  const COUNT = 2000;
  const noise = (i: number): number => 0.0006 * Math.sin(i * 12.9898) * Math.cos(i * 4.1414);
  const places: Readonly<Record<string, (i: number) => readonly [number, number, number]>> = {
    plane: (i) => [(i * 7) % 211, (i * 13) % 149, 0],
    circle: (i) => [12 + 50 * Math.cos(i), 180 + 50 * Math.sin(i), 0],
    line: (i) => [0, i / 5, 0.001 * Math.sin(i / 300) + noise(i)],
  };
  const features = Object.fromEntries(
    Object.entries(report.features).flatMap(([name, feature]) => {
      const place = places[feature.fit];
      if (place === undefined || feature.plot === undefined) return [];
      const all = Array.from({ length: COUNT }, (_, i) => place(i));
      const plot = {
        x: all.map(([x]) => x),
        y: all.map(([, y]) => y),
        z: all.map(([, , z]) => z),
        deviation: all.map(([x], i) => 0.001 * Math.sin(x / 30) + noise(i)),
        line: all.map((_, i) => i + 2),
        of: 1_000_000,
      };
      return [[name, { ...feature, points: plot.of, plot }]];
    }),
  );
  return {
    ...report,
    report: { ...report.report, id: "crowd" },
    features,
    advice: [],
    corrections: [],
    characteristics: [],
  };
}

const counts = { pass: 3, fail: 1, undecided: 1, missing: 0 };
function digest(): Parameters<typeof renderDigest>[0] {
  return {
    schema: "plinth.digest/1",
    date: "2026-11-25",
    zone: "UTC",
    shop: null,
    counts,
    reports: (["fail", "missing", "undecided", "pass"] as const).map((verdict, index) => ({
      id: `J-220${index}_10_column-seat`,
      revision: index + 1,
      verdict,
      title: "Fixture column on pallet 4",
      issued: `2026-11-25T0${7 + index}:00:00Z`,
      job: `J-220${index}`,
      operation: "10",
      machine: "HM-4",
      pallet: "4",
      counts,
      entries: [],
      base: `reports/J-220${index}_10_column-seat_r1`,
    })),
    gauges: [{ name: "spindle-probe", due: "2026-12-01", days: 6 }],
    trends: [],
    drift: [],
    entries: [],
    changes: [{ id: "J-2200_10_column-seat", from: "pass", to: "fail" }],
  };
}

function trend(): TrendGroup {
  const values = Array.from(
    { length: 24 },
    (_, i) => 0.004 + 0.0008 * Math.sin(i * 2.1) + (i === 23 ? 0.004 : 0),
  );
  return {
    name: "HM-4",
    unit: "mm",
    mean: 0.0041,
    lower: 0.0018,
    upper: 0.0064,
    signals: ["outside"],
    points: values.map((value, i) => ({
      issued: `2026-11-${String(i + 1).padStart(2, "0")}T07:00:00Z`,
      report: `J-22${i}_10_column-seat`,
      revision: 1,
      plan: "column-seat",
      of: "flat-0",
      kind: "characteristic",
      quantity: "value",
      value,
      unit: "mm",
      uncertainty: 0.001,
      verdict: "pass",
      group: "HM-4",
    })),
  };
}
