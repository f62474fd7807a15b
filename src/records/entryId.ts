import type { ReportEntry } from "../model/entry.ts";
import { sha256Of } from "./readLogs.ts";

/** The id of an entry: a hash of its words without the time, so that the same said twice is one, and a changed word shows. */
export function entryId(entry: Omit<ReportEntry, "id" | "made">): string {
  const { report, revision, kind, characteristic, who, why, decision, corrected } = entry;
  const said = { report, revision, kind, characteristic, who, why, decision, corrected };
  return sha256Of(JSON.stringify(Object.entries(said))).slice(0, 16);
}
