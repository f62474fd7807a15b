// Real reports, printed: sheets, tags, pictures in words, and long setups that break well.

import { parse } from "node-html-parser";
import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName, PDFStream, PDFString } from "pdf-lib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { SetupReport } from "../../src/model/setupReport.ts";
import type { PageSize } from "../../src/report/pageStyle.ts";
import type { ExtractedPdf } from "../../src/report/print/extractPdf.ts";
import type { Printer } from "../../src/report/print.ts";
import { renderReport } from "../../src/report/render.ts";
import { en } from "../../src/report/texts/en.ts";
import { recordOf, SAMPLES } from "../golden/road.ts";
import { assets, emptyReport, report } from "../report/fixtures.ts";
import { longSetup } from "../report/longSetup.ts";
import { contents, METADATA, printerOrFail } from "./printer.ts";

let printer: Printer;
beforeAll(async () => {
  printer = await printerOrFail();
});
afterAll(async () => {
  await printer?.close();
});

interface Printed {
  readonly html: string;
  readonly bytes: Uint8Array;
  readonly found: ExtractedPdf;
}
async function printed(record: SetupReport, page: PageSize): Promise<Printed> {
  const html = renderReport(record, { assets, page });
  const bytes = await printer.print(html, { page, metadata: METADATA });
  return { html, bytes, found: await contents(bytes) };
}
const flat = (text: string): string => text.replace(/\s+/g, " ").trim();

/** What stands on a sheet above its running line. */
const bodyOf = (text: string): string => flat(text).replace(/ ?\S+, revision \d+ Relates only.*$/, "");

const dictsOf = (pdf: PDFDocument): PDFDict[] =>
  pdf.context.enumerateIndirectObjects().flatMap(([, object]) => (object instanceof PDFDict ? [object] : []));
const nameIn = (dict: PDFDict, key: string): string => String(dict.get(PDFName.of(key)) ?? "");

describe("a real report", () => {
  it.each([
    ["a4", 595.276, 841.89],
    ["letter", 612, 792],
  ] as const)("on %s has that sheet on every page, and counts them", async (page, width, height) => {
    const { found } = await printed(await recordOf(`${SAMPLES}3-first-side`), page);
    expect(found.pages.length).toBeLessThanOrEqual(6);
    for (const size of found.sizes) {
      expect(Math.abs(size.width - width)).toBeLessThan(0.01);
      expect(Math.abs(size.height - height)).toBeLessThan(0.01);
    }
    found.pages.forEach((text, at) => {
      expect(flat(text)).toContain(`page ${at + 1} of ${found.pages.length}`);
      expect(flat(text)).toContain("Relates only to the items measured.");
    });
    expect(bodyOf(found.pages.at(-1) ?? "")).toMatch(/End of report \S+, revision 1$/);
  });

  it("has the answer on page 1, the results on page 2, and eight pages", async () => {
    const { found } = await printed(await recordOf(`${SAMPLES}1-column`), "a4");
    expect(found.pages.length).toBeLessThanOrEqual(8);
    const [first = "", second = ""] = found.pages.map(flat);
    for (const part of ["UNDECIDED", en.card.heading, en.open.undecided, en.offsets.heading])
      expect(first).toContain(part);
    expect(first).not.toContain(en.results.limits);
    expect(second).toContain(`${en.results.heading} ${en.results.verdict}`);
    expect(second).toContain(en.correction.heading);
  });

  it("says things once: no remark, caution or key to a picture is repeated on its pages", async () => {
    const { html } = await printed(await recordOf(`${SAMPLES}1-column`), "a4");
    const page = parse(html);
    const long = page
      .querySelectorAll(
        ".part-results li, .detail, .caution, .part-features .small, .cautions li, .decisions",
      )
      .map((node) => flat(node.text))
      .filter((text) => text.length > 60);
    expect(long.length).toBeGreaterThan(12);
    expect(long.filter((text, index) => long.indexOf(text) !== index)).toEqual([]);
  });

  it("has tags for headings, table heads and pictures, each picture in words, and its language", async () => {
    const record = { ...(await recordOf(`${SAMPLES}2-chuck-and-blank`)), language: "de" as const };
    const { html, bytes, found } = await printed(record, "a4");
    expect(found).toMatchObject({ tagged: true, language: "de" });
    const page = parse(html);
    const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
    const tags = dictsOf(pdf).filter(
      (dict) => nameIn(dict, "Type") === "/StructElem" || dict.has(PDFName.of("S")),
    );
    const count = (tag: string): number => tags.filter((dict) => nameIn(dict, "S") === tag).length;
    for (const level of ["h1", "h2", "h3"])
      expect(count(`/${level.toUpperCase()}`)).toBe(page.querySelectorAll(level).length);
    expect(count("/Table")).toBe(page.querySelectorAll("table").length);
    expect(count("/TH")).toBeGreaterThanOrEqual(page.querySelectorAll("th").length);
    const heads = tags.filter((dict) => nameIn(dict, "S") === "/TH");
    const scopes = heads.map((dict) => dict.lookup(PDFName.of("A")));
    for (const scope of scopes) expect(scopeText(scope)).toMatch(/\/Scope \/(Column|Row)/);
    const figures = tags.filter((dict) => nameIn(dict, "S") === "/Figure");
    const pictures = page.querySelectorAll("svg").map((svg) => flat(svg.getAttribute("aria-label") ?? ""));
    const words = figures.map((dict) => dict.lookup(PDFName.of("Alt")));
    const alts = words.map((one) =>
      one instanceof PDFString || one instanceof PDFHexString ? flat(one.decodeText()) : "",
    );
    expect(alts.filter((alt) => alt !== "").sort()).toEqual([...pictures].sort());
    expect(found.outline[0]?.depth).toBe(0);
    expect(found.outline.length).toBeGreaterThan(12);
  });

  it("embeds every font, and has no other typeface than its own", async () => {
    const { bytes } = await printed(report, "a4");
    const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
    const fonts = dictsOf(pdf).filter((dict) => nameIn(dict, "Type") === "/Font");
    const plain = fonts.filter((font) => nameIn(font, "Subtype") === "/CIDFontType2");
    expect(plain.length).toBeGreaterThan(1);
    for (const font of plain) {
      expect(nameIn(font, "BaseFont")).toMatch(/SourceSans/);
      const about = font.lookup(PDFName.of("FontDescriptor"), PDFDict);
      expect(about.lookup(PDFName.of("FontFile2"))).toBeInstanceOf(PDFStream);
    }
    // Letters with a white seam are embedded as drawings.
    const others = fonts.filter((font) => !plain.includes(font) && nameIn(font, "Subtype") !== "/Type0");
    for (const font of others)
      expect(font.lookup(PDFName.of("CharProcs"), PDFDict).keys().length).toBeGreaterThan(0);
  });
});

