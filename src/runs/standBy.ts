import type { DurableEffects } from "../model/effects.ts";
import type { WorkspacePaths } from "../records/workspace.ts";
import type { RunLog } from "./runLog.ts";
import { type LockOwner, takeLock, type WorkspaceLock } from "./workspaceLock.ts";

const LOOK_AGAIN_MS = 500;

/**
 * Takes the workspace's lock, waiting while another watcher has it: it goes on where that one ends or crashes. Null when
 * told to stop, or when with `once` the other one has emptied the inbox.
 */
export async function standBy(
  effects: DurableEffects,
  paths: WorkspacePaths,
  options: { readonly once: boolean; readonly signal: AbortSignal },
  log: RunLog,
): Promise<{ readonly lock: WorkspaceLock; readonly crashed: boolean } | null> {
  let told: string | null = null;
  while (!options.signal.aborted) {
    const attempt = await takeLock(effects, paths);
    if ("lock" in attempt) return { lock: attempt.lock, crashed: attempt.crashed !== null };
    if (told !== attempt.owner.token)
      await log.note("standing-by", sentence(attempt.owner), { owner: attempt.owner });
    told = attempt.owner.token;
    if (options.once && (await isEmpty(effects, paths))) return null;
    await effects.sleep(LOOK_AGAIN_MS, options.signal);
  }
  return null;
}
const sentence = ({ pid, host, since }: LockOwner): string =>
  `Another watcher works here (process ${pid} on ${host}, since ${since}); standing by until it ends.`;

async function isEmpty(effects: DurableEffects, paths: WorkspacePaths): Promise<boolean> {
  const waiting = (await effects.disk.list(paths.inbox)).filter(
    ({ name, kind }) => kind !== "folder" && !/^\.|\.(?:tmp|part)$/i.test(name),
  );
  return waiting.length === 0 && (await effects.disk.names(paths.work)).length === 0;
}
