import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import type { PDFDocumentProxy } from "pdfjs-dist/legacy/build/pdf.mjs";

/** A file found in a PDF. */
export interface ExtractedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly description: string;
}

/** What a PDF holds. */
export interface ExtractedPdf {
  readonly ok: true;
  /** The visible text of each page in reading order, one line per line of the page. */
  readonly pages: readonly string[];
  /** Width and height of each page in points of 1/72 inch. */
  readonly sizes: readonly { readonly width: number; readonly height: number }[];
  readonly attachments: readonly ExtractedFile[];
  readonly title: string;
  readonly language: string;
  readonly tagged: boolean;
  /** Headings of the outline, in order, with their depth from 0. */
  readonly outline: readonly { readonly title: string; readonly depth: number }[];
}

/** Why a file could not be read as a PDF, in one sentence. */
export interface NotExtracted {
  readonly ok: false;
  readonly sentence: string;
}

interface OutlineItem {
  readonly title: string;
  readonly items: readonly OutlineItem[];
}

async function open(bytes: Uint8Array): Promise<PDFDocumentProxy> {
  const pdfjs = await import("pdfjs-dist/legacy/build/pdf.mjs");
  // Named in full, because a bundle of this program lies elsewhere than the reader's own files.
  const { resolve } = createRequire(import.meta.url);
  const folder = dirname(resolve("pdfjs-dist/package.json"));
  const worker = join(folder, "legacy", "build", "pdf.worker.mjs");
  pdfjs.GlobalWorkerOptions.workerSrc = pathToFileURL(worker).href;
  // The reader takes the memory it is given: it gets its own copy.
  return pdfjs.getDocument({
    data: Uint8Array.from(bytes),
    // Without these, text in a font that is not embedded would not be seen.
    standardFontDataUrl: `${folder}/standard_fonts/`,
    cMapUrl: `${folder}/cmaps/`,
    cMapPacked: true,
    isEvalSupported: false,
    useSystemFonts: false,
    disableFontFace: true,
    verbosity: pdfjs.VerbosityLevel.ERRORS,
  }).promise;
}

async function pageText(pdf: PDFDocumentProxy, number: number): Promise<string> {
  const page = await pdf.getPage(number);
  // Left as it is, the micro sign and its like keep the code they were written with.
  const content = await page.getTextContent({ disableNormalization: true });
  const pieces = content.items.map((item) => ("str" in item ? item.str + (item.hasEOL ? "\n" : "") : ""));
  page.cleanup();
  return pieces.join("");
}

async function readFiles(pdf: PDFDocumentProxy): Promise<ExtractedFile[]> {
  const found: unknown = await pdf.getAttachments();
  if (typeof found !== "object" || found === null) return [];
  return Object.entries(found).flatMap(([name, file]: [string, unknown]) => {
    if (typeof file !== "object" || file === null || !("content" in file)) return [];
    if (!(file.content instanceof Uint8Array)) return [];
    const description = "description" in file && typeof file.description === "string" ? file.description : "";
    return [{ name, bytes: Uint8Array.from(file.content), description }];
  });
}

function flatten(items: readonly OutlineItem[], depth: number): { title: string; depth: number }[] {
  return items.flatMap(({ title, items: below }) => [{ title, depth }, ...flatten(below, depth + 1)]);
}

function textOf(record: object, key: string): string {
  const value: unknown = Object.entries(record).find(([name]) => name === key)?.[1];
  return typeof value === "string" ? value : "";
}

async function read(pdf: PDFDocumentProxy): Promise<ExtractedPdf> {
  const pages: string[] = [];
  const sizes: { width: number; height: number }[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) {
    pages.push(await pageText(pdf, number));
    const [left = 0, bottom = 0, right = 0, top = 0] = (await pdf.getPage(number)).view;
    sizes.push({ width: right - left, height: top - bottom });
  }
  const { info } = await pdf.getMetadata();
  const outline: readonly OutlineItem[] = (await pdf.getOutline()) ?? [];
  const marks: unknown = await pdf.getMarkInfo();
  return {
    ok: true,
    pages,
    sizes,
    attachments: await readFiles(pdf),
    title: textOf(info, "Title"),
    language: textOf(info, "Language"),
    tagged: typeof marks === "object" && marks !== null && "Marked" in marks && marks.Marked === true,
    outline: flatten(outline, 0),
  };
}

/**
 * Reads what a PDF holds, whoever saved it last: its visible text, the files enclosed in it and what it says of
 * itself. Nothing in it is run.
 * @param bytes the whole file
 * @returns the contents, or a sentence why it cannot be read (not a PDF, damaged, locked with a password)
 */
export async function extractPdf(bytes: Uint8Array): Promise<ExtractedPdf | NotExtracted> {
  let pdf: PDFDocumentProxy | undefined;
  try {
    pdf = await open(bytes);
    return await read(pdf);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return { ok: false, sentence: `The file cannot be read as a PDF: ${reason.replace(/\.$/, "")}.` };
  } finally {
    await pdf?.destroy();
  }
}
