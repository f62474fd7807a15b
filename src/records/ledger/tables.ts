import type { ColumnType, Generated } from "kysely";
import type { Verdict } from "../../model/setupReport.ts";

/** Booleans are 0 and 1, times ISO 8601 in UTC: plain SQL types, so that another database can hold the same tables. */
export interface Tables {
  log: LogTable;
  setup: SetupTable;
  revision: RevisionTable;
  revision_log: RevisionLogTable;
  value: ValueTable;
  finding: FindingTable;
  entry: EntryTable;
  outbox: OutboxTable;
  run: RunTable;
}

/** Every log that was ever accepted, by the hash of its bytes. */
export interface LogTable {
  sha256: string;
  name: string;
  bytes: number;
  /** Path in the workspace, with `/`. */
  archived: string;
  accepted: string;
  setup_id: number;
  /** Time that orders logs of one name and feature; null when none is known. */
  measured: string | null;
  /** 1 while no newer log of the same name has taken its place. */
  current: ColumnType<number, number | undefined, number>;
}

/** One chain of revisions. */
export interface SetupTable {
  id: Generated<number>;
  report_id: string;
  /** Where the chain's identity goes beyond the report id: machine, pallet, serial, day. */
  identity: string;
  job: string | null;
  operation: string | null;
  plan: string;
  machine: string | null;
  pallet: string | null;
  fixture: string | null;
  part: string | null;
  serial: string | null;
}

export interface RevisionTable {
  id: Generated<number>;
  setup_id: number;
  revision: number;
  issued: string;
  verdict: Verdict;
  title: string;
  plan_sha256: string;
  json_sha256: string;
  elapsed_ms: number;
  pass: number;
  fail: number;
  undecided: number;
  missing: number;
}

/** Which logs a revision was made from. */
export interface RevisionLogTable {
  revision_id: number;
  sha256: string;
  name: string;
}

/** Every number of a revision that can be followed over time. */
export interface ValueTable {
  revision_id: number;
  /** `characteristic`, `feature`, `advice` or `sign-off`. */
  source: string;
  of: string;
  kind: string;
  quantity: string;
  value: number | null;
  unit: string;
  uncertainty: number | null;
  verdict: Verdict | null;
  instrument: string | null;
}

export interface FindingTable {
  revision_id: number;
  level: string;
  code: string;
  text: string;
  log: string | null;
  line: number | null;
}

/** Quality's entries: added, never edited. */
export interface EntryTable {
  id: Generated<number>;
  report_id: string;
  revision: number | null;
  kind: "disposition" | "correction" | "void";
  characteristic: string | null;
  who: string;
  made: string;
  why: string;
  /** JSON of what else the entry says, such as the header key and its right value. */
  detail: string;
}

/** Messages to the shop's own system, kept until they arrived. */
export interface OutboxTable {
  id: Generated<number>;
  idempotency_key: string;
  target: string;
  /** JSON: report id, revision, files. */
  message: string;
  attempts: number;
  next_attempt: string;
  sent: string | null;
  last_error: string | null;
}

export interface RunTable {
  id: string;
  what: string;
  started: string;
  ended: string | null;
  accepted: number;
  rejected: number;
  reports: number;
}
