import type { Kysely } from "kysely";
import { controlChart } from "../analysis/controlChart.ts";
import {
  DIGEST_SCHEMA,
  type Digest,
  type DigestGauge,
  type DigestReport,
  type DigestTrend,
} from "../model/digest.ts";
import type { Verdict } from "../model/setupReport.ts";
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
/** Kinds whose values the shop follows from night to night, and which of them. */
const FOLLOWED: Readonly<Record<string, { readonly quantities: readonly string[]; readonly unit: string }>> =
  {
    "rotation-center": { quantities: ["x", "z"], unit: "mm" },
    // mm or mm per mm, by what the seatings are compared in.
    "re-seat": { quantities: ["mean", "range"], unit: "" },
  };

/** The digest of a day from the ledger. The same ledger and day give the same digest. */
export async function digestOf(tables: Kysely<Tables>, question: DigestQuestion): Promise<Digest> {
  const all = await revisionsUntil(tables, question);
  const today = newestOfEach(all.filter((row) => row.day === question.date));
  const reports = today
    .map(reportOf)
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
      newestOfEach(all).map((row) => row.revisionId),
    ),
    trends: await trends(tables, newestOfEach(all)),
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

function newestOfEach(rows: readonly Row[]): Row[] {
  const newest = new Map<string, Row>();
  for (const row of rows) if ((newest.get(row.id)?.revision ?? 0) <= row.revision) newest.set(row.id, row);
  return [...newest.values()];
}

const reportOf = ({
  revisionId: _id,
  day: _day,
  pass,
  fail,
  undecided,
  missing,
  ...row
}: Row): DigestReport => ({ ...row, counts: { pass, fail, undecided, missing } });

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

/** One chart for each followed value and machine, in the order of the names. */
async function trends(tables: Kysely<Tables>, newest: readonly Row[]): Promise<DigestTrend[]> {
  const rows = await tables
    .selectFrom("value")
    .select(["revision_id", "of", "kind", "quantity", "value"])
    .where("source", "=", "advice")
    .where("kind", "in", Object.keys(FOLLOWED))
    .execute();
  const byRevision = new Map(newest.map((row, place) => [row.revisionId, { row, place }]));
  const series = new Map<
    string,
    {
      of: string;
      quantity: string;
      machine: string | null;
      unit: string;
      values: { place: number; value: number }[];
    }
  >();
  for (const { revision_id, of, kind, quantity, value } of rows) {
    const found = byRevision.get(revision_id);
    if (found === undefined || value === null || !FOLLOWED[kind]?.quantities.includes(quantity)) continue;
    const { machine } = found.row;
    const key = `${of}\n${quantity}\n${machine ?? ""}`;
    const one = series.get(key) ?? { of, quantity, machine, unit: FOLLOWED[kind]?.unit ?? "", values: [] };
    one.values.push({ place: found.place, value });
    series.set(key, one);
  }
  return [...series]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([, { values, ...named }]) => {
      const sorted = values.toSorted((a, b) => a.place - b.place).map(({ value }) => value);
      const { count, mean, lower, upper, signals } = controlChart(sorted);
      return { ...named, count, latest: sorted.at(-1) ?? Number.NaN, mean, lower, upper, signals };
    });
}
