import type { ExtractedPdf } from "../../src/report/print/extractPdf.ts";
import { extractPdf } from "../../src/report/print/extractPdf.ts";
import type { Printer, PrinterOptions } from "../../src/report/print.ts";
import { openPrinter } from "../../src/report/print.ts";

/** Metadata for pages whose metadata do not matter. */
export const METADATA = {
  title: "Column seat",
  author: "Shop",
  subject: "Setup report",
  creator: "Plinth",
  created: "2026-11-25T07:00:00Z",
};

/** The printer; a test without one fails with the sentence a user would read. */
export async function printerOrFail(options: PrinterOptions = {}): Promise<Printer> {
  const printer = await openPrinter(options);
  if (!printer.available) throw new Error(printer.sentence);
  return printer;
}

/** What a PDF holds; a file that is no PDF fails the test. */
export async function contents(bytes: Uint8Array): Promise<ExtractedPdf> {
  const found = await extractPdf(bytes);
  if (!found.ok) throw new Error(found.sentence);
  return found;
}
