import type { DiskEntry, DurableEffects } from "../model/effects.ts";
import type { Settings } from "../model/settings.ts";
import type { WorkspacePaths } from "../records/workspace.ts";

const MS_PER_DAY = 86_400_000;

export interface InboxFiles {
  /** Everything that is to be taken once it is at rest; links and the like too, to be rejected. */
  readonly files: readonly DiskEntry[];
  /** Folders: what is in them is not looked at. */
  readonly folders: readonly string[];
  /** Older than the settings allow. */
  readonly old: number;
}

/** What lies in the inbox. Hidden and unfinished files (`.*`, `*.tmp`, `*.part`) are not there yet. */
export async function inboxFiles(
  effects: DurableEffects,
  paths: WorkspacePaths,
  settings: Settings,
): Promise<InboxFiles> {
  const entries = (await effects.disk.list(paths.inbox)).filter(
    ({ name }) => !/^\.|\.(?:tmp|part)$/i.test(name) && name !== "rejected",
  );
  const oldest = effects.now() - (settings.watch.leaveOlderThanDays ?? Number.POSITIVE_INFINITY) * MS_PER_DAY;
  const files = entries.filter(({ kind }) => kind !== "folder");
  const fresh = files.filter(({ modifiedMs }) => !(modifiedMs < oldest));
  return {
    files: fresh,
    folders: entries.filter(({ kind }) => kind === "folder").map(({ name }) => name),
    old: files.length - fresh.length,
  };
}
