import { join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import type { SetupReport } from "../model/setupReport.ts";
import { type Ledger, openLedger } from "../records/ledger/openLedger.ts";
import { owe } from "../records/ledger/outbox.ts";
import { isUnused } from "../records/ledger/runs.ts";
import type { OutboxTable } from "../records/ledger/tables.ts";
import { reportMessages } from "../records/messages.ts";
import type { Workspace } from "../records/workspace.ts";

/** Where an old ledger does not tell what was sent, revisions of so many days are told again: their keys are the same. */
const TOLD_AGAIN_DAYS = 30;
const MS_PER_DAY = 86_400_000;
type OutboxRow = Omit<OutboxTable, "id">;

/**
 * Brings what is owed, refused and sent from the old ledger into the new one. Where the old one cannot be read, newer revisions
 * are owed again, so that nothing is lost; whoever got them knows their keys.
 */
export async function keepMessages(
  effects: DurableEffects,
  workspace: Workspace,
  ledger: Ledger,
  tell: (sentence: string) => void,
): Promise<void> {
  const rows = await oldRows(effects, workspace);
  if (rows !== null) return copy(ledger, rows);
  const again = await oweNewer(effects, workspace, ledger);
  if (again > 0)
    tell(
      `What was told to others could not be read from the old ledger: ${again} revisions of the last ${TOLD_AGAIN_DAYS} days are told again, each under its old key.`,
    );
}

/** The rows of the old ledger's outbox; null where there is none that can be read. It is read from a copy: the old one stays as it is. */
async function oldRows(effects: DurableEffects, { paths }: Workspace): Promise<OutboxRow[] | null> {
  if (!(await effects.exists(paths.ledger))) return null;
  const copied = join(paths.hidden, "old.db");
  try {
    for (const part of ["", "-wal"])
      if (await effects.exists(paths.ledger + part))
        await effects.writeFile(copied + part, await effects.readFile(paths.ledger + part));
    const old = await openLedger(copied);
    try {
      // An empty one is not the one that was.
      if (old.check() !== null || (await isUnused(old))) return null;
      return await old.tables
        .selectFrom("outbox")
        .select([
          "idempotency_key",
          "target",
          "subject",
          "message",
          "attempts",
          "next_attempt",
          "owed",
          "sent",
          "refused",
          "last_error",
        ])
        .orderBy("id")
        .execute();
    } finally {
      await old.close();
    }
  } catch {
    // Whatever is wrong with it is why it is made anew.
    return null;
  } finally {
    for (const part of ["", "-wal", "-shm"])
      if (await effects.exists(copied + part)) await effects.disk.remove(copied + part);
  }
}

const copy = (ledger: Ledger, rows: readonly OutboxRow[]): Promise<void> =>
  ledger.transact(async (tables) => {
    for (const row of rows) await tables.insertInto("outbox").values(row).execute();
  });

async function oweNewer(effects: DurableEffects, workspace: Workspace, ledger: Ledger): Promise<number> {
  const since = new Date(effects.now() - TOLD_AGAIN_DAYS * MS_PER_DAY).toISOString();
  const revisions = await ledger.tables
    .selectFrom("revision")
    .select(["base", "json_sha256 as jsonSha256"])
    .where("issued", ">=", since)
    .orderBy("id")
    .execute();
  let count = 0;
  for (const { base, jsonSha256 } of revisions) {
    const json = await effects.readFile(join(workspace.paths.root, `${base}.json`));
    const report = JSON.parse(new TextDecoder().decode(json)) as SetupReport;
    const messages = await reportMessages(effects, workspace, { report, base, jsonSha256 });
    await ledger.transact((tables) => owe(tables, messages));
    if (messages.length > 0) count++;
  }
  return count;
}
