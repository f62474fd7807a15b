// The page of a report: what stands on it, in which words, and that nothing but the record and the files decides it.
import { type HTMLElement, parse } from "node-html-parser";
import { describe, expect, it } from "vitest";
import { say } from "../../src/model/say.ts";
import type { ReportAdvice, SetupReport, Verdict } from "../../src/model/setupReport.ts";
import { FONTS, REPORT_FILES } from "../../src/report/assets.ts";
import { type RenderOptions, renderReport } from "../../src/report/render.ts";
import { SECTIONS } from "../../src/report/sections/index.ts";
import { de } from "../../src/report/texts/de.ts";
import { en } from "../../src/report/texts/en.ts";
import { TEXTS } from "../../src/report/texts/index.ts";
import { cases, recordOf, SAMPLES } from "../golden/road.ts";
import { assets, emptyReport, pictureReport, report } from "./fixtures.ts";

const htmlOf = (record: SetupReport = report, options: Partial<RenderOptions> = {}): string =>
  renderReport(record, { assets, page: "a4", ...options });
const pageOf = (record?: SetupReport, options?: Partial<RenderOptions>): HTMLElement =>
  parse(htmlOf(record, options), { comment: true });
const words = (node: HTMLElement | null): string => (node?.text ?? "").replace(/\s+/g, " ").trim();
const inch: SetupReport = { ...report, show: "in" };
const german: SetupReport = { ...report, language: "de" };

const samples = await Promise.all(
  cases(SAMPLES).map(async (name) => [name, await recordOf(`${SAMPLES}${name}`)] as const),
);
const records: readonly (readonly [string, SetupReport])[] = [
  ["a full report", report],
  ["inch", inch],
  ["German", german],
  ["nothing measured", emptyReport],
  ["every advice picture", pictureReport],
  ...samples,
];

