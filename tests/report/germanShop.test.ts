// The shop's own pages in another language: every word of their templates comes from the texts of the language.
import { readFileSync } from "node:fs";
import { parse } from "node-html-parser";
import { beforeAll, describe, expect, it } from "vitest";
import type { Digest } from "../../src/model/digest.ts";
import type { TrendGroup } from "../../src/model/trend.ts";
import { loadAssets, shippedText } from "../../src/records/assets.ts";
import type { ReportAssets } from "../../src/report/assets.ts";
import { renderBoard } from "../../src/report/renderBoard.ts";
import { digestCsv, renderDigest } from "../../src/report/renderDigest.ts";
import { renderTrend } from "../../src/report/renderTrend.ts";
import { ENGLISH } from "./englishWords.ts";

const chart = {
  machine: "M1",
  unit: "mm",
  count: 9,
  latest: 0.01234,
  mean: 0.0051,
  lower: 0.001,
  upper: 0.0092,
};
const DIGEST: Digest = {
  schema: "plinth.digest/1",
  date: "2026-11-25",
  zone: "UTC",
  shop: null,
  counts: { pass: 0, fail: 1, undecided: 1, missing: 0 },
  reports: [
    {
      id: "K1",
      revision: 2,
      verdict: "fail",
      title: "T1",
      issued: "2026-11-25T07:00:00Z",
      job: "J1",
      operation: null,
      machine: "M1",
      pallet: "3",
      counts: { pass: 1, fail: 1, undecided: 0, missing: 0 },
      entries: ["disposition: rework (c1)", "correction: pallet is 9", "void"],
      base: "reports/K1_r2",
    },
  ],
  gauges: [
    { name: "g1", due: "2026-11-01", days: -24 },
    { name: "g2", due: "2026-12-01", days: 6 },
  ],
  trends: [
    { of: "c1", quantity: "value", ...chart, signals: ["outside", "two-of-three", "four-of-five", "run"] },
    { of: "c2", quantity: "value", ...chart, lower: null, upper: null, signals: [] },
    { of: "f1", quantity: "slopeX", ...chart, unit: "slope", signals: [] },
  ],
  drift: [{ report: "K1", characteristic: "c1", ...chart, signals: ["run"] }],
  entries: [
    {
      report: "K1",
      revision: 2,
      words: "disposition: use-as-is",
      who: "QS",
      made: "2026-11-25T08:00:00Z",
      why: "W1",
    },
  ],
  changes: [{ id: "K1", from: "pass", to: "fail" }],
};
const point = (value: number, i: number): TrendGroup["points"][number] => ({
  issued: `2026-11-0${i + 1}T07:00:00Z`,
  report: "K1",
  revision: i + 1,
  plan: "p1",
  of: "c1",
  kind: "flatness",
  quantity: "value",
  value,
  unit: "mm",
  uncertainty: 0.0012,
  verdict: "undecided",
  group: null,
});
const TREND: TrendGroup = {
  name: "c1, p1",
  unit: "mm",
  points: [0.004, 0.0051, 0.0123].map(point),
  mean: 0.0045,
  lower: 0.001,
  upper: 0.008,
  signals: ["outside"],
};

describe("a German page of the shop", () => {
  let assets: ReportAssets;
  let pages: Readonly<Record<string, string>>;
  beforeAll(async () => {
    assets = await loadAssets();
    const more = { assets, page: "a4", show: "mm", language: "de" } as const;
    pages = {
      digest: renderDigest(DIGEST, { ...more, template: await shippedText("templates/digest.hbs") }),
      "empty digest": renderDigest(
        { ...DIGEST, reports: [], gauges: [], trends: [], drift: [], entries: [], changes: [] },
        { ...more, template: await shippedText("templates/digest.hbs") },
      ),
      trend: renderTrend("c1", [TREND, { ...TREND, lower: null, upper: null, signals: [] }], {
        ...more,
        template: await shippedText("templates/trend.hbs"),
      }),
      board: renderBoard(
        { shop: null, zone: "UTC", rows: [], digests: ["2026-11-25"], unreadable: ["K9_r1"] },
        {
          assets,
          template: await shippedText("templates/board.hbs"),
          style: "",
          script: "board.js",
          pages: [],
          language: "de",
        },
      ),
    };
  });
  const spoken = (html: string): string => {
    const page = parse(html.replace(/<(style|script)[\s\S]*?<\/\1>/g, ""));
    const labels = page
      .querySelectorAll("[aria-label], [placeholder], [data-label]")
      .flatMap((one) =>
        ["aria-label", "placeholder", "data-label"].map((name) => one.getAttribute(name) ?? ""),
      );
    return `${page.structuredText} ${labels.join(" ")}`;
  };

  it.each(["digest", "empty digest", "trend", "board"])("has no English left: %s", (name) => {
    const html = pages[name] ?? "";
    expect(parse(html).querySelector("html")?.getAttribute("lang")).toBe("de");
    const text = spoken(html).replace(/\(NIST[^)]*\)/g, "");
    expect(text.match(ENGLISH) ?? []).toEqual([]);
    expect(text).not.toMatch(/\{\w+\}|undefined|\[object/);
  });

  it("says numbers with a comma, entries and signals in its words", () => {
    const text = spoken(pages.digest ?? "");
    expect(text).toContain("Entscheid: nacharbeiten (c1)");
    expect(text).toContain("Berichtigung: pallet ist 9");
    expect(text).toContain("seit 24 Tagen überfällig");
    expect(text).toContain("acht nacheinander liegen auf einer Seite");
    expect(text).toContain("0,0123 mm");
    expect(spoken(pages.trend ?? "")).toContain("Mittel 0,0045 mm; Zufallsgrenzen: 0,0010 mm bis 0,0080 mm.");
    for (const name of ["digest", "trend"])
      expect((spoken(pages[name] ?? "").match(/\d\.\d+ (mm|in)/g) ?? []).concat()).toEqual([]);
    expect(digestCsv(DIGEST)).not.toMatch(/Entscheid|Bestanden/);
  });

  it("has no word of its own in a template", () => {
    for (const file of ["digest.hbs", "trend.hbs", "board.hbs"]) {
      const text = readFileSync(new URL(`../../templates/${file}`, import.meta.url), "utf8");
      const bare = text
        .replace(/\{\{[^}]*\}\}\}?/g, " ")
        .replace(/<(style|script)[\s\S]*?<\/\1>/g, "")
        .replace(/&\w+;|<[^>]*>/g, " ");
      expect(bare.match(/\p{L}{2,}/gu) ?? [], file).toEqual([]);
    }
  });
});
