import type { ColumnType, Generated } from "kysely";
import type { Verdict } from "../../model/setupReport.ts";

/** Booleans are 0 and 1, times ISO 8601 in UTC: plain SQL types, so that another database can hold the same tables. */
export interface Tables {
  log: LogTable;
  setup: SetupTable;
  revision: RevisionTable;
  revision_log: RevisionLogTable;
  gauge: GaugeTable;
  value: ValueTable;
  finding: FindingTable;
  entry: EntryTable;
  outbox: OutboxTable;
  run: RunTable;
}

/** Every log that was ever accepted, by the hash of its bytes. A log without a row here is not done. */
export interface LogTable {
  sha256: string;
  name: string;
  bytes: number;
  /** Path in the workspace, with `/`. */
  archived: string;
  accepted: string;
  setup_id: number;
  /** Counts up over all logs: the order in which they were accepted. */
  sequence: number;
  /** Time that orders logs of one name and feature; null when none is known. */
  measured: string | null;
  /** 1 while no newer log of the same name has taken its place. */
  current: ColumnType<number, number | undefined, number>;
}

/** One chain of revisions. A key that no log of it states is null. */
export interface SetupTable {
  id: Generated<number>;
  /** Unique: chains that would share one differ in their last part. */
  report_id: string;
  plan: string;
  job: string | null;
  operation: string | null;
  setup: string | null;
  machine: string | null;
  pallet: string | null;
  serial: string | null;
  fixture: string | null;
  part: string | null;
  /** Day of its latest log, YYYY-MM-DD: logs without a job join only on that day. */
  day: string;
}

export interface RevisionTable {
  id: Generated<number>;
  setup_id: number;
  revision: number;
  issued: string;
  verdict: Verdict;
  title: string;
  /** Path in the workspace without ending, with `/`. */
  base: string;
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

/** Which instruments a revision was measured with, as its plan stated them. */
export interface GaugeTable {
  revision_id: number;
  name: string;
  uncertainty: number | null;
  calibration_due: string | null;
  place: string | null;
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
  /** Name of the target in the settings. */
  target: string;
  /** JSON: what it is about and which files. */
  message: string;
  attempts: number;
  /** Not before this; while a try runs, when it counts as cut off. */
  next_attempt: string;
  sent: string | null;
  last_error: string | null;
  subject: string;
  /** When it came to be owed. */
  owed: string | null;
  /** When the target said that it never wants it; null while it may still come. */
  refused: string | null;
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
