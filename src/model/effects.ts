import type { LogParts } from "./measurement.ts";

/**
 * The outside world as one argument: whoever reads, writes, asks the time or prints does it through this.
 * Tests hand in one that lives in memory or breaks on purpose.
 */
export interface Effects {
  readFile(path: string): Promise<Uint8Array>;
  /** The bytes of a log; where they are many, a way to read them part by part. */
  openLog(path: string): Promise<Uint8Array | LogParts>;
  /** Writes beside and renames, so that a reader sees the old or the new file and never half of one. */
  writeFile(path: string, content: Uint8Array | string): Promise<void>;
  listFolder(path: string): Promise<readonly FolderEntry[]>;
  /** False for what is not there. */
  isFile(path: string): Promise<boolean>;
  makeFolder(path: string): Promise<void>;
  exists(path: string): Promise<boolean>;
  /** Milliseconds since 1970 UTC. */
  now(): number;
  readonly environment: Readonly<Record<string, string | undefined>>;
}
/** Of these what a command needs that only answers. */
export type ReadingEffects = Pick<Effects, "readFile" | "openLog" | "listFolder" | "isFile" | "now">;
export interface FolderEntry {
  readonly name: string;
  readonly kind: "file" | "folder" | "other";
  readonly size: number;
  readonly modifiedMs: number;
}

/**
 * A disk step by step, so that each step can be made to fail or be the last one before a crash. Nothing follows a link.
 * Paths are text; only a name that is not UTF-8 is given as the bytes it is made of.
 */
export interface Disk {
  /** Entries of a folder by name. What vanishes meanwhile is left out. */
  list(folder: string): Promise<readonly DiskEntry[]>;
  /** Names in a folder, without looking at each. */
  names(folder: string): Promise<readonly string[]>;
  /** Null when there is nothing. */
  look(path: string): Promise<DiskEntry | null>;
  read(path: string): Promise<Uint8Array>;
  /** Writes a new file and brings it to the disk. Fails when something is there. */
  create(path: string, content: Uint8Array | string): Promise<void>;
  append(path: string, text: string): Promise<void>;
  /** Within one file system; a file that is there is replaced in one step. */
  rename(from: string | Uint8Array, to: string): Promise<void>;
  remove(path: string): Promise<void>;
  /** With the folders above; no trouble when it is there. */
  makeFolder(path: string): Promise<void>;
  /** Only an empty one. */
  removeFolder(path: string): Promise<void>;
  /** Brings names that were made or changed in a folder to the disk. */
  syncFolder(path: string): Promise<void>;
  setReadOnly(path: string): Promise<void>;
  /** Whether changes made by other machines may come without an event. */
  isShared(path: string): Promise<boolean>;
}
export interface DiskEntry {
  readonly name: string;
  readonly kind: "file" | "folder" | "link" | "other";
  readonly size: number;
  readonly modifiedMs: number;
  /** The whole path as bytes when the name is not UTF-8: `name` is then only for reading. */
  readonly rawPath?: Uint8Array;
}
/** The outside world of a run that keeps things: whole files through `Effects`, steps through `disk`. */
export interface DurableEffects extends Effects {
  readonly disk: Disk;
  /** Waits; ends early when the signal says stop. */
  sleep(ms: number, signal?: AbortSignal): Promise<void>;
  /** Milliseconds of a clock that nobody sets. */
  ticks(): number;
}
