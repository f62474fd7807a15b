import type { Kysely } from "kysely";
import type { Decision, ReportEntry } from "../../model/entry.ts";
import type { Tables } from "./tables.ts";

/** What quality has said of a report up to now, in the order in which it was said. */
export async function entriesFor(tables: Kysely<Tables>, reportId: string): Promise<ReportEntry[]> {
  const rows = await tables
    .selectFrom("entry")
    .selectAll()
    .where("report_id", "=", reportId)
    .orderBy("made")
    .orderBy("id")
    .execute();
  return rows.map(({ report_id, revision, kind, characteristic, who, made, why, detail }) => {
    const { id, decision, corrected } = JSON.parse(detail) as {
      id: string;
      decision: Decision | null;
      corrected: Record<string, string>;
    };
    return {
      id,
      report: report_id,
      revision: revision ?? 0,
      kind,
      characteristic,
      who,
      made,
      why,
      decision,
      corrected,
    };
  });
}
