import type { DurableEffects } from "../model/effects.ts";
import { replaceFile } from "../records/durableEffects.ts";
import type { WorkspacePaths } from "../records/workspace.ts";
import type { LockOwner } from "./workspaceLock.ts";

const BEAT_EVERY_MS = 5000;

export interface Heartbeat {
  /** Says that the run lives and what it does; seldom enough to cost nothing, at once when the state is another. */
  beat(state: string, facts?: Readonly<Record<string, unknown>>): Promise<void>;
}

/**
 * Keeps `.plinth/heartbeat.json` fresh, so that a dead watcher is noticed by whoever looks at its `beat`. A disk that
 * refuses it never stops the work.
 */
export function heartbeat(effects: DurableEffects, paths: WorkspacePaths, owner: LockOwner): Heartbeat {
  let last = { state: "", ticks: Number.NEGATIVE_INFINITY };
  let count = 0;
  return {
    async beat(state, facts = {}) {
      const ticks = effects.ticks();
      if (state === last.state && ticks - last.ticks < BEAT_EVERY_MS) return;
      last = { state, ticks };
      const beat = new Date(effects.now()).toISOString();
      const { host, pid, since } = owner;
      const text = JSON.stringify({ state, beat, count: ++count, host, pid, since, ...facts }, null, 1);
      try {
        // Its folder is not made anew: where a share was, there must not grow a second workspace.
        await replaceFile(effects.disk, paths.heartbeat, `${text}\n`);
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code === undefined) throw error;
      }
    },
  };
}
