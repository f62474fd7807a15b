import { Buffer } from "node:buffer";
import { readdir, readFile, stat } from "node:fs/promises";
import { dirname, join } from "node:path";
import writeFileAtomic from "write-file-atomic";
import type { Effects, FolderEntry } from "../model/effects.ts";
import type { LogParts } from "../model/measurement.ts";
import { folderEntry, LONG, partsOf } from "./diskReading.ts";
import { makeFolder } from "./makeFolder.ts";

/** The real disk and clock. Folders that a file needs are made when it is written. */
export function diskEffects(): Effects {
  return {
    readFile: (path) => readFile(path),
    openLog,
    async writeFile(path, content) {
      await makeFolder(dirname(path));
      await writeFileAtomic(path, typeof content === "string" ? content : Buffer.from(content));
    },
    async listFolder(path) {
      const names = (await readdir(path)).sort();
      const entries = await Promise.all(names.map((name) => lookAt(path, name)));
      return entries.filter((entry) => entry !== null);
    },
    makeFolder,
    isFile: (path) =>
      stat(path).then(
        (info) => info.isFile(),
        () => false,
      ),
    exists: (path) =>
      stat(path).then(
        () => true,
        () => false,
      ),
    now: () => Date.now(),
    environment: process.env,
  };
}

async function openLog(path: string): Promise<Uint8Array | LogParts> {
  const { size } = await stat(path);
  return size <= LONG ? readFile(path) : partsOf(path, size);
}

/** Null when the file vanished between listing and looking. */
async function lookAt(folder: string, name: string): Promise<FolderEntry | null> {
  try {
    return folderEntry(name, await stat(join(folder, name)));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
}
