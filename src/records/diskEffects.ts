import { mkdir, readdir, readFile, stat } from "node:fs/promises";
import { dirname, join } from "node:path";
import writeFileAtomic from "write-file-atomic";
import type { Effects, FolderEntry } from "../model/effects.ts";

/** The real disk and clock. Folders that a file needs are made when it is written. */
export function diskEffects(): Effects {
  return {
    readFile: (path) => readFile(path),
    async writeFile(path, content) {
      await mkdir(dirname(path), { recursive: true });
      await writeFileAtomic(path, typeof content === "string" ? content : Buffer.from(content));
    },
    async listFolder(path) {
      const names = (await readdir(path)).sort();
      const entries = await Promise.all(names.map((name) => folderEntry(path, name)));
      return entries.filter((entry) => entry !== null);
    },
    async makeFolder(path) {
      await mkdir(path, { recursive: true });
    },
    exists: (path) =>
      stat(path).then(
        () => true,
        () => false,
      ),
    now: () => Date.now(),
    environment: process.env,
  };
}

/** Null when the file vanished between listing and looking. */
async function folderEntry(folder: string, name: string): Promise<FolderEntry | null> {
  try {
    const info = await stat(join(folder, name));
    const kind = info.isFile() ? "file" : info.isDirectory() ? "folder" : "other";
    return { name, kind, size: info.size, modifiedMs: info.mtimeMs };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
}
