// A language is whole when every sentence that the sources can say is in it, and nothing of English is left on its page.
import { join } from "node:path";
import { parse } from "node-html-parser";
import { beforeAll, describe, expect, it } from "vitest";
import { LANGUAGES } from "../../src/model/language.ts";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { loadAssets } from "../../src/records/assets.ts";
import { reportJson } from "../../src/records/reportStore.ts";
import type { ReportAssets } from "../../src/report/assets.ts";
import { renderReport } from "../../src/report/render.ts";
import { reportCsv } from "../../src/report/reportCsv.ts";
import { TEXTS } from "../../src/report/texts/index.ts";
import type { Texts } from "../../src/report/texts/words.ts";
import { translator } from "../../src/report/translate.ts";
import { cases, recordOf, SAMPLES } from "../golden/road.ts";
import { ENGLISH } from "./englishWords.ts";
import { reportOf, TROUBLED } from "./germanSetups.ts";
import { HOLE, sentencesOf, sentencesOfSources } from "./sentenceSources.ts";

/** Languages that have their own words for the record's sentences. */
const OTHERS = LANGUAGES.filter((language) => language !== "en");
const PLACEHOLDER = /\{([a-zA-Z0-9]+)(?::[a-z]+)?\}/g;
const placeholders = (text: string): string[] =>
  [...text.matchAll(PLACEHOLDER)].map(([, name]) => name ?? "").sort();
const hasWords = (text: string): boolean =>
  /\p{L}{2}/u.test(text.replace(PLACEHOLDER, "").replaceAll(HOLE, ""));

/** What a language lacks of the sentences of the sources. */
function lacking(texts: Texts, sentences: readonly { readonly text: string }[]): string[] {
  const { plain } = translator(texts);
  return sentences
    .map(({ text }) => text)
    .filter((text) => hasWords(text) && !Object.hasOwn(texts.sentences, text))
    .filter((text) => {
      const said = text.replaceAll(HOLE, "7");
      return placeholders(text).length > 0 || plain(said) === said;
    });
}

describe("the sources", () => {
  it("are read for every sentence, however it is put together", () => {
    const source = `
      const EITHER = { up: "it went up by {much}", down: "it went down by {much}" } as const;
      const plural = (n: number): string => (n === 1 ? "one reading" : "some readings");
      function tell(template: string) { return say(template, {}); }
      tell("told by a helper");
      say(ok ? "all is well" : \`not well: \${plural(2)}\`);
      say(EITHER[way], { much });
      say("seen " + "in line " + line);
      notes.decide("unit", "mm", "because of that");
    `;
    const texts = sentencesOf("analysis/x.ts", source).map(({ text }) => text);
    expect(new Set(texts)).toEqual(
      new Set([
        "told by a helper",
        "all is well",
        "not well: one reading",
        "not well: some readings",
        "it went up by {much}",
        "it went down by {much}",
        `seen in line ${HOLE}`,
      ]),
    );
    expect(sentencesOf("ingest/x.ts", source).map(({ text }) => text)).toContain("because of that");
  });

  it("hold hundreds of sentences, few of which nobody can know before running", () => {
    const all = sentencesOfSources();
    expect(all.length).toBeGreaterThan(480);
    expect(all.filter(({ text }) => text === HOLE).length).toBeLessThan(3);
  });
});

