import type { DurableEffects } from "../model/effects.ts";
import { Trouble } from "../model/trouble.ts";
import { makeFolders } from "../records/initWorkspace.ts";
import type { Workspace, WorkspacePaths } from "../records/workspace.ts";
import { inboxFiles } from "./inboxFiles.ts";
import { isPassing, passingText } from "./passing.ts";
import type { RunLog } from "./runLog.ts";
import { type LockAttempt, type LockOwner, takeLock, type WorkspaceLock } from "./workspaceLock.ts";

const LOOK_AGAIN_MS = 500;
const WAIT_MS = 2000;
const MOST_TRIES_ONCE = 4;

/**
 * Takes the workspace's lock, waiting while another watcher has it: it goes on where that one ends or crashes. Null when
 * told to stop, or when with `once` the other one has emptied the inbox.
 */
export async function standBy(
  effects: DurableEffects,
  workspace: Workspace,
  options: { readonly once: boolean; readonly signal: AbortSignal },
  log: RunLog,
): Promise<{ readonly lock: WorkspaceLock; readonly crashed: boolean } | null> {
  const { paths } = workspace;
  let told: string | null = null;
  let failures = 0;
  while (!options.signal.aborted) {
    const attempt = await prepare(effects, paths).catch(passing);
    if (attempt instanceof Error) {
      if (options.once && ++failures >= MOST_TRIES_ONCE)
        throw new Trouble("unreachable", `${passingText(attempt)}.`);
      await log.note("waiting", `Waiting: ${passingText(attempt)}.`, { error: String(attempt) });
      await effects.sleep(WAIT_MS, options.signal);
      continue;
    }
    if ("lock" in attempt) return { lock: attempt.lock, crashed: attempt.crashed !== null };
    if (told !== attempt.owner.token)
      await log.note("standing-by", sentence(attempt.owner, options.once), { owner: attempt.owner });
    told = attempt.owner.token;
    if (options.once && (await isEmpty(effects, workspace))) return null;
    await effects.sleep(LOOK_AGAIN_MS, options.signal);
  }
  return null;
}
/** Folders and lock, only where the workspace is: on the bare mount point of a share there must not grow a second one. */
async function prepare(effects: DurableEffects, paths: WorkspacePaths): Promise<LockAttempt> {
  if (!(await effects.exists(paths.settings)))
    throw new Trouble("unreachable", `${paths.root}: the workspace is not there`);
  await makeFolders(effects, paths);
  return takeLock(effects, paths);
}

/** A full or missing disk is waited for; it may be well when the lock is asked for again. */
function passing(error: unknown): Error {
  if (error instanceof Error && isPassing(error)) return error;
  throw error;
}
const sentence = ({ pid, host, since }: LockOwner, once: boolean): string =>
  `Another watcher works here (process ${pid} on ${host}, since ${since}); ${once ? "it takes what is in the inbox" : "standing by until it ends"}.`;

async function isEmpty(effects: DurableEffects, { paths, settings }: Workspace): Promise<boolean> {
  const { files } = await inboxFiles(effects, paths, settings);
  return files.length === 0 && (await effects.disk.names(paths.work)).length === 0;
}
