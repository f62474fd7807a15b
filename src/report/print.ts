import { availableParallelism } from "node:os";
import type { Attachment, PdfMetadata, Sheet } from "./print/attach.ts";
import { attachFiles } from "./print/attach.ts";
import type { BrowserProcess } from "./print/browserProcess.ts";
import { startBrowser } from "./print/browserProcess.ts";
import type { BrowserChoice, BrowserSearch } from "./print/findBrowser.ts";
import { findBrowser } from "./print/findBrowser.ts";
import type { SheetPage } from "./print/sheetPage.ts";
import { openSheetPage } from "./print/sheetPage.ts";

export type { Attachment, PdfMetadata, Sheet } from "./print/attach.ts";
export type { BrowserChoice, BrowserSearch } from "./print/findBrowser.ts";
export { printTestPage } from "./print/printTestPage.ts";

const START_MS = 60_000;
const PRINT_MS = 60_000;
const REASON_LENGTH = 300;
/** Pages that are printed at the same time, where there are processors for them. */
const LANES = 2;

/** What goes into one PDF beside the page itself. */
export interface PrintRequest {
  /** The sheet where the page's own `@page` rule names none. */
  readonly page: Sheet;
  readonly attachments?: readonly Attachment[];
  readonly metadata: PdfMetadata;
}

/** A running browser that turns pages into PDFs, a few at a time. */
export interface Printer {
  readonly available: true;
  /** The browser that is printing, with its version and sandbox as they turned out. */
  readonly browser: BrowserChoice;
  /** Number of the browser's process; another one after a crash. */
  readonly processId: number;
  /**
   * Prints one page. The same input gives the same bytes in the same browser version.
   * A browser that crashes or hangs is started again, once for each page.
   * @throws Error when the page cannot be printed even so
   */
  print(html: string, request: PrintRequest): Promise<Uint8Array>;
  /** Ends the browser; no print is possible afterwards. */
  close(): Promise<void>;
}

/** There is no browser, or it does not start: one sentence that says what to do. */
export interface PrinterUnavailable {
  readonly available: false;
  readonly sentence: string;
}

/** How the printer is opened. */
export interface PrinterOptions extends BrowserSearch {
  /** How long the browser may take to start, in milliseconds. */
  readonly startTimeoutMs?: number;
  /** How long one page may take, in milliseconds. */
  readonly printTimeoutMs?: number;
}

interface Started {
  readonly choice: BrowserChoice;
  readonly process: BrowserProcess;
  /** Opened as they are needed. */
  readonly sheets: Promise<SheetPage>[];
}
interface Lane {
  waiting: number;
  last: Promise<unknown>;
}

function reasonOf(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  // A browser's words run over many lines; the one with the cause is marked as fatal or stands first.
  const lines = text.split("\n").filter((line) => line.trim() !== "");
  const line = lines.find((one) => /FATAL|error while loading/.test(one)) ?? lines[0] ?? text;
  // What stands in brackets before it is place and time in the browser's own sources; after it comes advice on flags.
  const sentence = /^.*?[.!](?=\s|$)/.exec(line.replace(/^\[[^\]]*\]\s*/, ""))?.[0] ?? line;
  return sentence.trim().replace(/[.!]$/, "").slice(0, REASON_LENGTH);
}

