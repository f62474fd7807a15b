import { mkdir, stat } from "node:fs/promises";
import { dirname } from "node:path";

/**
 * Makes a folder and those above it; one that is there is right. Step by step, because where a system never lets a folder
 * come to be (`/proc`), node's own recursive way goes round for ever.
 */
export async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT" && dirname(path) !== path) {
      await makeFolder(dirname(path));
      await mkdir(path).catch(unlessThere);
    } else await unlessThere(error);
  }

  async function unlessThere(error: unknown): Promise<void> {
    const entry = await stat(path).catch(() => null);
    if (entry?.isDirectory() !== true) throw error;
  }
}
