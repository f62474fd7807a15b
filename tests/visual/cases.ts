// What is printed and compared: a whole setup on either sheet, every picture, and a page without data.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { loadAssets } from "../../src/records/assets.ts";
import type { PageSize } from "../../src/report/pageStyle.ts";
import { openPrinter } from "../../src/report/print.ts";
import { renderReport } from "../../src/report/render.ts";
import { recordOf, SAMPLES } from "../golden/road.ts";
import { emptyReport, pictureReport, report } from "../report/fixtures.ts";
import type { PageInk } from "./compare.ts";
import { openPageDrawer, type PageDrawer } from "./pages.ts";

export interface VisualCase {
  readonly name: string;
  readonly page: PageSize;
  readonly record: () => Promise<SetupReport>;
  /** Parts that are cut off the page, to keep it short. */
  readonly without?: readonly string[];
}

/** A short setup, for trying the comparison itself. */
export const SHORT_CASE: VisualCase = {
  name: "short-a4",
  page: "a4",
  without: ["findings", "exclusions", "logs", "gauges", "decision", "assumptions", "cautions"],
  record: () =>
    Promise.resolve({
      ...report,
      features: Object.fromEntries(Object.entries(report.features).slice(0, 1)),
      advice: report.advice.filter(({ kind }) => kind === "work-offset"),
      logs: [],
      findings: [],
      signOffs: [],
      characteristics: [...report.characteristics, ...report.characteristics].map((entry, index) => ({
        ...entry,
        id: `${entry.id}-${index}`,
      })),
    }),
};

export const VISUAL_CASES: readonly VisualCase[] = [
  SHORT_CASE,
  { name: "column-a4", page: "a4", record: () => recordOf(`${SAMPLES}1-column`) },
  { name: "chuck-letter", page: "letter", record: () => recordOf(`${SAMPLES}2-chuck-and-blank`) },
  {
    name: "pictures-german-a4",
    page: "a4",
    record: () => Promise.resolve({ ...pictureReport, language: "de" }),
  },
  { name: "nothing-measured-letter", page: "letter", record: () => Promise.resolve(emptyReport) },
];

/** Folder of the references: `NAME-PAGES.png`, the pages side by side. */
export const REFERENCES = fileURLToPath(new URL("./", import.meta.url));

/**
 * Blocks in tones in place of letters, so that layout is compared and not a typeface. A cell has a tone by its place from the left
 * and one by its place from the right: where a column is lost, half of every row changes.
 */
const PAINT = readFileSync(new URL("./paint.css", import.meta.url), "utf8");

export interface VisualBench {
  readonly drawer: PageDrawer;
  page(one: VisualCase): Promise<string>;
  /** Printed in tones, and drawn. */
  draw(html: string, one: VisualCase): Promise<readonly PageInk[]>;
  close(): Promise<void>;
}

export async function openVisualBench(): Promise<VisualBench> {
  const [assets, printer, drawer] = [await loadAssets(), await openPrinter(), await openPageDrawer()];
  if (!printer.available) throw new Error(printer.sentence);
  const metadata = {
    title: "",
    author: "",
    subject: "",
    creator: "",
    created: "2026-11-25T07:00:00Z",
  };
  return {
    drawer,
    page: async ({ record, page, without = [] }) =>
      without.reduce(
        (html, part) => html.replace(new RegExp(`<section class="part-${part}"[\\s\\S]*?</section>`), ""),
        renderReport(await record(), { assets, page }),
      ),
    draw: async (html, { page }) =>
      drawer.draw(
        await printer.print(html.replace("</head>", `<style>${PAINT}</style></head>`), { page, metadata }),
      ),
    close: async () => {
      await printer.close();
      await drawer.close();
    },
  };
}