async function start(choice: BrowserChoice, timeoutMs: number): Promise<Started> {
  const process = await startBrowser(choice, timeoutMs);
  try {
    const version = (await process.browser.version()).replace(/^.*\//, "");
    const sheet = openSheetPage(process.browser);
    await sheet;
    return { choice: { ...choice, version }, process, sheets: [sheet] };
  } catch (error) {
    process.kill();
    throw error;
  }
}

/** Starts with the sandbox, and without it only where the browser itself says that it cannot be had. */
async function startSettled(found: BrowserChoice, timeoutMs: number): Promise<Started> {
  if (!found.sandbox) {
    const why = `${found.why} The sandbox is off, because the browser does not offer it to the user root.`;
    return start({ ...found, why }, timeoutMs);
  }
  try {
    return await start(found, timeoutMs);
  } catch (error) {
    const words = error instanceof Error ? error.message : String(error);
    if (process.platform !== "linux" || !/sandbox|namespace/i.test(words)) throw error;
    const why = `${found.why} The sandbox is off, because it could not be had here: ${reasonOf(error)}.`;
    return start({ ...found, sandbox: false, why }, timeoutMs);
  }
}

async function startFirst(options: PrinterOptions): Promise<Started | PrinterUnavailable> {
  const except = [...(options.except ?? [])];
  const troubles: string[] = [];
  for (;;) {
    const found = await findBrowser({ ...options, except });
    if ("missing" in found) return { available: false, sentence: [...troubles, found.missing].join(" ") };
    try {
      const started = await startSettled(found, options.startTimeoutMs ?? START_MS);
      const why = [...troubles, started.choice.why].join(" ");
      return { ...started, choice: { ...started.choice, why } };
    } catch (error) {
      troubles.push(`The browser ${found.executable} did not start: ${reasonOf(error)}.`);
      // Whoever named a browser wants that one; an own one may give way to another.
      if (found.source !== "bundled") return { available: false, sentence: troubles.join(" ") };
      except.push(found.source);
    }
  }
}

function within<T>(work: Promise<T>, milliseconds: number): Promise<T> {
  return new Promise((resolve, reject) => {
    const sentence = `the page was not printed within ${milliseconds / 1000} s`;
    const timer = setTimeout(() => reject(new Error(sentence)), milliseconds);
    work.then(resolve, reject).finally(() => clearTimeout(timer));
  });
}

/**
 * Starts the browser that prints. It has no way to the network and runs no script; it ends with `close`, and with this
 * process whatever ends it.
 * @param options where to look for a browser; all have defaults
 * @returns the printer, or a sentence that says what is missing
 */
export async function openPrinter(options: PrinterOptions = {}): Promise<Printer | PrinterUnavailable> {
  const first = await startFirst(options);
  if ("available" in first) return first;
  const printMs = options.printTimeoutMs ?? PRINT_MS;
  let live: Started = first;
  let starting: Promise<Started> | null = null;
  let closed = false;
  const lanes = Array.from({ length: Math.min(LANES, availableParallelism()) }, (): Lane => {
    return { waiting: 0, last: Promise.resolve() };
  });

  /** Another browser in place of the one that failed; one for all pages that it failed. */
  function startAgain(failed: Started): Promise<Started> {
    if (live !== failed) return Promise.resolve(live);
    starting ??= restart(failed).finally(() => {
      starting = null;
    });
    return starting;
  }
  async function restart(failed: Started): Promise<Started> {
    failed.process.kill();
    live = await start(failed.choice, options.startTimeoutMs ?? START_MS);
    return live;
  }

  async function attempt(on: Started, lane: number, html: string, sheet: Sheet): Promise<Uint8Array> {
    const opened = on.sheets[lane] ?? openSheetPage(on.process.browser);
    on.sheets[lane] = opened;
    return within(
      opened.then((page) => page.print(html, sheet, printMs)),
      printMs,
    );
  }

  async function printPage(lane: number, html: string, sheet: Sheet): Promise<Uint8Array> {
    const on = live;
    try {
      return await attempt(on, lane, html, sheet);
    } catch (error) {
      if (closed) throw error;
      return attempt(await startAgain(on), lane, html, sheet);
    }
  }

  return {
    available: true,
    browser: first.choice,
    get processId() {
      return live.process.processId;
    },
    print(html, request) {
      if (closed) return Promise.reject(new Error("the printer is closed"));
      const shortest = lanes.reduce((best, lane) => (lane.waiting < best.waiting ? lane : best));
      shortest.waiting++;
      const page = shortest.last.then(() => printPage(lanes.indexOf(shortest), html, request.page));
      shortest.last = page
        .catch(() => undefined)
        .finally(() => {
          shortest.waiting--;
        });
      return page.then((pdf) => attachFiles(pdf, request.metadata, request.attachments));
    },
    async close() {
      closed = true;
      await Promise.all(lanes.map((lane) => lane.last));
      await live.process.close();
    },
  };
}
