import { Buffer } from "node:buffer";
import { openSync, readSync } from "node:fs";
import { mkdir, readdir, readFile, stat } from "node:fs/promises";
import { dirname, join } from "node:path";
import writeFileAtomic from "write-file-atomic";
import type { Effects, FolderEntry } from "../model/effects.ts";
import type { LogParts } from "../model/measurement.ts";
import { Trouble } from "../model/trouble.ts";

/** The real disk and clock. Folders that a file needs are made when it is written. */
export function diskEffects(): Effects {
  return {
    readFile: (path) => readFile(path),
    openLog,
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

/** A log of more bytes is read part by part. */
const LONG = 4_000_000;
async function openLog(path: string): Promise<Uint8Array | LogParts> {
  const { size } = await stat(path);
  return size <= LONG ? readFile(path) : partsOf(path, size);
}

/** Stays open while the program runs, so that a file that comes under the same name does not mix with it. */
function partsOf(path: string, length: number): LogParts {
  const file = openSync(path, "r");
  let buffer = Buffer.alloc(0);
  return {
    length,
    part(from, to) {
      const count = to - from;
      if (buffer.length < count) buffer = Buffer.allocUnsafeSlow(count);
      for (let done = 0; done < count; ) {
        const read = readSync(file, buffer, done, count - done, from + done);
        if (read === 0)
          throw new Trouble(
            "unreachable",
            `${path}: became shorter while it was read; wait until it is whole and try again.`,
          );
        done += read;
      }
      return buffer.subarray(0, count);
    },
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
