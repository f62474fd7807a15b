import { join } from "node:path";
import type { DiskEntry, DurableEffects } from "../model/effects.ts";
import type { WorkspacePaths } from "../records/workspace.ts";
import { freeName } from "./freeName.ts";
import { moveFile } from "./moveFile.ts";

/** A file that was taken from the inbox: it lies alone in a folder of its own and keeps its name. */
export interface Claim {
  /** Rises with the order of claiming. */
  readonly id: string;
  readonly folder: string;
  readonly path: string;
  readonly name: string;
  readonly entry: DiskEntry;
  /** Day of the workspace on which it was claimed: its place in the archive, also after a crash. */
  readonly day: string;
}

const ID = /^(\d{4}-\d{2}-\d{2})_\d{13}-\d{6}$/;
let sequence = 0;

/**
 * Takes a file out of the inbox in one step, so that of two watchers one gets it. Null when it has vanished or somebody
 * else was quicker.
 */
export async function claim(
  effects: DurableEffects,
  paths: WorkspacePaths,
  entry: DiskEntry,
  day: string,
): Promise<Claim | null> {
  sequence = (sequence + 1) % 1_000_000;
  const id = `${day}_${String(effects.now()).padStart(13, "0")}-${String(sequence).padStart(6, "0")}`;
  const folder = join(paths.work, id);
  // A name that is not UTF-8 is written with question marks by the system; the file gets a name that can be typed.
  const name = entry.rawPath === undefined ? entry.name : entry.name.replaceAll("\ufffd", "_");
  await effects.disk.makeFolder(folder);
  let moved: Awaited<ReturnType<typeof moveFile>>;
  try {
    moved = await moveFile(effects, entry.rawPath ?? join(paths.inbox, entry.name), join(folder, name));
  } catch (error) {
    await effects.disk.removeFolder(folder).catch(() => undefined);
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
  const claimed = { id, folder, path: join(folder, name), name, entry, day };
  if (moved === "copied" || (await isUnchanged(effects, claimed))) return claimed;
  await putBack(effects, paths, claimed);
  return null;
}

/** All claims that are there, oldest first; folders that a crash left empty are removed. */
export async function openClaims(effects: DurableEffects, paths: WorkspacePaths): Promise<Claim[]> {
  const claims: Claim[] = [];
  for (const id of [...(await effects.disk.names(paths.work))].sort()) {
    const day = ID.exec(id)?.[1];
    if (day === undefined) continue;
    const folder = join(paths.work, id);
    // A copy across file systems that was cut off still has its original in the inbox.
    const entries = (await effects.disk.list(folder)).filter(({ name }) => !/^\.plinth-.*\.tmp$/.test(name));
    const [entry] = entries;
    if (entry === undefined) await dropFolder(effects, folder);
    else claims.push({ id, folder, path: join(folder, entry.name), name: entry.name, entry, day });
  }
  return claims;
}

async function dropFolder(effects: DurableEffects, folder: string): Promise<void> {
  for (const name of await effects.disk.names(folder)) await effects.disk.remove(join(folder, name));
  await effects.disk.removeFolder(folder);
}

/** Ends a claim whose log is done. */
export async function finishClaim(effects: DurableEffects, { path, folder }: Claim): Promise<void> {
  await effects.disk.remove(path);
  await dropFolder(effects, folder);
}

/** Whether the file is still as it was when it was taken; a writer may have kept it open. */
export async function isUnchanged(effects: DurableEffects, { path, entry }: Claim): Promise<boolean> {
  const now = await effects.disk.look(path);
  return now !== null && now.size === entry.size && now.modifiedMs === entry.modifiedMs;
}

/** Puts a file back into the inbox, beside what may have come there under its name meanwhile. */
export async function putBack(effects: DurableEffects, paths: WorkspacePaths, claimed: Claim): Promise<void> {
  const name = await freeName(effects, paths.inbox, claimed.name);
  await moveFile(effects, claimed.path, join(paths.inbox, name));
  await effects.disk.removeFolder(claimed.folder);
}