describe.each(records)("the page of %s", (_, record) => {
  const html = htmlOf(record);
  const page = parse(html, { comment: true });

  it("is one closed document without script or anything to fetch", () => {
    expect(html.startsWith("<!DOCTYPE html>\n<html lang=")).toBe(true);
    expect(page.querySelector("html")?.getAttribute("lang")).toBe(record.language);
    expect(page.querySelector("meta[http-equiv]")?.getAttribute("content")).toBe(
      "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:",
    );
    expect(page.querySelectorAll("script, link, img, iframe, object, embed, form, a, base")).toEqual([]);
    const addresses = html.match(/(?:https?:|\/\/)[^"')\s]+/g) ?? [];
    const base64 = /base64,[A-Za-z0-9+/=]+/g;
    const named = (html.replace(base64, "").match(/(?:https?:)?\/\/[^"')\s]+/g) ?? []).filter(
      (address) => address !== "http://www.w3.org/2000/svg",
    );
    expect(named, `${addresses.length} addresses`).toEqual([]);
    for (const [, target] of html.matchAll(/url\(([^)]{0,30})/g))
      expect(target).toMatch(/^(data:font\/woff2;|#)/);
    expect(html).not.toMatch(/\son[a-z]+=/i);
  });

  it("has headings in order, tables with heads, pictures with words, and ids of its own", () => {
    const levels = page.querySelectorAll("h1, h2, h3, h4").map((heading) => Number(heading.tagName[1]));
    expect(levels[0]).toBe(1);
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    levels.forEach((level, index) => {
      expect(level - (levels[index - 1] ?? 1)).toBeLessThanOrEqual(1);
    });
    for (const table of page.querySelectorAll("table")) {
      expect(table.querySelector("thead")).not.toBeNull();
      for (const head of table.querySelectorAll("th"))
        expect(head.getAttribute("scope")).toMatch(/^(col|row)$/);
    }
    for (const svg of page.querySelectorAll("svg")) {
      expect(svg.getAttribute("role")).toBe("img");
      expect(svg.getAttribute("aria-label")?.length).toBeGreaterThan(10);
    }
    const ids = page.querySelectorAll("[id]").map((one) => one.getAttribute("id"));
    expect(new Set(ids).size).toBe(ids.length);
    const links = [...html.matchAll(/url\(#([^)]+)\)|aria-labelledby="([^"]+)"/g)].map((m) => m[1] ?? m[2]);
    expect(links.filter((id) => !ids.includes(id))).toEqual([]);
  });

  it("shows nothing that only a program understands", () => {
    const text = words(page.querySelector("main"));
    expect(text).not.toMatch(/undefined|\bNaN\b|\[object|\bnull\b|Infinity|\{\{|\{[a-zA-Z]+\}/);
    expect(text).not.toMatch(/[\u2212-]0[.,]0+(?![\d])/);
  });

  it("gives every number of a table and of a picture its unit", () => {
    const unit = /^( (mm|in|mm\/m|in\/in)|°)$/;
    for (const quantity of page.querySelectorAll(".quantity")) {
      expect(words(quantity.querySelector(".number"))).toMatch(/^[+\u2212]?\d+([.,]\d+)?$/);
      expect(quantity.querySelector(".unit")?.text).toMatch(unit);
    }
    const bare = page
      .querySelectorAll("svg text")
      .map((text) => text.text)
      .filter((text) => /^[+\u2212]?\d[\d.,]*$/.test(text));
    expect(bare).toEqual([]);
  });

  it("is the same text each time", () => {
    expect(htmlOf(structuredClone(record))).toBe(html);
  });
});

describe("sections", () => {
  it("are registered once, each with its partial and its heading", () => {
    const names = SECTIONS.map((section) => section.name);
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(REPORT_FILES.templates).toContain(`partials/${name}.hbs`);
    const page = pageOf();
    const shown = page.querySelectorAll("main > section").map((section) => section.getAttribute("class"));
    expect(shown).toEqual(names.map((name) => `part-${name}`));
  });

  it("let markup through only where our own code makes it", () => {
    for (const [file, text] of Object.entries(assets.templates)) {
      const raw = text.match(/\{\{\{[^}]*\}\}\}|\{\{&[^}]*\}\}/g) ?? [];
      expect(raw, file).toEqual(
        file === "setup-report.hbs"
          ? ["{{{style}}}", "{{{sheet}}}"]
          : ["partials/figure.hbs", "partials/picture.hbs"].includes(file)
            ? ["{{{svg}}}"]
            : [],
      );
    }
  });

  it("stay honest when nothing was measured", () => {
    const text = words(pageOf(emptyReport).querySelector("main"));
    for (const sentence of [
      en.verdict.empty,
      en.card.nothing,
      en.results.empty,
      en.correction.empty,
      en.advice.empty,
      en.features.empty,
      en.logs.empty,
      en.gauges.empty,
      en.exclusions.empty,
      en.findings.empty,
    ]) {
      expect(text).toContain(sentence);
    }
  });

  it("carry all cautions and the end mark", () => {
    const page = pageOf();
    expect(page.querySelectorAll(".cautions li")).toHaveLength(10);
    expect(words(page.querySelector(".end"))).toBe("End of report J-2207_10_column-seat, revision 2");
    expect(words(page)).toContain("Relates only to the items measured.");
    expect(words(page.querySelector(".replaces"))).toContain("revision 1");
    expect(page.querySelector(".superseded")).toBeNull();
    expect(words(pageOf(report, { supersededBy: 3 }).querySelector(".superseded"))).toBe(
      "SUPERSEDED by revision 3. Do not work from this page.",
    );
  });
});

describe("the verdict", () => {
  const verdicts: readonly Verdict[] = ["pass", "fail", "undecided", "missing"];
  it.each(verdicts)("%s is said by word and by shape", (verdict) => {
    const page = pageOf({ ...report, verdict });
    const panel = page.querySelector(".verdict");
    expect(panel?.classList.contains(`is-${verdict}`)).toBe(true);
    expect(words(panel?.querySelector(".word") ?? null)).toBe(en.verdicts[verdict]);
    expect(panel?.querySelectorAll(`.shape-${verdict}`)).toHaveLength(1);
    expect(words(panel)).toContain(en.verdict.sentences[verdict]);
    const css = Object.values(assets.styles).join("\n");
    expect(css).toContain(`.shape-${verdict}`);
    expect(css).toContain(`.verdict.is-${verdict}`);
  });

  it("names where it comes from, and the first page says how to decide", () => {
    expect(words(pageOf().querySelector(".verdict .names"))).toBe("yaw-0");
    const open = words(pageOf().querySelector(".part-open"));
    expect(open).toContain("yaw-0 Tilt, face-0 0.030 mm limit \u22120.010 mm to 0.010 mm");
    expect(open).toContain("To decide: Touch two more sections");
    const clean = { ...report, characteristics: report.characteristics.slice(0, 1) };
    expect(pageOf(clean).querySelector(".part-open")).toBeNull();
  });
});

describe("the card", () => {
  const lines = (record: SetupReport): string[] => pageOf(record).querySelectorAll(".card li").map(words);
  it("has the record's own lines, at most five", () => {
    expect(lines({ ...report, card: ["one", "two", "three", "four", "five", "six"] })).toEqual([
      "one",
      "two",
      "three",
      "four",
      "five",
    ]);
  });
  it("else has the headlines, in the unit of the page", () => {
    expect(lines(report)[0]).toBe("Move stop right \u22120.041 mm, turn its screw 8.4°");
    expect(lines(inch)[0]).toBe("Move stop right \u22120.0016 in, turn its screw 8.4°");
    expect(lines(german)[0]).toBe("Move stop right \u22120,041 mm, turn its screw 8,4°");
  });
  it("says that there is nothing to move, or that no number can be given", () => {
    expect(lines(emptyReport)).toEqual([en.card.nothing]);
    const waiting = { ...report, advice: report.advice.filter((advice) => advice.status !== "advised") };
    expect(lines(waiting)).toEqual([en.card.undecided, "No centre yet: ball-0 is not measured"]);
  });
});

describe("the results table", () => {
  const rows = (record: SetupReport): string[][] =>
    pageOf(record)
      .querySelectorAll(".results .entry")
      .map((row) => row.querySelectorAll("td, th").map(words));
  it("shows value, uncertainty and margin in mm", () => {
    expect(rows(report)[0]).toEqual([
      "Pass",
      "flat-0 Flatness, face-0",
      "max 0.012 mm",
      "0.0038 mm",
      "0.0012 mm",
      "+0.0082 mm",
      "25",
    ]);
    expect(rows(report)[1]?.slice(3, 6)).toEqual(["0.030 mm", "0.0021 mm", "\u22120.020 mm"]);
    expect(rows(report)[4]?.slice(2, 6)).toEqual([
      "89.9950° to 90.0050° nominal 90.0000°",
      "no value",
      "–",
      "–",
    ]);
  });
  it("shows the same in inch and with a decimal comma", () => {
    expect(rows(inch)[0]?.slice(2, 6)).toEqual(["max 0.00047 in", "0.00015 in", "0.00005 in", "+0.00032 in"]);
    expect(rows(inch)[3]?.[2]).toBe("3.9366 in to 3.9378 in nominal 3.9370 in");
    expect(rows(german)[0]?.slice(0, 4)).toEqual([
      "Bestanden",
      "flat-0 Ebenheit, face-0",
      "höchstens 0,012 mm",
      "0,0038 mm",
    ]);
  });
  it("repeats its head and keeps a row whole over a page break", () => {
    const css = Object.values(assets.styles).join("\n");
    expect(css).toMatch(/thead \{\s*display: table-header-group;/);
    expect(css).toMatch(/\ntr \{\s*break-inside: avoid;/);
    expect(css).toMatch(/\.results tbody,[^}]*break-inside: avoid;/);
  });
});

describe("numbers to key in", () => {
  const table = (record: SetupReport): string[] =>
    pageOf(record)
      .querySelectorAll(".offsets tbody tr")
      .map((row) => row.querySelectorAll("td, th").map(words).join(" | "));
  it("stand as old, change, new, and only where advice was given", () => {
    expect(table(report)).toEqual([
      "X | \u2212285.758 mm | +0.030 mm | \u2212285.727 mm",
      "Z | \u2212307.993 mm | 0.000 mm | \u2212307.993 mm",
    ]);
    expect(table(inch)[0]).toBe("X | \u221211.2503 in | +0.0012 in | \u221211.2491 in");
    const waiting = report.advice.map((advice) => ({ ...advice, status: "undecided" as const }));
    expect(pageOf({ ...report, advice: waiting }).querySelector(".part-offsets")).toBeNull();
  });
});

describe("numbers of the advice", () => {
  const numbersOf = (advice: Partial<ReportAdvice>, show: "mm" | "in" = "mm"): Record<string, string> => {
    const [first] = report.advice;
    if (first === undefined) throw new Error("no advice");
    const { plot: _, ...bare } = first;
    const page = pageOf({ ...report, show, advice: [{ ...bare, ...advice }] });
    return Object.fromEntries(
      page
        .querySelectorAll(".advice dl.numbers div")
        .map((one) => [words(one.querySelector("dt")), words(one.querySelector("dd"))]),
    );
  };
  it("have the unit of what they are", () => {
    const values = {
      slopeX: 0.0001,
      rotary: -0.0057,
      edgeThickness: 0.05,
      passes: 3,
      cleansBest: true,
      edge: "-z",
    };
    expect(numbersOf({ values })).toEqual({
      "slope along X (yaw)": "+0.1000 mm/m",
      "to add to B": "\u22120.0057°",
      "edge thickness": "0.050 mm",
      passes: "3",
      "cleans best": "yes",
      edge: "-z",
    });
    expect(
      numbersOf({ values: { widths: { "0": 400, "90": 399.9 }, change: { x: 0.5, z: null } } }, "in"),
    ).toEqual({
      widths: "B0 15.7480 in B90 15.7441 in",
      change: "X 0.0197 in Z no value",
    });
  });
  it("are slopes where the seatings' slopes were compared", () => {
    const values = { count: 3, mean: 0.0001, range: 0.00002 };
    const seatings = (unit: string) =>
      numbersOf({ values, plot: { kind: "re-seat", data: { values: [1, 2], unit } } });
    expect(seatings("slope").range).toBe("+0.0200 mm/m");
    expect(seatings("mm").range).toBe("0.00002 mm");
  });
  it("do not round something to nothing", () => {
    expect(numbersOf({ values: { rms: 0.000012, ovality: 0 } })).toEqual({
      "residual, rms": "0.00001 mm",
      ovality: "0.000 mm",
    });
  });
});

describe("as found, correction, as left", () => {
  it("shows what was made of what was wanted, and the ratio", () => {
    const [slope, flat] = pageOf()
      .querySelectorAll(".correction .entry")
      .map((row) => row.querySelectorAll("td, th").map(words));
    expect(slope).toEqual([
      "face-0 slope along X (yaw)",
      "+0.1023 mm/m",
      "\u22120.0008 mm/m",
      "+0.1015 mm/m",
      "0.99",
    ]);
    expect(flat).toEqual(["flat-0 Flatness, face-0", "0.0051 mm", "–", "0.0038 mm", "–"]);
    expect(words(pageOf().querySelector(".correction .reason"))).toContain("Wanted: \u22120.1023 mm/m.");
  });
});

describe("the sheet", () => {
  const styleOf = (record: SetupReport, options: Partial<RenderOptions> = {}): string =>
    pageOf(record, options)
      .querySelectorAll("style")
      .map((style) => style.text)
      .join("\n");
  it("is A4 or Letter, with id, place and count in its margins", () => {
    expect(styleOf(report)).toContain("@page{size:A4;");
    expect(styleOf(report, { page: "letter" })).toContain("@page{size:letter;");
    for (const [record, text] of [
      [report, en],
      [german, de],
    ] as const) {
      const css = styleOf(record).replace(/\\([0-9a-f]+) /g, (_, code) =>
        String.fromCodePoint(Number.parseInt(code, 16)),
      );
      expect(css).toContain(`content:"J-2207_10_column-seat, ${text.revision.replace("{revision}", "2")}"`);
      expect(css).toContain(`content:"${text.itemsOnly}"`);
      const [before, between] = text.page.split(/\{pages?\}/);
      expect(css).toContain(`content:"${before}" counter(page) "${between}" counter(pages)`);
    }
  });
  it("carries the typeface itself, and its second file only where a name needs it", () => {
    const faces = (record: SetupReport): string[] =>
      [...styleOf(record).matchAll(/base64,([A-Za-z0-9+/=]+)/g)].map((match) => match[1] ?? "");
    const files = (always: boolean): string[] =>
      FONTS.filter((font) => font.always || !always).map((font) =>
        Buffer.from(assets.fonts[font.file] ?? []).toString("base64"),
      );
    expect(faces(report)).toEqual(files(true));
    expect(faces({ ...report, setup: { ...report.setup, operator: "Łukasz" } })).toEqual(files(false));
    expect(styleOf(report)).toContain('"Plinth Sans"');
  });
  it("says which file is missing when one was not handed in", () => {
    for (const part of ["templates", "styles", "fonts"] as const) {
      for (const name of Object.keys(assets[part])) {
        if (name.includes("latin-ext")) continue;
        const { [name]: _, ...rest } = assets[part] as Record<string, never>;
        expect(() => htmlOf(report, { assets: { ...assets, [part]: rest } }), name).toThrow(name);
      }
    }
  });
});

describe("sentences", () => {
  const note = (record: Partial<SetupReport>, text: string): string =>
    words(
      pageOf({
        ...report,
        ...record,
        findings: [{ level: "note", code: "a-note", text }],
      }).querySelector(".findings tbody td"),
    ).replace(" a-note", "");
  const said = say("moved {amount} towards {name}", { amount: { mm: -0.0254, signed: true }, name: "stop" });
  const wording = { [said.text]: { template: said.template, values: said.values } };

  it("are said again in the page's unit and decimal mark", () => {
    expect(note({ wording }, said.text)).toBe("moved \u22120.025 mm towards stop");
    expect(note({ wording, show: "in" }, said.text)).toBe("moved \u22120.0010 in towards stop");
    expect(note({ wording, language: "de" }, said.text)).toBe("moved \u22120,025 mm towards stop");
  });
  it("are said in the page's language where it has them, else in English", () => {
    const [template, translated] = Object.entries(de.sentences).find(([key]) => !key.includes("{")) ?? [
      "",
      "",
    ];
    expect(template).not.toBe("");
    expect(note({ language: "de" }, template)).toBe(translated);
    expect(note({ language: "en" }, template)).toBe(template);
    expect(note({ language: "de" }, "never said before")).toBe("never said before");
  });
  it("stay as they are when their wording lacks a value", () => {
    const broken = { "it is so": { template: "it is {what}", values: {} } };
    expect(note({ wording: broken }, "it is so")).toBe("it is so");
    expect(note({ wording: {} }, "constructor")).toBe("constructor");
  });
  it("have the same values in every language", () => {
    const holes = (text: string): string[] =>
      [...text.matchAll(/\{(\w+)(?::[a-z]+)?\}/g)].map((m) => m[1] ?? "").sort();
    const pairs = (a: object, b: object): [string, string][] =>
      Object.entries(a).flatMap(([key, value]) => {
        const other = (b as Record<string, unknown>)[key];
        return typeof value === "string"
          ? [[value, String(other)] as [string, string]]
          : pairs(value as object, other as object);
      });
    for (const [english, other] of pairs(en, TEXTS.de)) expect(holes(other), english).toEqual(holes(english));
    for (const texts of [de.sentences, de.phrases])
      for (const [template, other] of Object.entries(texts)) expect(holes(other)).toEqual(holes(template));
  });
});
