import type { Kysely } from "kysely";
import type { Plan } from "../../model/plan/plan.ts";
import type { HistoryValue } from "../../model/setupReport.ts";
import type { ChainKeys } from "../chainKeys.ts";
import type { Tables } from "./tables.ts";

/** More than this many earlier reports say nothing new about drift, and every report encloses what it used. */
const MOST_REPORTS = 50;
const CENTER = "rotation-center";

/**
 * Values of earlier reports that the advice of a plan looks back on, oldest first: what `re-seat` of the ledger compares,
 * and the B centre. From the newest revision of each other chain of the same plan, and machine where both state one.
 */
export async function historyFor(
  tables: Kysely<Tables>,
  plan: Plan,
  keys: ChainKeys,
  ownSetupId: number | null,
): Promise<HistoryValue[]> {
  const wanted = wantedNames(plan);
  if (wanted.length === 0) return [];
  const newest = tables
    .selectFrom("revision")
    .select((row) => ["setup_id", row.fn.max("revision").as("revision")])
    .groupBy("setup_id")
    .as("newest");
  const reports = await tables
    .selectFrom("revision")
    .innerJoin(newest, (join) =>
      join
        .onRef("newest.setup_id", "=", "revision.setup_id")
        .onRef("newest.revision", "=", "revision.revision"),
    )
    .innerJoin("setup", "setup.id", "revision.setup_id")
    .select(["revision.id", "revision.issued", "setup.report_id as report"])
    .where("setup.plan", "=", keys.plan)
    .$if(keys.machine !== null, (query) =>
      query.where((row) =>
        row.or([row("setup.machine", "=", keys.machine), row("setup.machine", "is", null)]),
      ),
    )
    .$if(ownSetupId !== null, (query) => query.where("setup.id", "!=", ownSetupId ?? 0))
    .orderBy("revision.issued", "desc")
    .orderBy("revision.id", "desc")
    .limit(MOST_REPORTS)
    .execute();
  const values: HistoryValue[] = [];
  for (const { id, issued, report } of reports.reverse())
    values.push(...(await valuesOf(tables, id, { issued, report }, wanted)));
  return values;
}

async function valuesOf(
  tables: Kysely<Tables>,
  revisionId: number,
  from: { readonly issued: string; readonly report: string },
  wanted: readonly string[],
): Promise<HistoryValue[]> {
  const rows = await tables
    .selectFrom("value")
    .select(["of", "quantity", "value"])
    .where("revision_id", "=", revisionId)
    .where("of", "in", wanted)
    .where("source", "in", ["feature", "advice"])
    .where("quantity", "in", ["x", "y", "z", "slopeX", "slopeY"])
    .orderBy("of")
    .orderBy("quantity")
    .execute();
  return rows.flatMap(({ of, quantity, value }) =>
    value === null ? [] : [{ of, quantity, value, ...from }],
  );
}

/** Features that `re-seat` follows through the ledger, and the B centre where the plan asks for it. */
function wantedNames(plan: Plan): string[] {
  const names = plan.advice.flatMap(({ kind, inputs }) => {
    if (kind === CENTER) return [CENTER];
    return kind === "re-seat" && inputs.of === "ledger" && typeof inputs.feature === "string"
      ? [inputs.feature]
      : [];
  });
  return [...new Set(names)];
}
