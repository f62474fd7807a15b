import { join } from "node:path";
import type { Digest } from "../model/digest.ts";
import type { Effects } from "../model/effects.ts";
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
}

/**
 * Writes a digest as JSON, HTML, CSV and PDF. One that has not changed is left alone; the JSON goes last, so that where it
 * is the pages are.
 */
export async function publishDigest(
  effects: Effects,
  digest: Digest,
  { folder, page, show }: DigestPages,
): Promise<PublishedDigest> {
  const base = join(folder, digest.date);
  const json = `${JSON.stringify(digest, null, 1)}\n`;
  const files = ["json", "html", "csv", "pdf"].map((ending) => `${base}.${ending}`);
  if (await isSame(effects, `${base}.json`, json)) {
    const there = await Promise.all(files.map((file) => effects.exists(file)));
    if (there.every((one) => one)) return { files, status: "kept", noPdf: null };
  }
  const html = renderDigest(digest, {
    assets: await loadAssets(),
    template: await shippedText("templates/digest.hbs"),
    page,
    show,
  });
  await effects.writeFile(`${base}.html`, html);
  await effects.writeFile(`${base}.csv`, digestCsv(digest));
  const pdf = await printed(html, digest, page);
  if (typeof pdf !== "string") await effects.writeFile(`${base}.pdf`, pdf);
  await effects.writeFile(`${base}.json`, json);
  const noPdf = typeof pdf === "string" ? pdf : null;
  return {
    files: files.filter((file) => noPdf === null || !file.endsWith(".pdf")),
    status: "written",
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
