import type { Kysely } from "kysely";
import { controlChart } from "../analysis/controlChart.ts";
import type { DigestDrift, DigestTrend } from "../model/digest.ts";
import type { Tables } from "./ledger/tables.ts";

/** Newest revision of a setup, the rows in the order in which they were issued. */
export interface TrendRow {
  readonly revisionId: number;
  readonly id: string;
  readonly plan: string;
  readonly machine: string | null;
}
/** Kinds whose values the shop follows from night to night, and which of them: B centre, seatings, lean of the column. */
const FOLLOWED: Readonly<Record<string, { readonly quantities: readonly string[]; readonly unit: string }>> =
  {
    "rotation-center": { quantities: ["x", "z"], unit: "mm" },
    // mm or mm per mm, by what the seatings are compared in.
    "re-seat": { quantities: ["mean", "range"], unit: "" },
    "four-face": { quantities: ["common", "seatX", "seatZ"], unit: "slope" },
  };
/** The chart of a value looks back on so many setups. */
const LOOK_BACK = 50;

/** One chart for each followed value and machine, in the order of the names. */
export async function followedTrends(
  tables: Kysely<Tables>,
  rows: readonly TrendRow[],
): Promise<DigestTrend[]> {
  const values = await tables
    .selectFrom("value")
    .select(["revision_id", "of", "kind", "quantity", "value"])
    .where("source", "=", "advice")
    .where("kind", "in", Object.keys(FOLLOWED))
    .execute();
  const series = new Series<Pick<DigestTrend, "of" | "quantity" | "machine" | "unit">>(rows);
  for (const { revision_id, of, kind, quantity, value } of values)
    if (FOLLOWED[kind]?.quantities.includes(quantity))
      series.add(revision_id, value, ({ machine }) => ({
        of,
        quantity,
        machine,
        unit: FOLLOWED[kind]?.unit ?? "",
      }));
  return series.charts().map(({ named, chart }) => ({ ...named, ...chart }));
}

/** Results of some revisions that break a rule of their chart: the same characteristic, plan and machine over time. */
export async function driftOf(
  tables: Kysely<Tables>,
  rows: readonly TrendRow[],
  today: readonly number[],
): Promise<DigestDrift[]> {
  const asked = rows.filter((row) => today.includes(row.revisionId));
  const plans = [...new Set(asked.map(({ plan }) => plan))];
  if (plans.length === 0) return [];
  const values = await tables
    .selectFrom("value")
    .innerJoin("revision", "revision.id", "value.revision_id")
    .innerJoin("setup", "setup.id", "revision.setup_id")
    .select(["value.revision_id", "value.of", "value.value", "value.unit"])
    .where("value.source", "=", "characteristic")
    .where("setup.plan", "in", plans)
    .execute();
  const series = new Series<Pick<DigestDrift, "characteristic" | "machine" | "unit"> & { plan: string }>(
    rows,
  );
  for (const { revision_id, of, value, unit } of values)
    series.add(revision_id, value, ({ plan, machine }) => ({ characteristic: of, plan, machine, unit }));
  return asked.flatMap((row) =>
    series
      .charts(row)
      .filter(({ chart }) => chart.signals.length > 0)
      .map(({ named: { plan: _plan, ...named }, chart }) => ({ report: row.id, ...named, ...chart })),
  );
}

/** Values by name, each at the place of its setup in time. */
class Series<Named extends { readonly machine: string | null }> {
  readonly #places: ReadonlyMap<number, { readonly row: TrendRow; readonly place: number }>;
  readonly #series = new Map<string, { named: Named; values: { place: number; value: number }[] }>();
  constructor(rows: readonly TrendRow[]) {
    this.#places = new Map(rows.map((row, place) => [row.revisionId, { row, place }]));
  }

  add(revisionId: number, value: number | null, name: (row: TrendRow) => Named): void {
    const found = this.#places.get(revisionId);
    if (found === undefined || value === null) return;
    const named = name(found.row);
    const key = JSON.stringify(Object.values(named));
    const one = this.#series.get(key) ?? { named, values: [] };
    one.values.push({ place: found.place, value });
    this.#series.set(key, one);
  }

  /** The chart of each series in the order of the names; with `at` only series with a value there, up to it. */
  charts(at?: TrendRow) {
    const end = at === undefined ? Number.POSITIVE_INFINITY : (this.#places.get(at.revisionId)?.place ?? -1);
    return [...this.#series]
      .toSorted(([a], [b]) => (a < b ? -1 : 1))
      .flatMap(([, { named, values }]) => {
        const sorted = values.filter(({ place }) => place <= end).toSorted((a, b) => a.place - b.place);
        const last = sorted.at(-1);
        if (last === undefined || (at !== undefined && last.place !== end)) return [];
        const { count, mean, lower, upper, signals } = controlChart(
          sorted.slice(-LOOK_BACK).map(({ value }) => value),
        );
        return [{ named, chart: { count, latest: last.value, mean, lower, upper, signals } }];
      });
  }
}
