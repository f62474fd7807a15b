import { join } from "node:path";
import { wholeOf } from "../ingest/logBytes.ts";
import type { DurableEffects } from "../model/effects.ts";
import type { LogFile } from "../model/measurement.ts";
import { namePart } from "../model/reportName.ts";
import { sha256Of } from "./readLogs.ts";
import type { WorkspacePaths } from "./workspace.ts";

/**
 * Path of a log in the archive, from the workspace and with `/`: by day, then hash, then what of its name is safe on any
 * file system. The same bytes on the same day have one place.
 */
export function archivePath(file: Pick<LogFile, "name" | "sha256">, day: string): string {
  return ["archive", ...day.split("-"), `${file.sha256}_${namePart(file.name)}`].join("/");
}

/** Keeps a log byte for byte, without write bit. A whole copy that is there is left alone; nothing is ever removed. */
export async function archiveLog(
  effects: DurableEffects,
  paths: WorkspacePaths,
  file: LogFile,
  day: string,
): Promise<string> {
  const path = archivePath(file, day);
  const place = join(paths.root, path);
  const present = await effects.disk.look(place);
  // Files come into the archive whole, so the size tells enough; a crash may have left out the last step.
  if (present?.kind !== "file" || present.size !== file.bytes.length)
    await effects.writeFile(place, wholeOf(file));
  await effects.disk.setReadOnly(place);
  return path;
}

/** A log out of the archive. Throws Error when its bytes are not what they were: then the disk or a person changed them. */
export async function archivedLog(
  effects: DurableEffects,
  paths: WorkspacePaths,
  log: { readonly name: string; readonly sha256: string; readonly archived: string },
): Promise<LogFile> {
  const bytes = await effects.readFile(join(paths.root, log.archived));
  if (sha256Of(bytes) !== log.sha256) throw new ArchiveChanged(log.archived);
  return { name: log.name, bytes, sha256: log.sha256 };
}

/** A log in the archive is not what it was when it was accepted. */
export class ArchiveChanged extends Error {
  constructor(path: string) {
    super(`${path}: this log in the archive has been changed; bring its bytes back from a backup`);
    this.name = "ArchiveChanged";
  }
}

/** Hashes and paths of all logs in the archive, by the names that they were given; days rising. */
export async function archivedFiles(
  effects: DurableEffects,
  paths: WorkspacePaths,
): Promise<{ readonly sha256: string; readonly archived: string; readonly day: string }[]> {
  const found: { sha256: string; archived: string; day: string }[] = [];
  const folders = async (path: string, digits: number): Promise<string[]> =>
    (await effects.disk.list(join(paths.root, path)))
      .filter((entry) => entry.kind === "folder" && new RegExp(`^\\d{${digits}}$`).test(entry.name))
      .map((entry) => entry.name);
  if ((await effects.disk.look(paths.archive)) === null) return found;
  for (const year of await folders("archive", 4))
    for (const month of await folders(`archive/${year}`, 2))
      for (const day of await folders(`archive/${year}/${month}`, 2)) {
        const folder = `archive/${year}/${month}/${day}`;
        for (const entry of await effects.disk.list(join(paths.root, folder))) {
          const sha256 = /^([0-9a-f]{64})_/.exec(entry.name)?.[1];
          if (entry.kind === "file" && sha256 !== undefined)
            found.push({ sha256, archived: `${folder}/${entry.name}`, day: `${year}-${month}-${day}` });
        }
      }
  return found;
}
