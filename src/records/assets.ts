import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { FONT_PACKAGE, REPORT_FILES, type ReportAssets } from "../report/assets.ts";

/** The folder of the installed package: the nearest one above this file that holds `templates`. */
export function packageRoot(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, "templates")) || !existsSync(join(folder, "package.json"))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error("the folder templates is missing from the installation");
    folder = parent;
  }
  return folder;
}

/** A text file that ships with the package, by its path from the root. */
export const shippedText = (path: string): Promise<string> => readFile(join(packageRoot(), path), "utf8");

/** Everything a setup report's page is made of, read once. */
export function loadAssets(): Promise<ReportAssets> {
  loaded ??= load();
  return loaded;
}
let loaded: Promise<ReportAssets> | null = null;

async function load(): Promise<ReportAssets> {
  const root = packageRoot();
  const fonts = join(
    dirname(createRequire(import.meta.url).resolve(`${FONT_PACKAGE}/package.json`)),
    "files",
  );
  const text = (name: string) => readFile(join(root, "templates", name), "utf8");
  return {
    templates: await gather(REPORT_FILES.templates, text),
    styles: await gather(REPORT_FILES.styles, text),
    fonts: await gather<Uint8Array>(REPORT_FILES.fonts, (name) => readFile(join(fonts, name))),
  };
}

async function gather<T>(
  names: readonly string[],
  read: (name: string) => Promise<T>,
): Promise<Record<string, T>> {
  const entries = await Promise.all(names.map(async (name) => [name, await read(name)] as const));
  return Object.fromEntries(entries);
}
