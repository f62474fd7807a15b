// Both units on a page: chosen in plan, workspace or on the command line, kept in the record, aligned in each unit.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type HTMLElement, parse } from "node-html-parser";
import { beforeAll, describe, expect, it } from "vitest";
import { finishReport } from "../../src/analysis/finishReport.ts";
import { knownRounding } from "../../src/model/knownRounding.ts";
import { fill, type Said, say, valueText } from "../../src/model/say.ts";
import { readSettings } from "../../src/model/settings.ts";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { loadAssets } from "../../src/records/assets.ts";
import { diskEffects } from "../../src/records/diskEffects.ts";
import { makeReports } from "../../src/records/makeReports.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { readLogs, sha256Of } from "../../src/records/readLogs.ts";
import { placeReport, reportJson } from "../../src/records/reportStore.ts";
import { verifyReport } from "../../src/records/verify.ts";
import { quantity } from "../../src/report/format.ts";
import { renderReport } from "../../src/report/render.ts";
import { recordOf, SAMPLES } from "../golden/road.ts";

const HEAD = "plinth: 1\ndecision: {rule: simple}\n";
const planWith = (text: string) =>
  planFromText({ text: HEAD + text, name: "p.yaml", sha256: sha256Of(HEAD + text) });
const COLUMN = join(SAMPLES, "1-column");

async function columnIn(show: string): Promise<SetupReport> {
  const effects = diskEffects();
  const written = new TextDecoder().decode(await effects.readFile(join(COLUMN, "plan.yaml")));
  const text = written.replace(/^show: .*$/m, `show: ${show}`);
  const plan = planFromText({ text: text, name: "plan.yaml", sha256: sha256Of(text) });
  const { reports } = makeReports(await readLogs(effects, [COLUMN]), {
    plan,
    issued: "2026-11-25T07:00:00Z",
  });
  const [report] = reports;
  if (report === undefined) throw new Error("expected a report");
  return report;
}

describe("a plan", () => {
  it("names one unit or two", () => {
    expect(planWith("")).toMatchObject({ show: "mm", showAlso: null });
    expect(planWith("show: in\n")).toMatchObject({ show: "in", showAlso: null });
    expect(planWith("show: [in, mm]\n")).toMatchObject({ show: "in", showAlso: "mm" });
    expect(planWith("show: [mm, in]\n")).toMatchObject({ show: "mm", showAlso: "in" });
  });

  it.each(["show: [mm, mm]", "show: [mm]", "show: []", "show: [mm, in, mm]", "show: [mm, ft]", "show: 25.4"])(
    "is refused with the right way to write it: %s",
    (line) =>
      expect(() => planWith(`${line}\n`)).toThrow(
        /"show".*(mm, in, or both|two units|two different units|mm or in)/,
      ),
  );

  it("is followed by the workspace's settings, with their language", () => {
    const read = readSettings("show: [in, mm]\nlanguage: de\n", "plinth.yaml");
    expect(read).toMatchObject({ ok: true, settings: { show: "in", showAlso: "mm", language: "de" } });
    expect(readSettings("language: fr\n", "plinth.yaml").ok).toBe(false);
  });
});

describe("a record", () => {
  it("keeps which units its page has, and verifies with them", async () => {
    const both = await columnIn("[in, mm]");
    expect([both.show, both.showAlso]).toEqual(["in", "mm"]);
    expect(verifyReport(both)).toMatchObject({ ok: true });
    const one = await columnIn("in");
    expect(one.showAlso).toBeUndefined();
    expect(verifyReport(one)).toMatchObject({ ok: true });
    // Numbers of the record are the same whatever the page shows.
    expect(both.characteristics).toEqual(one.characteristics);
    expect(both.wording).toEqual(one.wording);
  });
});

