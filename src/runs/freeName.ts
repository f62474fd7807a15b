import { extname, join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";

/** NAME.csv, NAME-2.csv, NAME-3.csv: the first that nothing in the folder has. The ending stays, so that it is a log as before. */
export async function freeName(effects: DurableEffects, folder: string, name: string): Promise<string> {
  const ending = extname(name);
  const stem = name.slice(0, name.length - ending.length);
  for (let count = 1; ; count++) {
    const candidate = count === 1 ? name : `${stem}-${count}${ending}`;
    if ((await effects.disk.look(join(folder, candidate))) === null) return candidate;
  }
}
