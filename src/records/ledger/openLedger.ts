import { type Dialect, Kysely, Migrator, SqliteDialect, sql, type Transaction } from "kysely";
import Database from "libsql";
import { Trouble } from "../../model/trouble.ts";
import { type CountingKey, migrations } from "./migrations.ts";
import type { Tables } from "./tables.ts";

/**
 * The ledger as its callers see it. Reading goes through `tables`, writing through `transact`; both speak the query
 * builder's own language, so that another database serves behind the same two names.
 */
export interface Ledger {
  readonly tables: Kysely<Tables>;
  /** All that `work` writes becomes true at once, or none of it. */
  transact<T>(work: (tables: Transaction<Tables>) => Promise<T>): Promise<T>;
  /** What is wrong inside; null when all is well. Reads the whole ledger. */
  check(): string | null;
  close(): Promise<void>;
}
/** A place where ledgers are kept. */
export interface LedgerDatabase {
  readonly dialect: Dialect;
  readonly countingKey: CountingKey;
  /** What the database wants done before it is left. */
  finish?(): void;
  /** What a thorough look finds wrong; null for nothing. */
  check?(): string | null;
}

const WAIT_FOR_LOCK_MS = 5_000;
/** Milliseconds between tries of opening while another process makes the tables. */
const TRY_AGAIN_MS = [100, 300, 1000];

/**
 * Opens the ledger at `path`, making it when it is not there, and brings its tables up to date. Write-ahead log, full
 * syncs (a committed revision survives a power cut) and foreign keys are on.
 * Throws LedgerDamaged for a file that is no ledger or is damaged, and Trouble `unreachable` where another program holds it
 * or the disk refuses it.
 */
export async function openLedger(path: string): Promise<Ledger> {
  for (const pause of [...TRY_AGAIN_MS, null]) {
    try {
      return await openLedgerOn(sqlite(path));
    } catch (error) {
      if (isDamaged(error)) throw damaged(path, error);
      if (isLocked(error) && pause !== null) await new Promise((resolve) => setTimeout(resolve, pause));
      else if (isLocked(error))
        throw new Trouble("unreachable", `${path}: another program holds the ledger; try again.`);
      else if (isLedgerDiskTrouble(error))
        throw new Trouble("unreachable", `${path}: the ledger cannot be opened (${wordsOf(error)}).`);
      else throw error;
    }
  }
  throw new Error("not reached");
}
const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** The same ledger on any database that the query builder speaks to. */
export async function openLedgerOn({ dialect, countingKey, finish, check }: LedgerDatabase): Promise<Ledger> {
  const tables = new Kysely<Tables>({ dialect });
  try {
    const { error } = await new Migrator({ db: tables, provider: migrations(countingKey) }).migrateToLatest();
    if (error !== undefined) throw error;
  } catch (error) {
    await tables.destroy();
    throw error;
  }
  return {
    tables,
    transact: (work) => transact(tables, work),
    check: () => check?.() ?? null,
    async close() {
      try {
        finish?.();
      } finally {
        await tables.destroy();
      }
    },
  };
}

async function transact<T>(
  tables: Kysely<Tables>,
  work: (tables: Transaction<Tables>) => Promise<T>,
): Promise<T> {
  let reason: unknown = null;
  try {
    return await tables.transaction().execute(async (transaction) => {
      try {
        // A first statement that writes takes the write lock while it can still be waited for; changes no row.
        await sql`update run set id = id where id is null`.execute(transaction);
        return await work(transaction);
      } catch (error) {
        reason = error;
        throw error;
      }
    });
  } catch (error) {
    // On a full disk the database has undone everything by itself; that it cannot do so twice is not the reason.
    throw reason ?? error;
  }
}

function sqlite(path: string): LedgerDatabase {
  const database = new Database(path);
  try {
    database.pragma(`busy_timeout = ${WAIT_FOR_LOCK_MS}`);
    database.pragma("journal_mode = WAL");
    database.pragma("synchronous = FULL");
    database.pragma("foreign_keys = ON");
  } catch (error) {
    database.close();
    throw error;
  }
  return {
    dialect: new SqliteDialect({ database: database as never }),
    countingKey: "integer primary key",
    // This driver does not fold the write-ahead log back when it closes.
    check() {
      const rows = database.prepare("pragma quick_check").all() as { quick_check: string }[];
      const wrong = rows.map((row) => row.quick_check).filter((text) => text !== "ok");
      return wrong[0] ?? null;
    },
    finish: () => void database.pragma("wal_checkpoint(TRUNCATE)"),
  };
}

const codeOf = (error: unknown): string => {
  const { code, message } = (error ?? {}) as { code?: unknown; message?: unknown };
  return `${typeof code === "string" ? code : ""} ${typeof message === "string" ? message : ""}`;
};
/** Another process holds the database just now. */
export const isLocked = (error: unknown): boolean =>
  /SQLITE_(BUSY|LOCKED)|database (table )?is locked/.test(codeOf(error));
/** The file is no database, or a part of it is not what it was. */
export const isDamaged = (error: unknown): boolean =>
  /SQLITE_(CORRUPT|NOTADB)|malformed|not a database/.test(codeOf(error));
/** The disk under the database refuses for now: full, read-only, not there. A commit that it refused is undone already. */
export const isLedgerDiskTrouble = (error: unknown): boolean =>
  /SQLITE_(FULL|IOERR|READONLY|CANTOPEN)|disk is full|disk I\/O|readonly database|unable to open|cannot rollback - no transaction/i.test(
    codeOf(error),
  );

/** Waiting does not mend it; the sentence says what does. */
export class LedgerDamaged extends Trouble {
  constructor(text: string) {
    super("unreachable", text);
    this.name = "LedgerDamaged";
  }
}
/** The sentence for a damaged ledger, with the way out. */
export const damaged = (path: string, error: unknown): LedgerDamaged =>
  new LedgerDamaged(
    `${path}: the ledger is damaged (${wordsOf(error)}). Stop what uses this workspace and run plinth init --rebuild: it makes the ledger anew from archive and reports.`,
  );
