import type { Kysely } from "kysely";
import type { Verdict } from "../model/setupReport.ts";
import type { Tables } from "./ledger/tables.ts";

export type TrendKey = "machine" | "pallet" | "fixture" | "job";
export interface TrendPoint {
  readonly issued: string;
  readonly report: string;
  readonly revision: number;
  readonly of: string;
  readonly quantity: string;
  readonly value: number;
  readonly unit: string;
  readonly uncertainty: number | null;
  readonly verdict: Verdict | null;
  /** Value of the key that the trend is divided by; null when the setup does not state it. */
  readonly group: string | null;
}

/**
 * Values of one characteristic, feature or advice over time, oldest first, from the newest revision of each setup.
 * @param id `ID` of a characteristic, or `ID.quantity` such as `rotation-center.x`
 */
export async function trendOf(
  tables: Kysely<Tables>,
  id: string,
  by: TrendKey | null,
): Promise<TrendPoint[]> {
  const newest = tables
    .selectFrom("revision")
    .select((row) => ["setup_id", row.fn.max("revision").as("revision")])
    .groupBy("setup_id")
    .as("newest");
  const dot = id.lastIndexOf(".");
  const [of, quantity] = dot > 0 ? [id.slice(0, dot), id.slice(dot + 1)] : [id, null];
  const rows = await tables
    .selectFrom("value")
    .innerJoin("revision", "revision.id", "value.revision_id")
    .innerJoin(newest, (join) =>
      join
        .onRef("newest.setup_id", "=", "revision.setup_id")
        .onRef("newest.revision", "=", "revision.revision"),
    )
    .innerJoin("setup", "setup.id", "revision.setup_id")
    .select([
      "revision.issued",
      "setup.report_id as report",
      "revision.revision",
      "value.of",
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
      quantity === null
        ? row("value.of", "=", id)
        : row.or([
            row("value.of", "=", id),
            row.and([row("value.of", "=", of), row("value.quantity", "=", quantity)]),
          ]),
    )
    .orderBy("revision.issued")
    .orderBy("setup.report_id")
    .orderBy("value.quantity")
    .execute();
  return rows.flatMap(({ machine, pallet, fixture, job, value, ...row }) => {
    const keys = { machine, pallet, fixture, job };
    return value === null ? [] : [{ ...row, value, group: by === null ? null : keys[by] }];
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
}
/** Every revision that was measured with an instrument, oldest first; `since` leaves out what was issued before. */
export async function usesOfGauge(
  tables: Kysely<Tables>,
  instrument: string,
  since: string | null,
): Promise<GaugeUse[]> {
  const rows = await tables
    .selectFrom("gauge")
    .innerJoin("revision", "revision.id", "gauge.revision_id")
    .innerJoin("setup", "setup.id", "revision.setup_id")
    .select([
      "revision.issued",
      "setup.report_id as report",
      "revision.revision",
      "revision.verdict",
      "setup.job",
      "gauge.calibration_due as calibrationDue",
    ])
    .where("gauge.name", "=", instrument)
    .$if(since !== null, (query) => query.where("revision.issued", ">=", since ?? ""))
    .orderBy("revision.issued")
    .orderBy("setup.report_id")
    .orderBy("revision.revision")
    .execute();
  return rows;
}
