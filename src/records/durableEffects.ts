import { createHash } from "node:crypto";
import { hostname } from "node:os";
import { basename, dirname, join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import type { Disk, DurableEffects, FolderEntry } from "../model/effects.ts";
import { realDisk } from "./realDisk.ts";

/** The real world, or one with another disk, for runs that must survive a crash at any step. */
export function durableEffects(disk: Disk = realDisk()): DurableEffects {
  return {
    disk,
    readFile: (path) => disk.read(path),
    openLog: (path) => disk.read(path),
    writeFile: (path, content) => writeDurably(disk, path, content),
    listFolder: async (path) => (await disk.list(path)).map(asFolderEntry),
    isFile: async (path) => (await disk.look(path).catch(ignoreNoFolder))?.kind === "file",
    makeFolder: (path) => disk.makeFolder(path),
    exists: async (path) => (await disk.look(path).catch(ignoreNoFolder)) !== null,
    now: () => Date.now(),
    ticks: () => performance.now(),
    sleep: (ms, signal) =>
      wait(ms, undefined, signal && { signal }).catch((error: unknown) => {
        if ((error as Error).name !== "AbortError") throw error;
      }),
    environment: process.env,
  };
}

const asFolderEntry = ({
  name,
  kind,
  size,
  modifiedMs,
}: Awaited<ReturnType<Disk["list"]>>[number]): FolderEntry => ({
  name,
  kind: kind === "link" ? "other" : kind,
  size,
  modifiedMs,
});
function ignoreNoFolder(error: unknown): null {
  if ((error as NodeJS.ErrnoException).code === "ENOTDIR") return null;
  throw error;
}

/** Names of unfinished files tell whose they are, so that what a crash left is known from what is being written. */
const OWN_HOST = createHash("sha256").update(hostname()).digest("hex").slice(0, 8);
let written = 0;
const temporaryName = (): string => `.plinth-${OWN_HOST}-${process.pid}-${++written}.tmp`;

/** Written beside, synced, renamed, the folder synced: a reader and a power cut see the old or the new file. */
export async function writeDurably(disk: Disk, path: string, content: Uint8Array | string): Promise<void> {
  await disk.makeFolder(dirname(path));
  await replaceFile(disk, path, content);
  await disk.syncFolder(dirname(path));
}

/** Written beside and renamed, in a folder that must be there. */
export async function replaceFile(disk: Disk, path: string, content: Uint8Array | string): Promise<void> {
  const temporary = join(dirname(path), temporaryName());
  try {
    await disk.create(temporary, content);
    await disk.rename(temporary, path);
  } catch (error) {
    await disk.remove(temporary).catch(() => undefined);
    throw error;
  }
}

/**
 * Whether a file name is that of an unfinished file whose writer is gone: ours by its form, and made by a process of this
 * machine that does not run any more. To be asked before this process writes: in a container the next process often has
 * the number of the last.
 */
export function isAbandoned(path: string): boolean {
  const [, host, pid] = /^\.plinth-([0-9a-f]{8})-(\d+)-\d+\.tmp$/.exec(basename(path)) ?? [];
  return host === OWN_HOST && (Number(pid) === process.pid || !isRunning(Number(pid)));
}

/** Whether a process of this machine runs. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
