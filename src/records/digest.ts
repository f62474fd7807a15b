import type { Kysely } from "kysely";
import {
  DIGEST_SCHEMA,
  type Digest,
  type DigestEntry,
  type DigestGauge,
  type DigestReport,
} from "../model/digest.ts";
import { correctedHeader, entryWords } from "../model/entry.ts";
import type { Verdict } from "../model/setupReport.ts";
import { driftOf, followedTrends } from "./digestTrends.ts";
import type { Entries } from "./entries.ts";
import type { Tables } from "./ledger/tables.ts";
import { dayOf } from "./workspace.ts";

export interface DigestQuestion {
  /** YYYY-MM-DD in the workspace's zone. */
  readonly date: string;
  readonly timeZone: string | null;
  readonly shop: string | null;
}
const ORDER: readonly Verdict[] = ["fail", "missing", "undecided", "pass"];
const DAY_MS = 86_400_000;
/** Gauges due within so many days are named. */
const DUE_SOON_DAYS = 30;
/** A gauge that nobody has used for so long is not asked for. */
const USED_WITHIN_DAYS = 365;

/** The digest of a day from the ledger. The same ledger and day give the same digest. */
export async function digestOf(
  tables: Kysely<Tables>,
  entries: Entries,
  question: DigestQuestion,
): Promise<Digest> {
  const all = (await revisionsUntil(tables, question)).map((row) => ({
    ...row,
    ...correctedHeader(headerOf(row), entries.of(row.id, row.revision)),
  }));
  const newest = newestOfEach(all);
  const valid = newest.filter((row) => !entries.isVoid(row.id, row.revision));
  // What was issued today and replaced by a revision that bears an earlier day, the clock having been set back, shows that one.
  const touched = new Set(all.filter((row) => row.day === question.date).map((row) => row.id));
  const today = newest.filter((row) => touched.has(row.id));
  const reports = today
    .map((row) => reportOf(row, entries))
    .toSorted(
      (a, b) =>
        ORDER.indexOf(a.verdict) - ORDER.indexOf(b.verdict) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0),
    );
  const earlier = new Map(
    newestOfEach(all.filter((row) => row.day < question.date)).map((row) => [row.id, row.verdict]),
  );
  return {
    schema: DIGEST_SCHEMA,
    date: question.date,
    zone: question.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
    shop: question.shop,
    counts: counted(reports),
    reports,
    gauges: await gaugesDue(
      tables,
      question.date,
      valid
        .filter((row) => daysBetween(row.day, question.date) <= USED_WITHIN_DAYS)
        .map((row) => row.revisionId),
    ),
    trends: await followedTrends(tables, valid),
    drift: await driftOf(
      tables,
      valid,
      today.map((row) => row.revisionId),
    ),
    entries: entriesOfDay(entries, question),
    changes: reports.flatMap(({ id, verdict }) => {
      const from = earlier.get(id);
      return from === undefined || from === verdict ? [] : [{ id, from, to: verdict }];
    }),
  };
}

type Row = Awaited<ReturnType<typeof revisionsUntil>>[number];
async function revisionsUntil(tables: Kysely<Tables>, { date, timeZone }: DigestQuestion) {
  const rows = await tables
    .selectFrom("revision")
    .innerJoin("setup", "setup.id", "revision.setup_id")
    .select([
      "revision.id as revisionId",
      "setup.report_id as id",
      "revision.revision",
      "revision.verdict",
      "revision.title",
      "revision.issued",
      "revision.base",
      "setup.job",
      "setup.operation",
      "setup.machine",
      "setup.pallet",
      "setup.plan",
      "pass",
      "fail",
      "undecided",
      "missing",
    ])
    // A day of any zone ends within a day and a half of its name in UTC.
    .where("revision.issued", "<", new Date(Date.parse(date) + 2.5 * DAY_MS).toISOString())
    .orderBy("revision.issued")
    .orderBy("revision.revision")
    .execute();
  return rows
    .map((row) => ({ ...row, day: dayOf(Date.parse(row.issued), timeZone) }))
    .filter((row) => row.day <= date);
}

/** The highest revision of each report: it replaces the others, whatever the clock said when they were issued. */
function newestOfEach(rows: readonly Row[]): Row[] {
  const newest = new Map<string, Row>();
  for (const row of rows) if ((newest.get(row.id)?.revision ?? 0) <= row.revision) newest.set(row.id, row);
  return [...newest.values()];
}

const headerOf = ({ job, operation, machine, pallet }: Row) => ({ job, operation, machine, pallet });

function reportOf(
  { revisionId: _id, day: _day, plan: _plan, pass, fail, undecided, missing, ...row }: Row,
  entries: Entries,
): DigestReport {
  return {
    ...row,
    counts: { pass, fail, undecided, missing },
    entries: entries.of(row.id, row.revision).map(entryWords),
  };
}

const daysBetween = (day: string, later: string): number => (Date.parse(later) - Date.parse(day)) / DAY_MS;

function entriesOfDay(entries: Entries, { date, timeZone }: DigestQuestion): DigestEntry[] {
  return entries
    .all()
    .filter(({ made }) => dayOf(Date.parse(made), timeZone) === date)
    .toSorted((a, b) => (a.made < b.made ? -1 : a.made > b.made ? 1 : a.id < b.id ? -1 : 1))
    .map((entry) => {
      const { report, revision, who, made, why } = entry;
      return { report, revision, words: entryWords(entry), who, made, why };
    });
}

function counted(reports: readonly DigestReport[]): Record<Verdict, number> {
  const counts = { pass: 0, fail: 0, undecided: 0, missing: 0 };
  for (const { verdict } of reports) counts[verdict]++;
  return counts;
}

/** Gauges of the newest revisions that are due soon or overdue, by due day. */
async function gaugesDue(
  tables: Kysely<Tables>,
  date: string,
  revisionIds: readonly number[],
): Promise<DigestGauge[]> {
  const newest = new Set(revisionIds);
  const rows = await tables
    .selectFrom("gauge")
    .select(["revision_id", "name", "calibration_due"])
    .where("calibration_due", "is not", null)
    .orderBy("revision_id")
    .execute();
  const due = new Map<string, string>();
  for (const row of rows)
    if (newest.has(row.revision_id) && row.calibration_due !== null) due.set(row.name, row.calibration_due);
  return [...due]
    .map(([name, day]) => ({
      name,
      due: day,
      days: Math.round((Date.parse(day) - Date.parse(date)) / DAY_MS),
    }))
    .filter(({ days }) => days <= DUE_SOON_DAYS)
    .toSorted((a, b) => a.days - b.days || (a.name < b.name ? -1 : 1));
}
