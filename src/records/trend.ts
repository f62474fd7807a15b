import type { Kysely } from "kysely";
import { controlChart } from "../analysis/controlChart.ts";
import { correctedHeader } from "../model/entry.ts";
import type { Verdict } from "../model/setupReport.ts";
import type { TrendGroup, TrendPoint } from "../model/trend.ts";
import type { Entries } from "./entries.ts";
import type { Tables } from "./ledger/tables.ts";

export type TrendKey = "machine" | "pallet" | "fixture" | "job";
export interface TrendQuestion {
  /** `ID` of a characteristic, feature or advice, or `ID.quantity` such as `rotation-center.x`. */
  readonly id: string;
  readonly by: TrendKey | null;
  /** ISO 8601: leaves out what was issued before. */
  readonly since: string | null;
  /** Void revisions are left out, corrected headers count. */
  readonly entries: Entries;
}

/** Values over time from the newest valid revision of each setup, one trend for each plan, quantity and group. */
export async function trendOf(tables: Kysely<Tables>, question: TrendQuestion): Promise<TrendGroup[]> {
  const points = (await pointsOf(tables, question)).filter(
    ({ issued }) => question.since === null || Date.parse(issued) >= Date.parse(question.since),
  );
  const groups = new Map<string, TrendPoint[]>();
  for (const point of points) {
    const key = JSON.stringify([point.plan, point.of, point.quantity, point.unit, point.group]);
    groups.set(key, [...(groups.get(key) ?? []), point]);
  }
  const plans = new Set(points.map(({ plan }) => plan));
  return [...groups.values()].flatMap((own) => {
    const [first] = own;
    if (first === undefined) return [];
    const { mean, lower, upper, signals } = controlChart(own.map(({ value }) => value));
    const parts = [
      nameOf(first),
      question.by === null ? null : `${question.by} ${first.group ?? "not stated"}`,
      plans.size > 1 ? `plan ${first.plan}` : null,
    ];
    const name = parts.filter((part) => part !== null).join(", ");
    return [{ name, unit: first.unit, points: own, mean, lower, upper, signals }];
  });
}

/** A characteristic has one value and is known by its kind: `flat-0 flatness`, but `rotation-center x`. */
const nameOf = ({ of, kind, quantity }: TrendPoint): string =>
  `${of} ${quantity === "value" ? kind : quantity}`;

async function pointsOf(
  tables: Kysely<Tables>,
  { id, by, entries }: TrendQuestion,
): Promise<readonly TrendPoint[]> {
  const dot = id.lastIndexOf(".");
  const [of, quantity] = dot > 0 ? [id.slice(0, dot), id.slice(dot + 1)] : [id, null];
  // Advice has quantities with dots of their own, such as effects.90.x.
  const firstDot = id.indexOf(".");
  const nested = firstDot > 0 && firstDot !== dot ? [id.slice(0, firstDot), id.slice(firstDot + 1)] : null;
  const rows = await tables
    .selectFrom("value")
    .innerJoin("revision", "revision.id", "value.revision_id")
    .innerJoin("setup", "setup.id", "revision.setup_id")
    .select([
      "revision.issued",
      "setup.report_id as report",
      "revision.revision",
      "setup.plan",
      "value.of",
      "value.kind",
      "value.quantity",
      "value.value",
      "value.unit",
      "value.uncertainty",
      "value.verdict",
      "setup.machine",
      "setup.pallet",
      "setup.fixture",
      "setup.job",
    ])
    .where((row) =>
      row.or([
        row("value.of", "=", id),
        ...(quantity === null
          ? []
          : [row.and([row("value.of", "=", of), row("value.quantity", "=", quantity)])]),
        ...(nested === null
          ? []
          : [row.and([row("value.of", "=", nested[0] ?? ""), row("value.quantity", "=", nested[1] ?? "")])]),
      ]),
    )
    .orderBy("revision.issued")
    .orderBy("setup.report_id")
    .orderBy("revision.revision")
    .orderBy("value.quantity")
    .execute();
  const valid = rows.filter((row) => !entries.isVoid(row.report, row.revision));
  const newest = new Map<string, number>();
  for (const { report, revision } of valid) newest.set(report, Math.max(revision, newest.get(report) ?? 0));
  return valid.flatMap(({ machine, pallet, fixture, job, value, ...row }) => {
    if (value === null || newest.get(row.report) !== row.revision) return [];
    const stated = correctedHeader({ machine, pallet, fixture, job }, entries.of(row.report, row.revision));
    return [{ ...row, value, group: by === null ? null : stated[by] }];
  });
}

/** A report that used a gauge, for when the gauge turns out to be wrong. */
export interface GaugeUse {
  readonly issued: string;
  readonly report: string;
  readonly revision: number;
  readonly verdict: Verdict;
  readonly job: string | null;
  readonly calibrationDue: string | null;
  /** Quality has taken this revision out of use. */
  readonly void: boolean;
}
export interface GaugeUses {
  readonly instrument: string;
  /** Oldest first. */
  readonly uses: readonly GaugeUse[];
  /** The first use after the last check, where the plans' due dates show one. */
  readonly lastCheck: GaugeUse | null;
  /** How many earlier uses are left out. */
  readonly earlier: number;
}
export interface GaugeQuestion {
  /** Null: every gauge that was ever used. */
  readonly instrument: string | null;
  /** ISO 8601; null: since each one's last good check. */
  readonly since: string | null;
  readonly entries: Entries;
}

/**
 * Every revision that was measured with an instrument since a day, or without one since its last good check: that is the
 * first use under its latest due date, when the plans stated another one before. Where they never changed it, all uses count.
 */
export async function usesOfGauge(
  tables: Kysely<Tables>,
  { instrument, since, entries }: GaugeQuestion,
): Promise<GaugeUses[]> {
  const rows = await tables
    .selectFrom("gauge")
    .innerJoin("revision", "revision.id", "gauge.revision_id")
    .innerJoin("setup", "setup.id", "revision.setup_id")
    .select([
      "gauge.name",
      "revision.issued",
      "setup.report_id as report",
      "revision.revision",
      "revision.verdict",
      "setup.job",
      "gauge.calibration_due as calibrationDue",
    ])
    .$if(instrument !== null, (query) => query.where("gauge.name", "=", instrument ?? ""))
    .orderBy("gauge.name")
    .orderBy("revision.issued")
    .orderBy("setup.report_id")
    .orderBy("revision.revision")
    .execute();
  const byName = new Map<string, GaugeUse[]>(instrument === null ? [] : [[instrument, []]]);
  for (const { name, job, ...use } of rows) {
    const said = entries.of(use.report, use.revision);
    const own = byName.get(name) ?? [];
    own.push({
      ...use,
      ...correctedHeader({ job }, said),
      void: entries.isVoid(use.report, use.revision),
    });
    byName.set(name, own);
  }
  return [...byName].map(([name, all]) => sinceCheck(name, all, since));
}

function sinceCheck(instrument: string, all: readonly GaugeUse[], since: string | null): GaugeUses {
  if (since !== null) {
    const uses = all.filter(({ issued }) => Date.parse(issued) >= Date.parse(since));
    return { instrument, uses, lastCheck: null, earlier: all.length - uses.length };
  }
  const dues = [...new Set(all.map(({ calibrationDue }) => calibrationDue ?? ""))].toSorted();
  const start = dues.length > 1 ? all.findIndex(({ calibrationDue }) => calibrationDue === dues.at(-1)) : 0;
  return {
    instrument,
    uses: all.slice(start),
    lastCheck: start > 0 ? (all[start] ?? null) : null,
    earlier: start,
  };
}
