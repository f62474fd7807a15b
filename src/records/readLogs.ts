import { createHash } from "node:crypto";
import { basename, join } from "node:path";
import type { ReadingEffects } from "../model/effects.ts";
import type { LogFile, LogParts } from "../model/measurement.ts";
import { once } from "../model/once.ts";
import { Trouble } from "../model/trouble.ts";

/**
 * Reads logs from paths: files, or folders whose files are taken one level deep, in name order. Plans, README files and
 * hidden or half-written files (`.*`, `*.tmp`, `*.part`) in a folder are no logs. Throws Trouble `unreachable` for a path
 * that is not there or cannot be read.
 */
export async function readLogs(effects: ReadingEffects, paths: readonly string[]): Promise<LogFile[]> {
  const files: string[] = [];
  for (const path of paths) files.push(...(await expand(effects, path)));
  const unique = [...new Set(files)];
  return Promise.all(unique.map((path) => readLog(effects, path)));
}

/** Reads one log and its hash; a long one when it is asked for. Throws Trouble `unreachable` with the reason. */
export async function readLog(effects: ReadingEffects, path: string): Promise<LogFile> {
  const bytes = await reach(path, effects.openLog(path));
  const name = basename(path);
  if (bytes instanceof Uint8Array) return hashed({ name, bytes }, bytes);
  const parts = new HashedParts(bytes);
  return {
    name,
    bytes: parts,
    get sha256() {
      return parts.sha256();
    },
  };
}

/** `file` with the hash of its content, which is worked out when it is asked for: an answer on the terminal names none. */
export function hashed<T extends object>(
  file: T,
  content: Uint8Array | string,
): T & { readonly sha256: string } {
  const sha256 = once(() => sha256Of(content));
  return Object.defineProperty(file, "sha256", { enumerable: true, get: sha256 }) as T & { sha256: string };
}

/** The file that a log was read from. */
export const fileOf = (
  log: { readonly name: string; readonly sha256: string },
  files: readonly LogFile[],
): LogFile | undefined => files.find((file) => file.name === log.name && file.sha256 === log.sha256);

/** Hashes what is read on the way, as long as it is read from the start on. */
class HashedParts implements LogParts {
  readonly length: number;
  readonly #parts: LogParts;
  readonly #hash = createHash("sha256");
  #done = 0;
  #digest: string | null = null;

  constructor(parts: LogParts) {
    this.#parts = parts;
    this.length = parts.length;
  }
  part(from: number, to: number): Uint8Array {
    const bytes = this.#parts.part(from, to);
    if (from > this.#done || to <= this.#done) return bytes;
    this.#hash.update(bytes.subarray(this.#done - from));
    this.#done = to;
    return bytes;
  }
  sha256(): string {
    while (this.#done < this.length) this.part(this.#done, Math.min(this.#done + PART, this.length));
    this.#digest ??= this.#hash.digest("hex");
    return this.#digest;
  }
}

const PART = 1 << 20;
/** SHA-256 of a log, lower-case hex. */
export const hashOf = (bytes: LogFile["bytes"]): string =>
  bytes instanceof Uint8Array ? sha256Of(bytes) : new HashedParts(bytes).sha256();

/** SHA-256 of bytes or UTF-8 text, lower-case hex. */
export const sha256Of = (content: Uint8Array | string): string =>
  createHash("sha256").update(content).digest("hex");

/** File content, or Trouble `unreachable` that says which file and why. */
export const read = (effects: ReadingEffects, path: string): Promise<Uint8Array> =>
  reach(path, effects.readFile(path));

async function reach<T>(path: string, content: Promise<T>): Promise<T> {
  try {
    return await content;
  } catch (error) {
    throw unreachable(path, error);
  }
}

async function expand(effects: ReadingEffects, path: string): Promise<string[]> {
  let entries: Awaited<ReturnType<ReadingEffects["listFolder"]>>;
  try {
    // Asked first: an error of the system takes longer to make than a short log to read.
    if (await effects.isFile(path)) return [path];
    entries = await effects.listFolder(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOTDIR") return [path];
    throw unreachable(path, error);
  }
  const logs = entries.filter((entry) => entry.kind === "file" && isLogName(entry.name));
  if (logs.length === 0)
    throw new Trouble(
      "unreachable",
      `${path}: no logs in this folder; name log files or a folder that holds some.`,
    );
  return logs.map((entry) => join(path, entry.name));
}

/** Whether a file in a folder may be a log, by its name. */
export function isLogName(name: string): boolean {
  return !/^\.|\.(?:tmp|part|ya?ml|md|json|html|pdf|png|jpe?g)$/i.test(name);
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file; check the name and folder",
  EACCES: "this user may not read it; ask for access to it",
  EPERM: "this user may not read it; ask for access to it",
  EISDIR: "this is a folder; name a file",
  EBUSY: "another program holds it; close it there and try again",
};
/** The sentence for a file or folder that cannot be reached. */
export function unreachable(path: string, error: unknown): Trouble {
  const code = (error as NodeJS.ErrnoException).code ?? "";
  return new Trouble(
    "unreachable",
    `${path}: ${REASONS[code] ?? `cannot be reached (${code || String(error)})`}.`,
  );
}
