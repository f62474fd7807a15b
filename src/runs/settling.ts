import type { DiskEntry } from "../model/effects.ts";

/** A file is taken once its size and time have rested so long. */
const REST_MS = 1000;
/** So long others may keep files waiting that are ready, so that what came together is worked on together. */
const TOGETHER_MS = 4000;

interface Watched {
  readonly size: number;
  readonly modifiedMs: number;
  readonly sinceTicks: number;
}
export interface Settled {
  /** At rest, and to be taken now. */
  readonly ready: readonly DiskEntry[];
  /** Still growing, or at rest and waiting for the others. */
  readonly waiting: number;
}

/** Tells from one look to the next which files of a folder are at rest. Counts only its own looks, not the clock of the share. */
export class Settling {
  #seen = new Map<string, Watched>();

  look(entries: readonly DiskEntry[], ticks: number): Settled {
    const seen = new Map<string, Watched>();
    for (const { name, size, modifiedMs } of entries) {
      const before = this.#seen.get(name);
      const same = before?.size === size && before.modifiedMs === modifiedMs;
      seen.set(name, same ? before : { size, modifiedMs, sinceTicks: ticks });
    }
    this.#seen = seen;
    const restedMs = ({ name }: DiskEntry): number => ticks - (seen.get(name)?.sinceTicks ?? ticks);
    const rested = entries.filter((entry) => restedMs(entry) >= REST_MS);
    const unready = entries.length - rested.length;
    if (unready > 0 && !rested.some((entry) => restedMs(entry) >= TOGETHER_MS))
      return { ready: [], waiting: entries.length };
    return { ready: rested, waiting: unready };
  }
}
