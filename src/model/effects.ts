/**
 * The outside world as one argument: whoever reads, writes, asks the time or prints does it through this.
 * Tests hand in one that lives in memory or breaks on purpose.
 */
export interface Effects {
  readFile(path: string): Promise<Uint8Array>;
  /** Writes beside and renames, so that a reader sees the old or the new file and never half of one. */
  writeFile(path: string, content: Uint8Array | string): Promise<void>;
  listFolder(path: string): Promise<readonly FolderEntry[]>;
  makeFolder(path: string): Promise<void>;
  exists(path: string): Promise<boolean>;
  /** Milliseconds since 1970 UTC. */
  now(): number;
  readonly environment: Readonly<Record<string, string | undefined>>;
}
export interface FolderEntry {
  readonly name: string;
  readonly kind: "file" | "folder" | "other";
  readonly size: number;
  readonly modifiedMs: number;
}
