import type { ReportEntry } from "../../model/entry.ts";
import type { Ledger } from "./openLedger.ts";

/** Brings entries of the job records into the ledger; those it has are left alone. */
export async function mirrorEntries(ledger: Ledger, entries: readonly ReportEntry[]): Promise<void> {
  if (entries.length === 0) return;
  await ledger.transact(async (tables) => {
    const rows = await tables.selectFrom("entry").select("detail").execute();
    const known = new Set(rows.map(({ detail }) => (JSON.parse(detail) as { id?: string }).id));
    for (const { id, report, decision, corrected, ...entry } of entries)
      if (!known.has(id))
        await tables
          .insertInto("entry")
          .values({ ...entry, report_id: report, detail: JSON.stringify({ id, decision, corrected }) })
          .execute();
  });
}
