import { randomUUID } from "node:crypto";
import { join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import { Trouble } from "../model/trouble.ts";
import { isRunning } from "./durableEffects.ts";

const LOCK = ".lock";
const WAIT_MS = 50;
const PATIENCE_MS = 20_000;
/** A lock of another machine whose process cannot be asked for counts as left behind after this. */
const FOREIGN_MS = 10 * 60_000;

/**
 * Does `work` while no other process works in `folder`. A lock that a crash left is recognised by its process being gone.
 * Throws Trouble `unreachable` when another process keeps the folder too long.
 */
export async function withFolderLock<T>(
  effects: DurableEffects,
  folder: string,
  work: () => Promise<T>,
): Promise<T> {
  await effects.disk.makeFolder(folder);
  const path = join(folder, LOCK);
  const begin = effects.ticks();
  while (!(await taken(effects, path))) {
    if (effects.ticks() - begin > PATIENCE_MS)
      throw new Trouble(
        "unreachable",
        `${folder}: another process has worked here for too long; if none is running, remove ${LOCK} in it.`,
      );
    await effects.sleep(WAIT_MS);
  }
  try {
    return await work();
  } finally {
    await effects.disk.remove(path);
  }
}

async function taken(effects: DurableEffects, path: string): Promise<boolean> {
  try {
    await effects.disk.create(path, JSON.stringify({ pid: process.pid }));
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
  }
  const entry = await effects.disk.look(path);
  if (entry === null) return false;
  const pid = await pidIn(effects, path);
  const left =
    typeof pid === "number" && pid !== process.pid
      ? !isRunning(pid)
      : effects.now() - entry.modifiedMs > FOREIGN_MS;
  if (left) await takeAway(effects, path, pid);
  return false;
}

/** Removes a left lock, and only that: one that meanwhile became somebody's is put back. */
async function takeAway(effects: DurableEffects, path: string, pid: unknown): Promise<void> {
  const aside = `${path}.${randomUUID()}`;
  try {
    await effects.disk.rename(path, aside);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return;
    throw error;
  }
  const moved = await pidIn(effects, aside);
  if (moved !== pid) await effects.disk.create(path, JSON.stringify({ pid: moved })).catch(() => undefined);
  await effects.disk.remove(aside);
}

async function pidIn(effects: DurableEffects, path: string): Promise<unknown> {
  try {
    return (JSON.parse(new TextDecoder().decode(await effects.readFile(path))) as { pid?: unknown }).pid;
  } catch {
    return null;
  }
}
