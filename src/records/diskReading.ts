import { Buffer } from "node:buffer";
import { openSync, readdirSync, readFileSync, readSync, type Stats, statSync } from "node:fs";
import { join } from "node:path";
import type { FolderEntry, ReadingEffects } from "../model/effects.ts";
import type { LogParts } from "../model/measurement.ts";
import { Trouble } from "../model/trouble.ts";

/**
 * The disk for a command that answers one person and has nothing else to do meanwhile: read at once, because each way
 * through the pool of threads costs more than reading a short log.
 */
export function diskReading(): ReadingEffects {
  return {
    readFile: async (path) => readFileSync(path),
    async openLog(path) {
      const { size } = statSync(path);
      return size <= LONG ? readFileSync(path) : partsOf(path, size);
    },
    async listFolder(path) {
      const entries = readdirSync(path)
        .sort()
        .map((name): FolderEntry | null => {
          const info = statSync(join(path, name), { throwIfNoEntry: false });
          return info === undefined ? null : folderEntry(name, info);
        });
      return entries.filter((entry) => entry !== null);
    },
    isFile: async (path) => statSync(path, { throwIfNoEntry: false })?.isFile() === true,
    now: () => Date.now(),
  };
}

export function folderEntry(name: string, info: Stats): FolderEntry {
  const kind = info.isFile() ? "file" : info.isDirectory() ? "folder" : "other";
  return { name, kind, size: info.size, modifiedMs: info.mtimeMs };
}

/** A log of more bytes is read part by part. */
export const LONG = 4_000_000;

/** Stays open while the program runs, so that a file that comes under the same name does not mix with it. */
export function partsOf(path: string, length: number): LogParts {
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
