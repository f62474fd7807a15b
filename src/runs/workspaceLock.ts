import { randomUUID } from "node:crypto";
import { readFile } from "node:fs/promises";
import { hostname } from "node:os";
import type { DurableEffects } from "../model/effects.ts";
import { isRunning } from "../records/durableEffects.ts";
import type { WorkspacePaths } from "../records/workspace.ts";

/** Who works in a workspace, as the lock file says. */
export interface LockOwner {
  readonly token: string;
  readonly host: string;
  readonly pid: number;
  /** ISO 8601. */
  readonly since: string;
  /** Start of the process in the system's own count, where it tells: a number may be used again after a crash. */
  readonly processStart: string | null;
}
export interface WorkspaceLock {
  readonly owner: LockOwner;
  /** Whether the lock is still ours; false when somebody has taken the file away or put another there. */
  held(): Promise<boolean>;
  release(): Promise<void>;
}
export type LockAttempt =
  | { readonly lock: WorkspaceLock; readonly crashed: LockOwner | null }
  | { readonly owner: LockOwner };

/** Locks that this process holds: another one with our number was left by a process before us. */
const heldHere = new Set<string>();
const HALF_WRITTEN_MS = 500;
const MOST_TRIES = 20;
/** A watcher beats every few seconds; one of another machine that is silent for so long is gone. */
const SILENCE_MS = 40_000;

/**
 * Takes the lock of a workspace, or tells who has it. A lock whose process has crashed is taken over: on this machine its
 * process is asked for, on another one its heartbeat is listened to.
 */
export async function takeLock(effects: DurableEffects, paths: WorkspacePaths): Promise<LockAttempt> {
  const owner: LockOwner = {
    token: randomUUID(),
    host: hostname(),
    pid: process.pid,
    since: new Date(effects.now()).toISOString(),
    processStart: await processStart(process.pid),
  };
  let crashed: LockOwner | null = null;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    // Before the file is there, so that a second watcher in this process never takes it for a left one.
    heldHere.add(owner.token);
    try {
      await effects.disk.create(paths.lock, JSON.stringify(owner));
      return { lock: asLock(effects, paths, owner), crashed };
    } catch (error) {
      heldHere.delete(owner.token);
      if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
    }
    const other = await readOwner(effects, paths.lock);
    if (other === "gone") continue;
    if (other !== "half-written" && (await isAlive(effects, paths, other))) return { owner: other };
    crashed = other === "half-written" ? null : other;
    await takeAway(effects, paths, other);
  }
  throw new Error(`${paths.lock}: the lock could not be taken in ${MOST_TRIES} tries`);
}

function asLock(effects: DurableEffects, paths: WorkspacePaths, owner: LockOwner): WorkspaceLock {
  const held = async (): Promise<boolean> => {
    const now = await readOwner(effects, paths.lock);
    return typeof now === "object" && now.token === owner.token;
  };
  return {
    owner,
    held,
    async release() {
      try {
        if (await held()) await effects.disk.remove(paths.lock);
      } finally {
        heldHere.delete(owner.token);
      }
    },
  };
}

type Found = LockOwner | "gone" | "half-written";
async function readOwner(effects: DurableEffects, path: string): Promise<Found> {
  const once = async (): Promise<Found> => {
    try {
      const value = JSON.parse(new TextDecoder().decode(await effects.disk.read(path))) as LockOwner;
      return typeof value?.token === "string" ? value : "half-written";
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === "ENOENT") return "gone";
      if (error instanceof SyntaxError) return "half-written";
      throw error;
    }
  };
  const found = await once();
  if (found !== "half-written") return found;
  // Its writer may be at it just now.
  await effects.sleep(HALF_WRITTEN_MS);
  return once();
}

async function isAlive(effects: DurableEffects, paths: WorkspacePaths, owner: LockOwner): Promise<boolean> {
  if (owner.host !== hostname()) return isBeating(effects, paths);
  if (owner.pid === process.pid) return heldHere.has(owner.token);
  if (!isRunning(owner.pid)) return false;
  const start = await processStart(owner.pid);
  return start === null || owner.processStart === null || start === owner.processStart;
}

/** Compares heartbeats with each other, never with our clock: clocks of two machines differ. */
async function isBeating(effects: DurableEffects, paths: WorkspacePaths): Promise<boolean> {
  const beat = async (): Promise<string> =>
    new TextDecoder().decode(await effects.disk.read(paths.heartbeat).catch(() => new Uint8Array()));
  const first = await beat();
  for (let waited = 0; waited < SILENCE_MS; waited += 1000) {
    await effects.sleep(1000);
    if ((await beat()) !== first) return true;
  }
  return false;
}

/** Removes a left lock, and only that: what meanwhile became somebody's is put back. */
async function takeAway(
  effects: DurableEffects,
  paths: WorkspacePaths,
  left: LockOwner | "half-written",
): Promise<void> {
  const aside = `${paths.lock}.${randomUUID()}`;
  try {
    await effects.disk.rename(paths.lock, aside);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return;
    throw error;
  }
  const moved = await readOwner(effects, aside);
  if (typeof moved === "object" && (left === "half-written" || moved.token !== left.token))
    await effects.disk.create(paths.lock, JSON.stringify(moved)).catch(() => undefined);
  await effects.disk.remove(aside);
}

/** When a process began, in ticks since the machine did (Linux, proc(5)); null where the system does not say. */
async function processStart(pid: number): Promise<string | null> {
  try {
    const stat = await readFile(`/proc/${pid}/stat`, "utf8");
    // The name in brackets may hold blanks and brackets; the fields behind it do not.
    return stat.slice(stat.lastIndexOf(")") + 2).split(" ")[19] ?? null;
  } catch {
    return null;
  }
}
