import { setImmediate } from "node:timers/promises";
import type { Effects } from "../model/effects.ts";
import type { SetupReport } from "../model/setupReport.ts";
import { reportCsv } from "../report/reportCsv.ts";
import { loadAssets } from "./assets.ts";
import type { PdfMaker } from "./pdfFor.ts";
import { qifOf } from "./qifOf.ts";
import { type FindRevisions, placeReport, reportJson, revisionsListed } from "./reportStore.ts";

export type Format = "json" | "html" | "pdf" | "csv" | "qif";
export interface PublishOptions {
  readonly folder: string;
  readonly formats: readonly Format[];
  readonly page: "a4" | "letter";
  readonly onDone?: () => void;
  /** Belongs to the caller, who closes it. */
  readonly printer: PdfMaker;
  /** How earlier revisions are found; else the folder is listed once. */
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
  reports: Iterable<SetupReport>,
  options: PublishOptions,
): Promise<{ published: PublishedReport[]; noPdf: string | null }> {
  const wantsPages = options.formats.some((format) => format === "html" || format === "pdf");
  const renderer = wantsPages ? await pageRenderer(options.page) : null;
  const publish = publisherTo(effects, options, renderer);
  const last = new Map<string, Promise<Published>>();
  const done = await fewAtOnce(reports, async (report) => {
    // What a disk may take for one name is written one after the other.
    const name = report.report.id.toLowerCase();
    const result = Promise.resolve(last.get(name)).then(() => publish(report));
    last.set(name, result);
    await result;
    options.onDone?.();
    return result;
  });
  return {
    published: done.map(({ report, files, written, status }) => ({ report, files, written, status })),
    noPdf: done.findLast((result) => result.noPdf !== null)?.noPdf ?? null,
  };
}

/** Reports in work at the same time: while one is printed another is worked out and a third is written. */
const AT_ONCE = 4;
/** Does work for each, a few at a time, and gives the results in order. After a failure nothing new is begun. */
async function fewAtOnce<T, R>(all: Iterable<T>, work: (one: T) => Promise<R>): Promise<R[]> {
  const results: R[] = [];
  const rest = all[Symbol.iterator]();
  let count = 0;
  let failed = false;
  const worker = async (): Promise<void> => {
    for (;;) {
      // What has come from the browser meanwhile goes first.
      await setImmediate();
      if (failed) return;
      try {
        const next = rest.next();
        if (next.done === true) return;
        const at = count++;
        results[at] = await work(next.value);
      } catch (error) {
        failed = true;
        throw error;
      }
    }
  };
  const workers = Array.from({ length: AT_ONCE }, worker);
  // A printer must not be closed under those that are still at work.
  await Promise.allSettled(workers);
  await Promise.all(workers);
  return results;
}

type Published = PublishedReport & { readonly noPdf: string | null };

/** Writes one report in all its formats. */
function publisherTo(
  effects: Effects,
  { folder, formats, page, printer, revisions }: PublishOptions,
  renderer: ((report: SetupReport) => string) | null,
): (made: SetupReport) => Promise<Published> {
  const find = revisions ?? revisionsListed();
  return async (made) => {
    const placed = await placeReport(effects, folder, made, find);
    const files: string[] = [];
    const written: string[] = [];
    let noPdf: string | null = null;
    let html: string | null = null;
    for (const format of [...formats].reverse()) {
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
        const content = format === "html" ? html : await printer.print(html, placed.report, page);
        if (typeof content !== "string" && "sentence" in content) {
          noPdf = content.sentence;
          continue;
        }
        await effects.writeFile(path, content);
      }
      files.unshift(path);
      written.unshift(path);
    }
    return { report: placed.report, files, written, status: placed.status, noPdf };
  };
}

async function pageRenderer(page: "a4" | "letter"): Promise<(report: SetupReport) => string> {
  const { renderReport } = await import("../report/render.ts");
  const assets = await loadAssets();
  return (report) => renderReport(report, { assets, page });
}
