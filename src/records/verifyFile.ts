import type { LogFile } from "../model/measurement.ts";
import type { SetupReport } from "../model/setupReport.ts";
import { VERSION } from "../model/version.ts";
import type { ExtractedPdf } from "../report/print/extractPdf.ts";
import { loadAssets } from "./assets.ts";
import { pdfFor } from "./pdfFor.ts";
import { sha256Of } from "./readLogs.ts";
import { parseReport, type Verification, verifyReport } from "./verify.ts";

export type FileVerification = Verification | { readonly ok: null; readonly sentence: string };

/**
 * Verifies a report file from what it holds itself. A PDF also has the text of its pages compared with a fresh printing.
 * `ok: null` means that it could not be told here, because the pages need a browser and there is none.
 * @param bytes a JSON or PDF file
 * @param logs logs that the report names by hash only
 */
export async function verifyFile(bytes: Uint8Array, logs: readonly LogFile[]): Promise<FileVerification> {
  const start = new TextDecoder("latin1").decode(bytes.subarray(0, 1024));
  if (start.includes("%PDF-")) return verifyPdf(bytes, logs);
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return { ok: false, because: "it is neither a PDF nor JSON text" };
  }
  const stored = parseReport(text);
  return "because" in stored ? stored : verifyReport(stored, logs);
}

async function verifyPdf(bytes: Uint8Array, logs: readonly LogFile[]): Promise<FileVerification> {
  const { extractPdf } = await import("../report/print/extractPdf.ts");
  const pdf = await extractPdf(bytes);
  if (!pdf.ok) return { ok: false, because: pdf.sentence };
  const record = pdf.attachments.find((file) => file.name === "report.json");
  if (record === undefined)
    return {
      ok: false,
      because: "the PDF carries no report.json: it is not a setup report, or its attachments were taken away",
    };
  const stored = parseReport(new TextDecoder().decode(record.bytes));
  if ("because" in stored) return { ok: false, because: `the attached report.json: ${stored.because}` };
  const planText = pdf.attachments.find((file) => sha256Of(file.bytes) === stored.plan.sha256);
  if (planText === undefined)
    return {
      ok: false,
      because: `no attachment has the hash that the report states for the plan ${stored.plan.name}`,
    };
  const attached = pdf.attachments.map(({ name, bytes: content }) => ({
    name,
    bytes: content,
    sha256: sha256Of(content),
  }));
  const whole = {
    ...stored,
    plan: { ...stored.plan, text: new TextDecoder("utf-8", { ignoreBOM: true }).decode(planText.bytes) },
  };
  const verified = verifyReport(whole, [...attached, ...logs]);
  if (!verified.ok || stored.generator.version !== VERSION) return verified;
  return comparePages(pdf, verified.fresh, verified.proved);
}

async function comparePages(
  pdf: ExtractedPdf,
  fresh: SetupReport,
  proved: readonly string[],
): Promise<FileVerification> {
  const { renderReport } = await import("../report/render.ts");
  const { extractPdf } = await import("../report/print/extractPdf.ts");
  const width = pdf.sizes[0]?.width ?? 0;
  const page = width > 600 ? "letter" : "a4";
  const printer = pdfFor();
  try {
    const printed = await printer.print(
      renderReport(fresh, { assets: await loadAssets(), page }),
      fresh,
      page,
    );
    if ("sentence" in printed) return { ok: null, sentence: printed.sentence };
    const again = await extractPdf(printed);
    if (!again.ok) return { ok: null, sentence: again.sentence };
    const difference = differingPage(pdf.pages, again.pages);
    if (difference !== null) return { ok: false, because: difference };
    return {
      ok: true,
      fresh,
      proved: [...proved, `the text of its ${pdf.pages.length} pages is what this report prints`],
    };
  } finally {
    await printer.close();
  }
}

const wordsOf = (page: string): string[] => page.split(/\s+/).filter((word) => word !== "");

/** The first page whose words differ, in a sentence; null when all are the same. */
function differingPage(stored: readonly string[], fresh: readonly string[]): string | null {
  if (stored.length !== fresh.length)
    return `it has ${stored.length} pages, a fresh printing has ${fresh.length}`;
  for (const [index, page] of stored.entries()) {
    const here = wordsOf(page);
    const there = wordsOf(fresh[index] ?? "");
    const at = here.findIndex((word, i) => word !== there[i]);
    if (at === -1 && here.length === there.length) continue;
    const place = at === -1 ? here.length : at;
    const around = (words: readonly string[]): string =>
      words.slice(Math.max(0, place - 2), place + 3).join(" ");
    return `page ${index + 1} says "${around(here)}" where a fresh printing says "${around(there)}"`;
  }
  return null;
}
