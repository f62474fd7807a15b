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

/** A file whose claim has ended: read and done, and kept for a while because somebody may still write to it. */
export interface KeptClaim extends Pick<Claim, "folder" | "path" | "name" | "entry"> {
  /** What of it was read. */
  readonly size: number;
  readonly modifiedMs: number;
  /** Begin of the hash of what was read. */
  readonly sha256: string;
  readonly sinceMs: number;
}
const KEPT_HASH_DIGITS = 16;
/** The name of the folder says what was read of the file in it, so that a later run knows as well. */
const KEPT = /^\d{4}-\d{2}-\d{2}_\d{13}-\d{6}_(\d+)_(-?\d+)_(\d+)_([0-9a-f]{16})$/;

/** Ends a claim whose log is done: the file goes aside. Cut off within, the claim is still there, or its empty folder. */
export async function finishClaim(
  effects: DurableEffects,
  paths: WorkspacePaths,
  claimed: Claim,
  sha256: string,
): Promise<void> {
  const { size, modifiedMs } = claimed.entry;
  const parts = [claimed.id, size, Math.floor(modifiedMs), effects.now(), sha256.slice(0, KEPT_HASH_DIGITS)];
  const folder = join(paths.aside, parts.join("_"));
  await effects.disk.makeFolder(folder);
  await moveFile(effects, claimed.path, join(folder, claimed.name));
  await dropFolder(effects, claimed.folder);
}

/** What lies aside, oldest first; folders that a crash left empty are removed. */
export async function keptClaims(effects: DurableEffects, paths: WorkspacePaths): Promise<KeptClaim[]> {
  const kept: KeptClaim[] = [];
  if ((await effects.disk.look(paths.aside)) === null) return kept;
  for (const id of [...(await effects.disk.names(paths.aside))].sort()) {
    const [whole, size, modifiedMs, sinceMs, sha256 = ""] = KEPT.exec(id) ?? [];
    if (whole === undefined) continue;
    const folder = join(paths.aside, id);
    const [entry] = await effects.disk.list(folder);
    if (entry === undefined) await effects.disk.removeFolder(folder);
    else
      kept.push({
        folder,
        path: join(folder, entry.name),
        name: entry.name,
        entry,
        size: Number(size),
        modifiedMs: Number(modifiedMs),
        sha256,
        sinceMs: Number(sinceMs),
      });
  }
  return kept;
}

/** Whether the file is still as it was when it was taken; a writer may have kept it open. */
export async function isUnchanged(effects: DurableEffects, { path, entry }: Claim): Promise<boolean> {
  const now = await effects.disk.look(path);
  return now !== null && now.size === entry.size && now.modifiedMs === entry.modifiedMs;
}

/** Puts a file back into the inbox, beside what may have come there under its name meanwhile. */
export async function putBack(
  effects: DurableEffects,
  paths: WorkspacePaths,
  claimed: Pick<Claim, "folder" | "path" | "name">,
): Promise<void> {
  const name = await freeName(effects, paths.inbox, claimed.name);
  await moveFile(effects, claimed.path, join(paths.inbox, name));
  await effects.disk.removeFolder(claimed.folder);
}
