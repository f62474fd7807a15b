import type { Transaction } from "kysely";
import type { SetupReport } from "../../model/setupReport.ts";
import type { ChainKeys } from "../chainKeys.ts";
import type { Ledger } from "./openLedger.ts";
import { type OutboxMessage, owe } from "./outbox.ts";
import { reportValues } from "./reportValues.ts";
import type { Tables } from "./tables.ts";

/** A log that becomes done together with a revision. */
export interface AcceptedLog {
  readonly sha256: string;
  readonly name: string;
  readonly bytes: number;
  /** Path in the workspace, with `/`. */
  readonly archived: string;
  readonly accepted: string;
  readonly measured: string | null;
}
export interface Acceptance {
  /** The chain to go on, or null for a new one. */
  readonly setupId: number | null;
  readonly keys: ChainKeys;
  readonly day: string;
  /** As it was written. */
  readonly report: SetupReport;
  /** Path in the workspace without ending, with `/`. */
  readonly base: string;
  readonly jsonSha256: string;
  /** Logs that were not in the ledger before, in the order in which they were seen. */
  readonly logs: readonly AcceptedLog[];
  readonly elapsedMs: number;
  /** Messages that are owed to somebody once this revision is there. */
  readonly messages?: readonly OutboxMessage[];
}

/**
 * The one act that makes logs done: chain, logs, revision, values and findings in one transaction. Before it the logs are
 * claimed work that is done again after a crash; after it they are known by hash for ever.
 * Throws the database's error when a log or a revision number is there already: then somebody else was first.
 */
export function acceptRevision(ledger: Ledger, acceptance: Acceptance): Promise<{ setupId: number }> {
  return ledger.transact(async (tables) => {
    const setupId = await saveChain(tables, acceptance);
    await saveLogs(tables, acceptance, setupId);
    await saveRevision(tables, acceptance, setupId);
    await owe(tables, acceptance.messages ?? []);
    return { setupId };
  });
}

async function saveChain(
  tables: Transaction<Tables>,
  { setupId, keys, day, report }: Acceptance,
): Promise<number> {
  const { fixture, part } = report.setup;
  const row = { ...keys, day, fixture: fixture ?? null, part: part ?? null };
  if (setupId !== null) {
    await tables.updateTable("setup").set(row).where("id", "=", setupId).execute();
    return setupId;
  }
  const made = await tables
    .insertInto("setup")
    .values({ ...row, report_id: report.report.id })
    .returning("id")
    .executeTakeFirstOrThrow();
  return made.id;
}

async function saveLogs(tables: Transaction<Tables>, { logs }: Acceptance, setupId: number): Promise<void> {
  const last = await tables
    .selectFrom("log")
    .select((row) => row.fn.max("sequence").as("sequence"))
    .executeTakeFirst();
  let sequence = Number(last?.sequence ?? 0);
  for (const log of logs) {
    await tables
      .updateTable("log")
      .set({ current: 0 })
      .where("setup_id", "=", setupId)
      .where("name", "=", log.name)
      .execute();
    await tables
      .insertInto("log")
      .values({ ...log, setup_id: setupId, sequence: ++sequence, current: 1 })
      .execute();
  }
}

/** Takes in a revision whose files are whole and whose logs all stand in the ledger already. */
export function adoptRevision(
  ledger: Ledger,
  setupId: number,
  revision: Pick<Acceptance, "report" | "base" | "jsonSha256" | "messages">,
): Promise<void> {
  return ledger.transact(async (tables) => {
    await saveRevision(tables, { ...revision, elapsedMs: 0 }, setupId);
    await owe(tables, revision.messages ?? []);
  });
}

type WrittenRevision = Pick<Acceptance, "report" | "base" | "jsonSha256" | "elapsedMs">;
async function saveRevision(
  tables: Transaction<Tables>,
  { report, base, jsonSha256, elapsedMs }: WrittenRevision,
  setupId: number,
): Promise<void> {
  const { id } = await tables
    .insertInto("revision")
    .values({
      setup_id: setupId,
      revision: report.report.revision,
      issued: report.report.issued,
      verdict: report.verdict,
      title: report.plan.title,
      base,
      plan_sha256: report.plan.sha256,
      json_sha256: jsonSha256,
      elapsed_ms: Math.round(elapsedMs),
      ...report.counts,
    })
    .returning("id")
    .executeTakeFirstOrThrow();
  for (const { sha256, name } of report.logs)
    await tables.insertInto("revision_log").values({ revision_id: id, sha256, name }).execute();
  for (const gauge of report.instruments)
    await tables
      .insertInto("gauge")
      .values({
        revision_id: id,
        name: gauge.name,
        uncertainty: gauge.uncertainty,
        calibration_due: gauge.calibrationDue,
        place: gauge.where,
      })
      .execute();
  for (const value of reportValues(report))
    await tables
      .insertInto("value")
      .values({ revision_id: id, ...value })
      .execute();
  for (const { level, code, text, log, line } of report.findings)
    await tables
      .insertInto("finding")
      .values({ revision_id: id, level, code, text, log: log ?? null, line: line ?? null })
      .execute();
}