describe.each(OTHERS)("the language %s", (language) => {
  const texts = TEXTS[language];

  it("has every sentence of the sources", () => {
    expect(lacking(texts, sentencesOfSources())).toEqual([]);
  });

  it("would be told of a sentence that it lacks", () => {
    const fresh = [{ text: "The {feature} has never been said." }, { text: `a phrase with ${HOLE} in it` }];
    expect(lacking(texts, fresh)).toEqual(fresh.map(({ text }) => text));
  });

  it("has the same values in its sentences as the English ones", () => {
    for (const [english, own] of [...Object.entries(texts.sentences), ...Object.entries(texts.phrases)])
      expect(placeholders(own), english).toEqual(placeholders(english));
  });

  it("leaves no sentence empty and repeats none in English", () => {
    for (const [english, own] of Object.entries(texts.sentences)) {
      expect(own.trim(), english).not.toBe("");
      if (/\p{L}{4}/u.test(english.replace(PLACEHOLDER, ""))) expect(own).not.toBe(english);
    }
  });

  it("keeps blanks at the ends and the signs of formulas", () => {
    for (const [english, own] of Object.entries(texts.sentences)) {
      expect([own.startsWith(" "), own.endsWith(" ")], english).toEqual([
        english.startsWith(" "),
        english.endsWith(" "),
      ]);
      expect(own.match(/[-−] ?\(?\{/g)?.length ?? 0, english).toBe(
        english.match(/[-−] ?\(?\{/g)?.length ?? 0,
      );
    }
  });
});

describe("a sentence", () => {
  const { plain, phrase, translate } = translator(TEXTS.de);

  it("is looked up by its template, never by a name that looks like one", () => {
    expect(translate("{value} is above {limit}", { value: 1, limit: 2 })).toBe("{value} liegt über {limit}");
    // A value that is not there: the English template stands.
    expect(translate("{value} is above {limit}", { value: 1 })).toBe("{value} is above {limit}");
    for (const odd of ["constructor", "__proto__", "toString", ""]) expect(plain(odd)).toBe(odd);
  });

  it("of plain text is known by its phrase, with what varies in it", () => {
    expect(plain("header line 12")).toBe("Kopfzeile 12");
    expect(plain("header line 3, its unit from header line 4")).toBe(
      "Kopfzeile 3, Einheit nach: Kopfzeile 4",
    );
    expect(plain("A plane needs at least 3 different points, here are 2.")).toBe(
      "Eine Ebene braucht mindestens 3 verschiedene Punkte, hier sind 2.",
    );
    expect(plain("sag: 0.020 mm")).toBe("Durchhang: 0,020 mm");
    expect(phrase("a.csv, b.csv and c.csv", "list")).toBe("a.csv, b.csv und c.csv");
    expect(phrase("17 rows", "words")).toBe("17 Zeilen");
  });

  it("of any length costs no time to look up", () => {
    const started = performance.now();
    for (const long of ["header line ".repeat(1e5), " and ".repeat(1e4), "x in line ".repeat(40)])
      plain(long);
    expect(performance.now() - started).toBeLessThan(500);
  });
});

describe("a German page", () => {
  let assets: ReportAssets;
  beforeAll(async () => {
    assets = await loadAssets();
  });
  const pageOf = (report: SetupReport) =>
    parse(renderReport({ ...report, language: "de" }, { assets, page: "a4" }), {
      blockTextElements: { style: false },
    });
  const samples = cases(SAMPLES).map((name) => [name, () => recordOf(join(SAMPLES, name))] as const);
  const troubled = Object.entries(TROUBLED).map(
    ([name, setup]) => [name, async () => reportOf(setup)] as const,
  );

  it.each([...samples, ...troubled])("of %s has no English left", async (_, made) => {
    const report = await made();
    expect(withoutNames(visible(pageOf(report)), report).match(ENGLISH) ?? []).toEqual([]);
  });

  it.each([...samples, ...troubled])("of %s has a comma in every number", async (_, made) => {
    const report = await made();
    const text = withoutNames(visible(pageOf(report)), report);
    // Versions, dates and names of the job are no numbers.
    expect(text.match(/(?<![\d.])\d+\.\d+(?![\d.])/g) ?? []).toEqual([]);
    expect(text.match(/\d,\d/g)?.length ?? 0).toBeGreaterThan(5);
  });

  it("says which language it is in, and so does an English one", async () => {
    const report = await recordOf(join(SAMPLES, "1-column"));
    expect(pageOf(report).querySelector("html")?.getAttribute("lang")).toBe("de");
    const english = parse(renderReport(report, { assets, page: "a4" }));
    expect(english.querySelector("html")?.getAttribute("lang")).toBe("en");
  });

  it("leaves points in the data", async () => {
    const report = await recordOf(join(SAMPLES, "2-chuck-and-blank"));
    const german: SetupReport = { ...report, language: "de" };
    expect(reportCsv(german)).toBe(reportCsv(report));
    expect(reportCsv(german)).toMatch(/\d\.\d/);
    const json = reportJson(german);
    expect(JSON.parse(json)).toEqual(german);
    expect(json).toBe(reportJson(report).replace('"language": "en"', '"language": "de"'));
  });
});

/** What a reader sees: without styles, codes of findings, and what stands word for word in a log's header. */
function visible(page: ReturnType<typeof parse>): string {
  for (const hidden of page.querySelectorAll("head, style, title, desc, .code, .hash, .head-lines, .header"))
    hidden.remove();
  return page.querySelector("body")?.structuredText ?? "";
}

/** The text without words of the job itself: names of plan, log, people and things. */
function withoutNames(text: string, report: SetupReport): string {
  const names = [
    report.plan.title,
    report.plan.name,
    report.report.id,
    report.generator.version,
    ...Object.entries(report.setup).flat(),
    ...report.logs.flatMap((log) => [
      log.name,
      log.sha256,
      ...Object.entries(log.header).map(([key, value]) => `${key} ${value}`),
    ]),
    ...Object.keys(report.features),
    ...report.characteristics.map(({ id }) => id),
    ...report.signOffs.flatMap(({ id, ask, by, time }) => [id, ask, by ?? "", time ?? ""]),
    ...report.instruments.flatMap(({ name }) => name),
    ...report.advice.flatMap(({ moves }) => moves.map(({ at }) => at)),
    ...report.logs.flatMap((log) => Object.values(log.header)),
    // Column names and keys are words of the files, the same in every language.
    ...report.logs.flatMap(({ decisions }) =>
      decisions
        .filter(({ what }) => what === "columns")
        .flatMap(({ value }) => [value, ...value.split(", ")]),
    ),
    "points:",
    ...[...report.plan.text.matchAll(/name: ([^,}\n]+)/g)].map(([, name]) => name ?? ""),
  ];
  return [...new Set(names)]
    .filter((name) => name.length > 1)
    .sort((a, b) => b.length - a.length)
    .reduce((rest, name) => rest.replaceAll(name, " "), text);
}
