import type { Printer } from "../print.ts";
import { extractPdf } from "./extractPdf.ts";

/** Whether a printed page really shows its text. */
export type PrintTest =
  | { readonly ok: true; readonly bytes: number }
  | { readonly ok: false; readonly sentence: string };

const WORDS = "Plinth test page 0123456789 -0.0125 mm ±0.5 µm 90° Ø";
const PAGE = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Test page</title>
<style>@page{size:A4;margin:20mm}body{font-family:sans-serif;text-rendering:geometricPrecision}</style></head>
<body><h1>Test page</h1><p>${WORDS}</p></body></html>`;

/**
 * Prints a small page and looks for its text in the PDF: a browser without fonts prints empty pages and no error.
 * @returns the size of the PDF, or a sentence that says what is wrong
 */
export async function printTestPage(printer: Printer): Promise<PrintTest> {
  try {
    const metadata = {
      title: "Test page",
      author: "",
      subject: "",
      creator: "Plinth",
      created: "2000-01-01T00:00:00Z",
    };
    const pdf = await printer.print(PAGE, { page: "a4", metadata });
    const found = await extractPdf(pdf);
    if (!found.ok) return { ok: false, sentence: found.sentence };
    const text = found.pages.join(" ").replace(/\s+/g, " ");
    if (text.includes(WORDS)) return { ok: true, bytes: pdf.length };
    return {
      ok: false,
      sentence: "The browser prints, but the text is missing from the page: it finds no font.",
    };
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return { ok: false, sentence: `The test page could not be printed: ${reason}.` };
  }
}
