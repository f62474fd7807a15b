import { Kysely, Migrator, SqliteDialect } from "kysely";
import Database from "libsql";
import { Trouble } from "../../model/trouble.ts";
import { migrations } from "./migrations.ts";
import type { Tables } from "./tables.ts";

export interface Ledger {
  readonly tables: Kysely<Tables>;
  close(): Promise<void>;
}

const WAIT_FOR_LOCK_MS = 10_000;

/**
 * Opens the ledger at `path`, making it when it is not there, and brings its tables up to date. Write-ahead log, full
 * syncs (a committed revision survives a power cut) and foreign keys are on.
 * Throws Trouble `unreachable` for a file that is no ledger or is damaged, with the command that rebuilds it.
 */
export async function openLedger(path: string): Promise<Ledger> {
  try {
    return await open(path);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new Trouble(
      "unreachable",
      `${path}: the ledger cannot be opened (${reason}). If the disk is well, plinth init --rebuild makes it anew from archive and reports.`,
    );
  }
}

async function open(path: string): Promise<Ledger> {
  const database = new Database(path);
  database.pragma(`busy_timeout = ${WAIT_FOR_LOCK_MS}`);
  database.pragma("journal_mode = WAL");
  database.pragma("synchronous = FULL");
  database.pragma("foreign_keys = ON");
  const tables = new Kysely<Tables>({ dialect: new SqliteDialect({ database: database as never }) });
  const { error } = await new Migrator({ db: tables, provider: migrations }).migrateToLatest();
  if (error !== undefined) throw error;
  return {
    tables,
    async close() {
      // This driver does not fold the write-ahead log back when it closes.
      database.pragma("wal_checkpoint(TRUNCATE)");
      await tables.destroy();
    },
  };
}
