import type { Effects } from "../model/effects.ts";
import type { SetupReport } from "../model/setupReport.ts";
import { reportCsv } from "../report/reportCsv.ts";
import { loadAssets } from "./assets.ts";
import { type PdfMaker, pdfFor } from "./pdfFor.ts";
import { qifOf } from "./qifOf.ts";
import { type FindRevisions, placeReport, reportJson } from "./reportStore.ts";

export type Format = "json" | "html" | "pdf" | "csv" | "qif";
export interface PublishOptions {
  readonly folder: string;
  readonly formats: readonly Format[];
  readonly page: "a4" | "letter";
  readonly onDone?: () => void;
  /** Printer of whoever prints more afterwards and closes it; else one is opened for these reports. */
  readonly printer?: PdfMaker;
  /** How earlier revisions are found; else the folder is listed. */
  readonly revisions?: FindRevisions;
}
export interface PublishedReport {
  readonly report: SetupReport;
  /** Paths of what is there now, in the order of the formats. */
  readonly files: readonly string[];
  /** Those of `files` that this run wrote. */
  readonly written: readonly string[];
  readonly status: "written" | "kept";
}

/**
 * Writes reports into a folder, each whole or not at all, with one browser for all PDFs. JSON goes last: where it is,
 * the others are. A revision with the same inputs is left alone; a rendering that it lacks is made from its JSON.
 */
export async function publishReports(
  effects: Effects,
  reports: readonly SetupReport[],
  options: PublishOptions,
): Promise<{ published: PublishedReport[]; noPdf: string | null }> {
  const wantsPages = options.formats.some((format) => format === "html" || format === "pdf");
  const renderer = wantsPages ? await pageRenderer(options.page) : null;
  const printer = options.printer ?? pdfFor();
  const published: PublishedReport[] = [];
  let noPdf: string | null = null;
  try {
    for (const made of reports) {
      const placed = await placeReport(effects, options.folder, made, options.revisions);
      const files: string[] = [];
      const written: string[] = [];
      let html: string | null = null;
      for (const format of [...options.formats].reverse()) {
        const path = `${placed.base}.${format}`;
        if (placed.status === "kept" && (await effects.exists(path))) {
          files.unshift(path);
          continue;
        }
        if (format === "json") await effects.writeFile(path, reportJson(placed.report));
        else if (format === "csv") await effects.writeFile(path, reportCsv(placed.report));
        else if (format === "qif") await effects.writeFile(path, qifOf(placed.report));
        else {
          html ??= renderer?.(placed.report) ?? "";
          const content = format === "html" ? html : await printer.print(html, placed.report, options.page);
          if (typeof content !== "string" && "sentence" in content) {
            noPdf = content.sentence;
            continue;
          }
          await effects.writeFile(path, content);
        }
        files.unshift(path);
        written.unshift(path);
      }
      published.push({ report: placed.report, files, written, status: placed.status });
      options.onDone?.();
    }
  } finally {
    if (options.printer === undefined) await printer.close();
  }
  return { published, noPdf };
}

async function pageRenderer(page: "a4" | "letter"): Promise<(report: SetupReport) => string> {
  const { renderReport } = await import("../report/render.ts");
  const assets = await loadAssets();
  return (report) => renderReport(report, { assets, page });
}
