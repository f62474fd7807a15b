import { type Kysely, sql, type Transaction } from "kysely";
import type { Ledger } from "./openLedger.ts";
import type { Tables } from "./tables.ts";

/** A message to be owed. */
export interface OutboxMessage {
  /** The same for every try: whoever gets it twice can tell. */
  readonly idempotencyKey: string;
  /** Name of the target in the settings. */
  readonly target: string;
  /** What it is about, for a person: `report J-1_10_seat r1`. */
  readonly subject: string;
  /** JSON. */
  readonly message: string;
  /** ISO 8601. */
  readonly due: string;
}
/** A message that is owed. */
export interface Owed {
  readonly id: number;
  readonly key: string;
  readonly subject: string;
  readonly message: string;
  /** Tries that were begun. */
  readonly attempts: number;
  readonly nextAttempt: string;
}

/** Owes messages within a transaction; one that was owed before, sent or not, is not owed again. */
export async function owe(tables: Transaction<Tables>, messages: readonly OutboxMessage[]): Promise<void> {
  for (const { idempotencyKey, target, subject, message, due } of messages)
    await tables
      .insertInto("outbox")
      .values({
        idempotency_key: idempotencyKey,
        target,
        subject,
        message,
        attempts: 0,
        next_attempt: due,
        owed: due,
      })
      .onConflict((conflict) => conflict.column("idempotency_key").doNothing())
      .execute();
}

/** Owes the digest of a day; an earlier state of that day which nobody has got yet is not owed any more. */
export function oweDigest(ledger: Ledger, messages: readonly OutboxMessage[]): Promise<void> {
  return ledger.transact(async (tables) => {
    for (const { target, subject, idempotencyKey } of messages)
      await tables
        .deleteFrom("outbox")
        .where("target", "=", target)
        .where("subject", "=", subject)
        .where("idempotency_key", "<>", idempotencyKey)
        .where("sent", "is", null)
        .execute();
    await owe(tables, messages);
  });
}

const open = (tables: Kysely<Tables>, target: string) =>
  tables
    .selectFrom("outbox")
    .select(["id", "idempotency_key as key", "subject", "message", "attempts", "next_attempt as nextAttempt"])
    .where("target", "=", target)
    .where("sent", "is", null)
    .where("refused", "is", null);

/** The oldest message to a target whose time has come; null when there is none. */
export async function nextDue(tables: Kysely<Tables>, target: string, now: string): Promise<Owed | null> {
  const row = await open(tables, target)
    .where("next_attempt", "<=", now)
    .orderBy("id")
    .limit(1)
    .executeTakeFirst();
  return row ?? null;
}

/** When the next message to a target comes due; null when none waits. */
export async function nextDueTime(tables: Kysely<Tables>, target: string): Promise<string | null> {
  const row = await open(tables, target).orderBy("next_attempt").limit(1).executeTakeFirst();
  return row?.nextAttempt ?? null;
}

/**
 * Begins a try: from now until `until` nobody else tries this message, and whoever comes after a crash tries it again then.
 * False when somebody was quicker.
 */
export function beginTry(ledger: Ledger, { id, nextAttempt }: Owed, until: string): Promise<boolean> {
  return ledger.transact(async (tables) => {
    const { numUpdatedRows } = await tables
      .updateTable("outbox")
      .set({ attempts: sql`attempts + 1`, next_attempt: until })
      .where("id", "=", id)
      .where("sent", "is", null)
      .where("next_attempt", "=", nextAttempt)
      .executeTakeFirst();
    return numUpdatedRows === 1n;
  });
}

/** How a try ended. */
export type TryEnd =
  | { readonly sent: string }
  | { readonly again: string; readonly because: string }
  | { readonly refused: string; readonly because: string };

/** Notes how a try ended. */
export function endTry(ledger: Ledger, { id }: Owed, end: TryEnd): Promise<void> {
  const set =
    "sent" in end
      ? { sent: end.sent, last_error: null }
      : "again" in end
        ? { next_attempt: end.again, last_error: end.because }
        : { refused: end.refused, last_error: end.because };
  return ledger.transact(async (tables) => {
    await tables.updateTable("outbox").set(set).where("id", "=", id).execute();
  });
}

/** Messages that were refused for good are owed again from now on. Gives how many. */
export function oweRefusedAgain(ledger: Ledger, now: string): Promise<number> {
  return ledger.transact(async (tables) => {
    const { numUpdatedRows } = await tables
      .updateTable("outbox")
      .set({ refused: null, next_attempt: now })
      .where("refused", "is not", null)
      .executeTakeFirst();
    return Number(numUpdatedRows);
  });
}

/** What one target was told and what not. */
export interface TargetState {
  readonly target: string;
  readonly sent: number;
  readonly owed: number;
  /** When the oldest that is still owed came to be owed. */
  readonly owedSince: string | null;
  /** What hindered the oldest that is still owed; null while it has not been tried. */
  readonly hindrance: string | null;
  readonly refused: readonly { readonly subject: string; readonly because: string }[];
}

/** What each target was told and what not, by name. */
export async function outboxState(tables: Kysely<Tables>): Promise<TargetState[]> {
  const counts = await tables
    .selectFrom("outbox")
    .select(({ fn }) => ["target", fn.countAll().as("all"), fn.count("sent").as("sent")])
    .groupBy("target")
    .orderBy("target")
    .execute();
  const states: TargetState[] = [];
  for (const { target, all, sent } of counts) {
    const oldest = await open(tables, target)
      .select(["owed", "last_error"])
      .orderBy("id")
      .limit(1)
      .executeTakeFirst();
    const refused = await tables
      .selectFrom("outbox")
      .select(["subject", "last_error"])
      .where("target", "=", target)
      .where("refused", "is not", null)
      .orderBy("id")
      .execute();
    states.push({
      target,
      sent: Number(sent),
      owed: Number(all) - Number(sent) - refused.length,
      owedSince: oldest?.owed ?? null,
      hindrance: oldest?.last_error ?? null,
      refused: refused.map(({ subject, last_error }) => ({ subject, because: last_error ?? "" })),
    });
  }
  return states;
}
