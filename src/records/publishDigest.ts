import { join } from "node:path";
import type { Digest } from "../model/digest.ts";
import type { DurableEffects, Effects } from "../model/effects.ts";
import type { Language } from "../model/language.ts";
import { digestCsv, renderDigest } from "../report/renderDigest.ts";
import { loadAssets, shippedText } from "./assets.ts";
import { sha256Of } from "./readLogs.ts";

export interface PublishedDigest {
  readonly files: readonly string[];
  /** `kept`: the digest was there with the same content. */
  readonly status: "written" | "kept";
  /** Why there is no PDF, or null. */
  readonly noPdf: string | null;
}
export interface DigestPages {
  readonly folder: string;
  readonly page: "a4" | "letter";
  readonly show: "mm" | "in";
  readonly language?: Language;
}

/**
 * Writes a digest as JSON, HTML, CSV and PDF. One that has not changed is left alone; the JSON goes last, so that where it
 * is the pages are.
 */
export async function publishDigest(
  effects: DurableEffects,
  digest: Digest,
  { folder, page, show, language = "en" }: DigestPages,
): Promise<PublishedDigest> {
  const base = join(folder, digest.date);
  const json = `${JSON.stringify(digest, null, 1)}\n`;
  const same = await isSame(effects, `${base}.json`, json);
  const wanted: string[] = [];
  for (const ending of ["json", "html", "csv", "pdf"])
    if (!same || !(await effects.exists(`${base}.${ending}`))) wanted.push(ending);
  const files = ["json", "html", "csv", "pdf"].map((ending) => `${base}.${ending}`);
  if (wanted.length === 0) return { files, status: "kept", noPdf: null };
  const html = renderDigest(digest, {
    assets: await loadAssets(),
    template: await shippedText("templates/digest.hbs"),
    page,
    show,
    language,
  });
  if (wanted.includes("html")) await effects.writeFile(`${base}.html`, html);
  if (wanted.includes("csv")) await effects.writeFile(`${base}.csv`, digestCsv(digest));
  const pdf = wanted.includes("pdf") ? await printed(html, digest, page) : null;
  if (pdf !== null && typeof pdf !== "string") await effects.writeFile(`${base}.pdf`, pdf);
  // What is known of another state of the day must not stay beside this one.
  if (typeof pdf === "string" && !same && (await effects.exists(`${base}.pdf`)))
    await effects.disk.remove(`${base}.pdf`);
  if (wanted.includes("json")) await effects.writeFile(`${base}.json`, json);
  const noPdf = typeof pdf === "string" ? pdf : null;
  return {
    files: files.filter((file) => noPdf === null || !file.endsWith(".pdf")),
    status: wanted.length === 1 && noPdf !== null ? "kept" : "written",
    noPdf,
  };
}

async function isSame(effects: Effects, path: string, text: string): Promise<boolean> {
  return (await effects.exists(path)) && sha256Of(await effects.readFile(path)) === sha256Of(text);
}

/** The PDF, or the sentence that says why there is none. */
async function printed(html: string, digest: Digest, page: "a4" | "letter"): Promise<Uint8Array | string> {
  const { openPrinter } = await import("../report/print.ts");
  const printer = await openPrinter();
  if (!printer.available) return printer.sentence;
  try {
    // The digest's own day: the same digest gives the same bytes.
    const metadata = {
      title: `Digest ${digest.date}`,
      author: digest.shop ?? "",
      subject: "Digest of a day",
      creator: "Plinth",
      created: `${digest.date}T00:00:00Z`,
    };
    return await printer.print(html, { page, metadata });
  } finally {
    await printer.close();
  }
}
