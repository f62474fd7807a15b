import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

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
