import type { Kysely } from "kysely";
import type { ChainKeys, ChainMember } from "../chainKeys.ts";
import type { SetupTable, Tables } from "./tables.ts";

export interface Chain extends ChainMember {
  readonly id: number;
  readonly reportId: string;
}
/** A log that stands in the newest revision of a chain. */
export interface ChainLog {
  readonly sha256: string;
  readonly name: string;
  readonly archived: string;
}

/** Chains of a plan that a log with these keys could belong to, oldest first. The last word has `fits`. */
export async function chainsLike(tables: Kysely<Tables>, { plan, job }: ChainKeys): Promise<Chain[]> {
  const rows = await tables
    .selectFrom("setup")
    .selectAll()
    .where("plan", "=", plan)
    .$if(job !== null, (query) => query.where("job", "=", job))
    .orderBy("id")
    .execute();
  return rows.map(asChain);
}

/** Whether a chain bears this report id, or one that a disk without upper and lower case takes for the same. */
export async function isNameTaken(tables: Kysely<Tables>, reportId: string): Promise<boolean> {
  const row = await tables
    .selectFrom("setup")
    .select("id")
    .where(({ fn }) => fn<string>("lower", ["report_id"]), "=", reportId.toLowerCase())
    .executeTakeFirst();
  return row !== undefined;
}

/** The chain that bears a report id; null when none does. */
export async function chainOfReport(tables: Kysely<Tables>, reportId: string): Promise<Chain | null> {
  const row = await tables
    .selectFrom("setup")
    .selectAll()
    .where("report_id", "=", reportId)
    .executeTakeFirst();
  return row === undefined ? null : asChain(row);
}

type Row = Omit<SetupTable, "id"> & { readonly id: number };
const asChain = (row: Row): Chain => ({
  id: row.id,
  reportId: row.report_id,
  day: row.day,
  keys: {
    plan: row.plan,
    job: row.job,
    operation: row.operation,
    setup: row.setup,
    machine: row.machine,
    pallet: row.pallet,
    serial: row.serial,
  },
});

/** Logs of a chain that no newer one of their name has replaced, in the order in which they were accepted. */
export function currentLogs(tables: Kysely<Tables>, setupId: number): Promise<ChainLog[]> {
  return tables
    .selectFrom("log")
    .select(["sha256", "name", "archived"])
    .where("setup_id", "=", setupId)
    .where("current", "=", 1)
    .orderBy("sequence")
    .execute();
}

/** Where a log went that was accepted. */
export interface KnownLog {
  readonly name: string;
  readonly reportId: string;
  readonly archived: string;
  /** The newest revision of its chain where that uses another log of the name in its place; else null. */
  readonly replacedIn: number | null;
}

/** Where a log went, by the hash of its bytes; null when it was never accepted. */
export async function knownLog(tables: Kysely<Tables>, sha256: string): Promise<KnownLog | null> {
  const row = await tables
    .selectFrom("log")
    .innerJoin("setup", "setup.id", "log.setup_id")
    .select(["log.name", "setup.report_id as reportId", "log.archived", "log.current", "log.setup_id"])
    .where("log.sha256", "=", sha256)
    .executeTakeFirst();
  if (row === undefined) return null;
  const { name, reportId, archived, current, setup_id } = row;
  return {
    name,
    reportId,
    archived,
    replacedIn: current === 1 ? null : await lastRevision(tables, setup_id),
  };
}

/** Whether a revision is in the ledger, by its path in the workspace without ending. */
export async function hasRevision(tables: Kysely<Tables>, base: string): Promise<boolean> {
  return (
    (await tables.selectFrom("revision").select("id").where("base", "=", base).executeTakeFirst()) !==
    undefined
  );
}

/** The hash that the JSON of a revision had when it was accepted; null when the chain has no such revision. */
export async function revisionHash(
  tables: Kysely<Tables>,
  setupId: number,
  revision: number,
): Promise<string | null> {
  const row = await tables
    .selectFrom("revision")
    .select("json_sha256")
    .where("setup_id", "=", setupId)
    .where("revision", "=", revision)
    .executeTakeFirst();
  return row?.json_sha256 ?? null;
}

/** The newest revision number of a chain; 0 when it has none. */
export async function lastRevision(tables: Kysely<Tables>, setupId: number): Promise<number> {
  const row = await tables
    .selectFrom("revision")
    .select((of) => of.fn.max("revision").as("revision"))
    .where("setup_id", "=", setupId)
    .executeTakeFirst();
  return Number(row?.revision ?? 0);
}