function scopeText(value: unknown): string {
  if (value instanceof PDFArray) return value.asArray().map(String).join(" ");
  return String(value);
}

describe.each(["a4", "letter"] as const)("200 characteristics and 60 features on %s", (page) => {
  let long: Printed;
  beforeAll(async () => {
    long = await printed(longSetup(), page);
  });

  it("keep each result with its reason on one page, below the head of its table", () => {
    // Below the results the same names stand once more, before and after a correction.
    const sheets = long.found.pages
      .map((text) => flat(text).split(en.correction.heading)[0] ?? "")
      .filter((text) => / char-\d+ /.test(` ${text}`) && text.includes("Reason:"));
    expect(sheets.length).toBeGreaterThan(8);
    const ids = sheets.flatMap((text) => {
      const entries = text.match(/char-\d+ (?:Flatness|Tilt|Perpendicularity|Diameter|Angle)/g) ?? [];
      expect(text.match(/Reason:/g)?.length).toBe(entries.length);
      expect(text).toContain(`${en.results.limits} ${en.results.value}`);
      return entries.map((entry) => entry.split(" ")[0]);
    });
    expect(new Set(ids).size).toBe(200);
    expect(ids).toHaveLength(200);
  });

  it("leave no heading alone at the foot of a page", () => {
    const document = parse(long.html);
    const headings = document.querySelectorAll("h2, h3, h4").map((node) => flat(node.text));
    for (const text of long.found.pages) {
      const body = bodyOf(text);
      const last = headings.filter((heading) => heading !== "" && body.endsWith(` ${heading}`));
      expect(last, body.slice(-60)).toEqual([]);
    }
  });

  it("keep every picture with its caption, and lose nothing", () => {
    const all = flat(long.found.pages.join(" "));
    const captions = parse(long.html)
      .querySelectorAll(".feature figcaption")
      .map((node) => flat(node.text));
    expect(captions.length).toBeGreaterThan(30);
    for (const caption of new Set(captions)) {
      const holders = long.found.pages.filter((text) => flat(text).includes(caption.slice(0, 24)));
      expect(holders.length, caption).toBeGreaterThan(0);
    }
    for (let index = 0; index < 60; index++) expect(all).toContain(`feature-${index} `);
    for (let index = 0; index < 40; index++) expect(all).toContain(`log-${index}.csv`);
  });
});

describe("a setup that brought nothing", () => {
  it("is an honest page: what is missing is said, and nothing is made up", async () => {
    const { found } = await printed(emptyReport, "a4");
    expect(found.pages.length).toBeLessThanOrEqual(3);
    const all = flat(found.pages.join(" "));
    for (const sentence of [
      en.verdict.empty,
      en.card.nothing,
      en.results.empty,
      en.features.empty,
      en.logs.empty,
    ])
      expect(all).toContain(sentence);
    expect(all).not.toMatch(/\d\.\d+ (mm|in)\b/);
  });

  it("says what failed and why on its first page", async () => {
    const { found } = await printed(report, "letter");
    const first = flat(found.pages[0] ?? "");
    expect(first).toContain("FAIL");
    expect(first).toContain(en.open.failed);
    expect(first).toContain("is above 0.01 mm by more than 0.0021 mm");
    expect(first).toContain(en.open.missing);
  });
});
