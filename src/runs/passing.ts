import { Trouble } from "../model/trouble.ts";
import { isLedgerDiskTrouble, isLocked, LedgerDamaged } from "../records/ledger/openLedger.ts";

/** Codes of a disk or share that is full, gone, read-only or busy: it may be well again later. */
const PASSING = [
  "ENOSPC",
  "EDQUOT",
  "EROFS",
  "EACCES",
  "EPERM",
  "EIO",
  "ESTALE",
  "ENOENT",
  "ENOTDIR",
  "ENODEV",
  "ENXIO",
  "EBUSY",
  "ETIMEDOUT",
  "ENOTCONN",
  "ECONNRESET",
  "ECONNABORTED",
  "EHOSTDOWN",
  "EHOSTUNREACH",
  "ENETDOWN",
  "ENETUNREACH",
  "EREMOTEIO",
  "EMFILE",
  "ENFILE",
  "ENOMEM",
  "EAGAIN",
  "ENOLCK",
  "UNKNOWN",
];

/** Whether waiting can help: the disk, the share or another program is in the way, not the log and not a bug. */
export function isPassing(error: unknown): boolean {
  const code = (error as NodeJS.ErrnoException | null)?.code;
  return (
    (typeof code === "string" && PASSING.includes(code)) ||
    isLocked(error) ||
    isLedgerDiskTrouble(error) ||
    (error instanceof Trouble && error.kind === "unreachable" && !(error instanceof LedgerDamaged))
  );
}

/** What is in the way, for a person. */
export function passingText(error: unknown): string {
  const { code, path, message } = error as NodeJS.ErrnoException;
  if (error instanceof Trouble) return error.message;
  if (isLocked(error)) return "another program holds the ledger (plinth.db)";
  if (isLedgerDiskTrouble(error))
    return "the ledger (plinth.db) cannot be written: its disk is full, read-only or away";
  const why: Readonly<Record<string, string>> = {
    ENOSPC: "the disk is full",
    EDQUOT: "the quota is used up",
    EROFS: "the disk is read-only",
    EACCES: "this user has no access",
    EPERM: "this user has no access",
    ENOENT: "it is not there",
    ESTALE: "the share has gone away",
  };
  const reason = why[code ?? ""] ?? message;
  return path === undefined ? reason : `${path}: ${reason}`;
}