describe("a page asked for in other units", () => {
  it("is the next revision, never the old page", async () => {
    const folder = mkdtempSync(join(tmpdir(), "plinth-units-"));
    try {
      const one = await columnIn("in");
      const first = await placeReport(diskEffects(), folder, one);
      writeFileSync(`${first.base}.json`, reportJson(first.report));
      expect((await placeReport(diskEffects(), folder, one)).status).toBe("kept");
      for (const more of [{ showAlso: "mm" }, { show: "mm" }, { language: "de" }] as const) {
        const next = await placeReport(diskEffects(), folder, { ...one, ...more });
        expect([next.status, next.report.report.revision]).toEqual(["written", 2]);
      }
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

describe("a result that shows again", () => {
  it("has the same digits in results, advice, features and sentences", async () => {
    const report = await recordOf(join(SAMPLES, "2-chuck-and-blank"));
    const page = parse(renderReport(report, { assets: await loadAssets(), page: "a4" }));
    for (const svg of page.querySelectorAll("figure, style")) svg.remove();
    const text = page.structuredText.replace(/\s+/g, " ");
    const eccentricity = report.characteristics.find(({ id }) => id === "rim-eccentricity");
    expect(report.advice.find(({ kind }) => kind === "centering")?.values.eccentricity).toBe(
      eccentricity?.value,
    );
    expect(text.match(/0\.0121 mm/g)?.length).toBeGreaterThanOrEqual(4);
    expect(text).toContain("eccentricity = 0.0121 mm");
    expect(text).not.toMatch(/(?<![\d.])0\.012 mm/);
  });

  it("keeps its own digits where it is something else, and knows only what it was told", () => {
    const known = knownRounding({
      characteristics: [
        { value: 0.0121, unit: "mm", uncertainty: 0.0014, limits: { lower: null, upper: 0.02 } },
        { value: 0.5, unit: "deg", uncertainty: 0.1, limits: { lower: null, upper: 1 } },
        { value: null, unit: "mm", uncertainty: null, limits: { lower: null, upper: 1 } },
      ] as unknown as SetupReport["characteristics"],
    });
    const style = { show: "mm", decimal: ".", known } as const;
    expect(valueText({ mm: 0.0121 }, style)).toBe("0.0121 mm");
    expect(valueText({ mm: 0.0121, digits: 2 }, style)).toBe("0.01 mm");
    expect(valueText({ mm: 0.0122 }, style)).toBe("0.012 mm");
    expect(quantity(0.0121, "mm", style).number).toBe("0.0121");
    expect(quantity(0.5, "mm", style).number).toBe("0.500");
    expect(quantity(0.0121, "deg", style).number).toBe("0.0121");
  });
});

describe("two sentences that read alike in mm", () => {
  it("are told apart in the record, so that each says its own number in inch", () => {
    // 0.0139 mm is 0.00055 in and 0.0144 mm is 0.00057 in: both read 0.014 mm, the tenths are 0.0005 and 0.0006.
    const said = [0.01385, 0.0144, 0.01385].map((mm) => say("off by {e}", { e: { mm } }));
    const report = finishReport({ findings: said } as unknown as SetupReport<Said>);
    const texts = report.findings as unknown as readonly string[];
    expect(texts).toEqual(["off by 0.014 mm", "off by 0.0144 mm", "off by 0.014 mm"]);
    const inches = texts.map((text) => {
      const { template = "", values = {} } = report.wording?.[text] ?? {};
      return fill(template, values, { show: "in", decimal: "." });
    });
    expect(inches).toEqual(["off by 0.0005 in", "off by 0.0006 in", "off by 0.0005 in"]);
  });
});

describe.each([
  ["[in, mm]", "in", "mm"],
  ["[mm, in]", "mm", "in"],
] as const)("a page with %s", (show, first, second) => {
  let page: HTMLElement;
  beforeAll(async () => {
    page = parse(renderReport(await columnIn(show), { assets: await loadAssets(), page: "a4" }));
  });
  const cells = (table: HTMLElement, column: number, which: string): HTMLElement[] =>
    table
      .querySelectorAll("tr")
      .flatMap((row) => row.querySelectorAll("td.n")[column]?.querySelectorAll(which) ?? []);

  it("has both units on every length of a table, the second in brackets", () => {
    const quantities = page.querySelectorAll("td.n > .quantity:not(.also)");
    const lengths = quantities.filter((one) => one.querySelector(".unit")?.text.trim().startsWith(first));
    expect(lengths.length).toBeGreaterThan(20);
    for (const length of lengths) {
      const also = length.nextElementSibling;
      expect(also?.classList.contains("also")).toBe(true);
      expect(also?.text).toMatch(new RegExp(`^\\([+\\u2212]?\\d+(\\.\\d+)? ${second}(/(m|in))?\\)$`));
    }
    for (const angle of quantities.filter((one) => one.querySelector(".unit")?.text === "°"))
      expect(angle.nextElementSibling).toBeNull();
  });

  it("says one length in both: 1 in is 25.4 mm", () => {
    for (const also of page.querySelectorAll(".also")) {
      const [one, other] = [also.previousElementSibling, also].map((cell) =>
        (cell?.querySelector(".number")?.text ?? "").replace("(", "").replace("\u2212", "-"),
      );
      const unit = also.querySelector(".unit")?.text ?? "";
      const factor = unit.includes("/") ? 1000 : 25.4;
      const [mm = "", inch = ""] = unit.includes("mm") ? [other, one] : [one, other];
      const last = (text: string): number => 10 ** -(text.split(".")[1]?.length ?? 0);
      expect(Math.abs(Number(mm) - Number(inch) * factor)).toBeLessThanOrEqual(
        0.5001 * (last(mm) + factor * last(inch)),
      );
    }
  });

  it("stands on the decimal mark in each unit", () => {
    let seen = 0;
    for (const table of page.querySelectorAll("table.results, .offsets table")) {
      for (const column of [0, 1, 2]) {
        for (const which of [".quantity:not(.also)", ".quantity.also"]) {
          const places = cells(table, column, which).map(
            (cell) =>
              (cell.querySelector(".number")?.text.split(".")[1]?.length ?? 0) +
              Number(/pad-(\d)/.exec(cell.querySelector(".pad")?.getAttribute("class") ?? "")?.[1] ?? 0),
          );
          expect(new Set(places).size).toBeLessThanOrEqual(1);
          seen += places.length;
        }
      }
    }
    expect(seen).toBeGreaterThan(30);
  });

  it("has both in its sentences, and one in its pictures", () => {
    const card = page.querySelector(".card")?.text ?? "";
    expect(card).toMatch(new RegExp(`\\d ${first} \\([+\\u2212]?[\\d.]+ ${second}\\)`));
    const drawn = page.querySelectorAll("svg text").map((text) => text.text);
    expect(drawn.some((text) => text.includes(` ${first}`))).toBe(true);
    expect(drawn.filter((text) => /\(.*\d/.test(text))).toEqual([]);
  });
});
