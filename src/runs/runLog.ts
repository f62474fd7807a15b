import { join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import type { WorkspacePaths } from "../records/workspace.ts";
import { dayOf } from "../records/workspace.ts";

export type RunEvent =
  | "started"
  | "standing-by"
  | "recovered"
  | "duplicate"
  | "grown"
  | "rejected"
  | "revision"
  | "adopted"
  | "left-alone"
  | "no-pdf"
  | "digest"
  | "told"
  | "not-told"
  | "refused-message"
  | "waiting"
  | "working-again"
  | "bug"
  | "ended";

/** Tells what a run does: one JSON line for programs, and where a person should know, one sentence. */
export interface RunLog {
  readonly run: string;
  note(event: RunEvent, sentence: string, facts?: Readonly<Record<string, unknown>>): Promise<void>;
}

/**
 * A run log that adds to `.plinth/log/DAY.jsonl`. A log that cannot be written never stops the work it tells of.
 * @param tell prints a sentence for a person
 */
export function runLog(
  effects: DurableEffects,
  paths: WorkspacePaths,
  run: string,
  tell: (sentence: string) => void,
): RunLog {
  return {
    run,
    async note(event, sentence, facts = {}) {
      tell(sentence);
      const time = new Date(effects.now());
      const line = JSON.stringify({ time: time.toISOString(), run, event, sentence, ...facts });
      const path = join(paths.runLogs, `${dayOf(time.getTime(), "UTC")}.jsonl`);
      try {
        await effects.disk.append(path, `${line}\n`);
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code === undefined) throw error;
      }
    },
  };
}
