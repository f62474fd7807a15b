import { join } from "node:path";
import type { RunContext } from "./context.ts";

const MS_PER_DAY = 86_400_000;

/**
 * Removes what the settings say may go: old run logs, and rejected logs where a time is set. Archive, records, reports and
 * ledger are not in its reach.
 */
export async function keepRetention({ effects, workspace }: RunContext): Promise<void> {
  const { paths, settings } = workspace;
  const rules = [
    { folder: paths.runLogs, days: settings.retention.runLogDays, name: /^\d{4}-\d{2}-\d{2}\.jsonl$/ },
    { folder: paths.rejected, days: settings.retention.rejectedDays, name: /(?:)/ },
  ];
  for (const { folder, days, name } of rules) {
    if (days === null || (await effects.disk.look(folder)) === null) continue;
    const oldest = effects.now() - days * MS_PER_DAY;
    for (const entry of await effects.disk.list(folder))
      if (entry.kind !== "folder" && entry.modifiedMs < oldest && name.test(entry.name))
        await effects.disk.remove(join(folder, entry.name));
  }
}
