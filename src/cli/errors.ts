import { CommanderError } from "commander";
import { Trouble } from "../model/trouble.ts";
import { VERSION } from "../model/version.ts";

/** Exit codes; the README explains them. */
export const EXIT = {
  done: 0,
  usage: 2,
  rejected: 3,
  unreachable: 4,
  fail: 10,
  undecided: 11,
  bug: 70,
} as const;

/** The exit code for whatever was thrown. */
export function exitCodeOf(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.usage;
  if (error instanceof Trouble) return EXIT[error.kind];
  if (isUnreachable(error)) return EXIT.unreachable;
  return EXIT.bug;
}

/** What a person reads: a sentence for their mistake, a request for our own. Commander has already printed its own. */
export function wordError(error: unknown): string {
  if (error instanceof CommanderError) return "";
  if (error instanceof Trouble) return error.message;
  if (isFull(error)) {
    const what = error.code === "SQLITE_FULL" ? "the ledger" : "a file";
    return `${error.path ?? what}: ${DISK_FULL} (${error.code}).`;
  }
  if (isUnreachable(error)) return `${error.path ?? "a file"}: cannot be reached or written (${error.code}).`;
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return `Plinth ${VERSION} has a bug. Nothing of your data was changed. Please report what you ran, with this:\n${detail}`;
}

/** What is the matter and what to do; stands within a sentence. */
export const DISK_FULL = "the disk is full; make room on it and run this again";
/** Whether a disk, or the ledger's disk, has no room left. */
export const isFull = (error: unknown): error is NodeJS.ErrnoException & { code: string } =>
  ["ENOSPC", "EDQUOT", "SQLITE_FULL"].includes((error as NodeJS.ErrnoException | null)?.code ?? "");

const DISK_CODES = [
  "ENOENT",
  "EACCES",
  "EPERM",
  "ENOSPC",
  "EROFS",
  "EISDIR",
  "ENOTDIR",
  "EEXIST",
  "EBUSY",
  "EIO",
  "EDQUOT",
  "EMFILE",
  "ENAMETOOLONG",
  "ETIMEDOUT",
  "ESTALE",
];
function isUnreachable(error: unknown): error is NodeJS.ErrnoException & { path?: string; code: string } {
  const code = (error as NodeJS.ErrnoException | null)?.code;
  // The ledger's disk is full, gone or read-only, or another program holds it.
  return (
    typeof code === "string" &&
    (DISK_CODES.includes(code) || /^SQLITE_(BUSY|LOCKED|FULL|IOERR|READONLY|CANTOPEN)/.test(code))
  );
}
