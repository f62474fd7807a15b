import { sha256Of } from "../records/readLogs.ts";
import { type KeptClaim, keptClaims, putBack } from "./claims.ts";
import type { RunContext } from "./context.ts";

/** So long a file that was read lies aside: who has it open may still write to it. */
const KEEP_MS = 15 * 60_000;
/** Not more often than this, nor for more than a twentieth of the time, however much lies aside. */
const LOOK_EVERY_MS = 2000;
const PAUSE_TIMES = 20;

/**
 * Files that were read and are done. A control may write a log slowly and hold it open: what it adds goes to the file that was
 * taken, wherever that lies now. So the file is looked at again for a while, and comes back as a log of its name when it grew.
 */
export class KeptAside {
  readonly #context: RunContext;
  #nextTicks = 0;
  constructor(context: RunContext) {
    this.#context = context;
  }

  /**
   * Puts what grew back into the inbox and removes what has rested. Without `now` only when it is time again.
   * @returns how many files went back
   */
  async look(now = false): Promise<number> {
    const { effects, workspace } = this.#context;
    const started = effects.ticks();
    if (!now && started < this.#nextTicks) return 0;
    let back = 0;
    for (const kept of await keptClaims(effects, workspace.paths)) if (await this.#wentBack(kept)) back++;
    const took = effects.ticks() - started;
    this.#nextTicks = effects.ticks() + Math.max(LOOK_EVERY_MS, PAUSE_TIMES * took);
    return back;
  }

  async #wentBack(kept: KeptClaim): Promise<boolean> {
    const { effects, workspace, log } = this.#context;
    if (await this.#hasChanged(kept)) {
      await putBack(effects, workspace.paths, kept);
      await log.note(
        "grown",
        `${kept.name}: somebody went on writing to it after it was read; the whole file is back in the inbox and is read again.`,
        { name: kept.name, sizeRead: kept.size, size: kept.entry.size },
      );
      return true;
    }
    // A clock that was set back must not keep files for ever.
    if (Math.abs(effects.now() - kept.sinceMs) < KEEP_MS) return false;
    await effects.disk.remove(kept.path);
    await effects.disk.removeFolder(kept.folder);
    return false;
  }

  /** Another time alone is no change: programs that copy set it afterwards. */
  async #hasChanged({ path, entry, size, modifiedMs, sha256 }: KeptClaim): Promise<boolean> {
    if (entry.size !== size) return true;
    if (Math.floor(entry.modifiedMs) === modifiedMs) return false;
    return !sha256Of(await this.#context.effects.disk.read(path)).startsWith(sha256);
  }
}
