import { join } from "node:path";
import type { Settings } from "../model/settings.ts";
import { dayOf } from "../records/workspace.ts";
import type { RunContext } from "./context.ts";
import { makeNight } from "./nightly.ts";
import { isPassing, passingText } from "./passing.ts";

const MS_PER_DAY = 86_400_000;
const MS_PER_MINUTE = 60_000;
/** After a disk or share was in the way. */
const TRY_AGAIN_MS = 60_000;

export interface Night {
  /** Day whose digest it makes, YYYY-MM-DD: the one that has just ended, or is about to when the run is after noon. */
  readonly date: string;
  /** Milliseconds since 1970 at which it came due, within an hour on the day a clock is changed. */
  readonly dueMs: number;
}

/** The latest nightly run that has come due by the shop's clock. `at` is HH:MM. */
export function latestNight(nowMs: number, at: string, timeZone: string | null): Night {
  const sinceMinutes = (minutesOf(timeOf(nowMs, timeZone)) - minutesOf(at) + 1440) % 1440;
  const dueMs = nowMs - (nowMs % MS_PER_MINUTE) - sinceMinutes * MS_PER_MINUTE;
  const ofDay = at < "12:00" ? dueMs - MS_PER_DAY : dueMs;
  return { date: dayOf(ofDay, timeZone), dueMs };
}
function timeOf(ms: number, timeZone: string | null): string {
  return new Intl.DateTimeFormat("en-GB", {
    ...(timeZone !== null && { timeZone }),
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  }).format(ms);
}
const minutesOf = (time: string): number => Number(time.slice(0, 2)) * 60 + Number(time.slice(3));

/** Runs the night at the time that the settings name, while the watcher runs; one that was missed is made up for at the start. */
export class NightClock {
  readonly #context: RunContext;
  readonly #settings: Settings;
  #done = "";
  #notBefore = Number.NEGATIVE_INFINITY;
  constructor(context: RunContext) {
    this.#context = context;
    this.#settings = context.workspace.settings;
  }

  /** Makes the digest when it is due. Trouble with it never stops the watching. */
  async look(): Promise<void> {
    const { effects, log } = this.#context;
    const { nightlyAt, timeZone } = this.#settings;
    if (nightlyAt === null || effects.ticks() < this.#notBefore) return;
    const night = latestNight(effects.now(), nightlyAt, timeZone);
    if (night.date === this.#done) return;
    try {
      if (this.#done !== "" || !(await this.#isMade(night))) await this.#make(night);
      this.#done = night.date;
    } catch (error) {
      this.#notBefore = effects.ticks() + TRY_AGAIN_MS;
      if (isPassing(error))
        return log.note("waiting", `The digest of ${night.date} waits: ${passingText(error)}.`, {
          error: String(error),
        });
      this.#done = night.date;
      await log.note("bug", `The digest of ${night.date} could not be made: ${String(error)}`, {
        stack: error instanceof Error ? error.stack : null,
      });
    }
  }

  /** Whether this night has run already, before the watcher was started again. */
  async #isMade({ date, dueMs }: Night): Promise<boolean> {
    const { effects, workspace } = this.#context;
    const entry = await effects.disk.look(join(workspace.paths.digests, `${date}.json`));
    return entry !== null && entry.modifiedMs >= dueMs;
  }

  async #make({ date }: Night): Promise<void> {
    const { beat, log, owed } = this.#context;
    await beat("digest");
    const { digest, status, noPdf } = await makeNight(this.#context, date);
    const { fail, missing, undecided, pass } = digest.counts;
    const how = status === "kept" ? ", unchanged" : "";
    await log.note(
      "digest",
      `Digest of ${date}: ${fail} fail, ${missing} missing, ${undecided} undecided, ${pass} pass${how}.${noPdf === null ? "" : ` No PDF: ${noPdf}`}`,
      { date, status, counts: digest.counts },
    );
    owed();
  }
}
