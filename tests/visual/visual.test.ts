// Printed pages beside their references: another typeface passes, a lost column, picture or part does not.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { en } from "../../src/report/texts/en.ts";
import { openVisualBench, REFERENCES, SHORT_CASE, VISUAL_CASES, type VisualBench } from "./cases.ts";
import { differences, MOST_APART, type PageInk } from "./compare.ts";

const NOW = fileURLToPath(new URL("../../reports/visual/", import.meta.url));
let bench: VisualBench;
beforeAll(async () => {
  bench = await openVisualBench();
});
afterAll(() => bench?.close());

async function referenceOf(name: string): Promise<readonly PageInk[]> {
  const file = readdirSync(REFERENCES).find((one) => one.startsWith(`${name}-`) && one.endsWith(".png"));
  if (file === undefined) throw new Error(`${name} has no reference: npm run accept-pages`);
  const pages = Number(/-(\d+)\.png$/.exec(file)?.[1]);
  return bench.drawer.decode(readFileSync(`${REFERENCES}${file}`), pages);
}
const worst = (scores: readonly number[]): number => scores.reduce((most, one) => Math.max(most, one), 0);

describe("printed pages", () => {
  it.each(VISUAL_CASES)("of $name look as their reference", async (one) => {
    const now = await bench.draw(await bench.page(one), one);
    const apart = worst(differences(await referenceOf(one.name), now));
    if (apart > MOST_APART) {
      mkdirSync(NOW, { recursive: true });
      writeFileSync(`${NOW}${one.name}.png`, await bench.drawer.encode(now));
    }
    expect(apart, `now in reports/visual/${one.name}.png; npm run accept-pages takes it`).toBeLessThan(
      MOST_APART,
    );
  });

  it("have no reference without a case", () => {
    const names = readdirSync(REFERENCES)
      .filter((file) => file.endsWith(".png"))
      .map((file) => file.replace(/-\d+\.png$/, ""));
    expect(names.sort()).toEqual(VISUAL_CASES.map(({ name }) => name).sort());
  });
});

describe("the comparison", () => {
  const score = async (change: (html: string) => string): Promise<number> => {
    const one = SHORT_CASE;
    const html = await bench.page(one);
    const changed = change(html);
    expect(changed).not.toBe(html);
    return worst(differences(await referenceOf(one.name), await bench.draw(changed, one)));
  };
  const style = (css: string) => (html: string) => html.replace("</head>", `<style>${css}</style></head>`);

  it.each([
    // The page's own faces go by another name, so that the browser takes one of its own.
    [
      "another typeface",
      (html: string) =>
        html.replaceAll('@font-face{font-family:"Plinth Sans"', '@font-face{font-family:"Gone"'),
    ],
    ["wider letters", style("body { letter-spacing: 0.015em; }")],
  ])("does not trip over %s", async (_, change) => {
    expect(await score(change)).toBeLessThan(MOST_APART);
  });

  const lost = (word: string) => (html: string) =>
    html
      .replaceAll(new RegExp(`<th scope="col"[^>]*>${word}</th>`, "g"), "")
      .replaceAll(new RegExp(`<td[^>]* data-label="${word}">.*?</td>`, "gs"), "");
  it.each([
    ["the values", en.results.value],
    ["the number of points", en.results.points],
    ["the state as left", en.correction.asLeft],
    ["the change of an offset", en.offsets.change],
  ])("trips over a lost column: %s", async (_, word) => {
    expect(await score(lost(word))).toBeGreaterThan(MOST_APART);
  });

  it.each([
    ["pictures", style(".feature figure { display: none; }")],
    ["the card", style(".part-card { display: none; }")],
    ["the signatures", style(".part-signatures table { display: none; }")],
  ])("trips over lost parts: %s", async (_, change) => {
    expect(await score(change)).toBeGreaterThan(MOST_APART);
  });
});
