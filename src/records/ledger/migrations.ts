import { type Kysely, type Migration, type MigrationProvider, sql } from "kysely";

/** How a database writes a number that counts up by itself as the key of its rows. */
export type CountingKey = "integer primary key" | "serial primary key";

/**
 * Numbered steps from an empty database to the tables of today. A step that has been released is never changed; a new
 * one is added behind it. The statements are plain SQL but for the counting key.
 */
export function migrations(key: CountingKey): MigrationProvider {
  const steps: Readonly<Record<string, Migration>> = {
    "001-first": { up: (database: Kysely<unknown>) => first(database, key) },
    "002-refused-messages": { up: refusedMessages },
  };
  return { getMigrations: async () => ({ ...steps }) };
}

async function first(database: Kysely<unknown>, key: CountingKey): Promise<void> {
  const statements = [
    `create table setup (id ${key}, report_id text not null unique, plan text not null, job text, operation text, setup text,
      machine text, pallet text, serial text, fixture text, part text, day text not null)`,
    `create table log (sha256 text primary key, name text not null, bytes integer not null, archived text not null,
      accepted text not null, setup_id integer not null references setup (id), sequence integer not null unique, measured text,
      current integer not null default 1)`,
    `create table revision (id ${key}, setup_id integer not null references setup (id), revision integer not null,
      issued text not null, verdict text not null, title text not null, base text not null unique, plan_sha256 text not null,
      json_sha256 text not null, elapsed_ms integer not null,
      pass integer not null, fail integer not null, undecided integer not null, missing integer not null, unique (setup_id, revision))`,
    `create table revision_log (revision_id integer not null references revision (id) on delete cascade,
      sha256 text not null references log (sha256), name text not null, primary key (revision_id, sha256))`,
    `create table gauge (revision_id integer not null references revision (id) on delete cascade, name text not null,
      uncertainty double precision, calibration_due text, place text, primary key (revision_id, name))`,
    `create table value (revision_id integer not null references revision (id) on delete cascade, source text not null, "of" text not null,
      kind text not null, quantity text not null, value double precision, unit text not null, uncertainty double precision, verdict text)`,
    `create index value_by_name on value ("of", quantity)`,
    `create index value_by_revision on value (revision_id)`,
    `create table finding (revision_id integer not null references revision (id) on delete cascade, level text not null, code text not null,
      text text not null, log text, line integer)`,
    `create index finding_by_revision on finding (revision_id)`,
    `create table entry (id ${key}, report_id text not null, revision integer, kind text not null, characteristic text,
      who text not null, made text not null, why text not null, detail text not null)`,
    `create table outbox (id ${key}, idempotency_key text not null unique, target text not null, message text not null,
      attempts integer not null default 0, next_attempt text not null, sent text, last_error text)`,
    `create table run (id text primary key, what text not null, started text not null, ended text, accepted integer not null default 0,
      rejected integer not null default 0, reports integer not null default 0)`,
    `create index revision_by_issue on revision (issued)`,
    `create index revision_log_by_log on revision_log (sha256)`,
    `create index log_by_setup on log (setup_id)`,
    `create index setup_by_job on setup (plan, job)`,
  ];
  for (const statement of statements) await sql.raw(statement).execute(database);
}

async function refusedMessages(database: Kysely<unknown>): Promise<void> {
  const statements = [
    `alter table outbox add column subject text not null default ''`,
    `alter table outbox add column owed text`,
    `alter table outbox add column refused text`,
    `create index outbox_by_target on outbox (target, sent)`,
  ];
  for (const statement of statements) await sql.raw(statement).execute(database);
}
