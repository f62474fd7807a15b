import { dirname } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import { writeDurably } from "../records/durableEffects.ts";

/**
 * Moves a file to a place where nothing is: in one step, or where the two places are on different file systems as a copy
 * and a removal. Cut off between the two, both are there with the same bytes, which counts as one log.
 * Throws an error with code EBUSY for a file that changes while it is copied.
 * @returns how it went; a copy has a time of its own
 */
export async function moveFile(
  effects: DurableEffects,
  from: string | Uint8Array,
  to: string,
): Promise<"renamed" | "copied"> {
  const { disk } = effects;
  try {
    await disk.rename(from, to);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EXDEV" || typeof from !== "string") throw error;
    await copyAndRemove(effects, from, to);
    return "copied";
  }
  await disk.syncFolder(dirname(to));
  return "renamed";
}

async function copyAndRemove({ disk }: DurableEffects, from: string, to: string): Promise<void> {
  const before = await disk.look(from);
  await writeDurably(disk, to, await disk.read(from));
  const after = await disk.look(from);
  if (before === null || before.size !== after?.size || before.modifiedMs !== after.modifiedMs) {
    await disk.remove(to);
    throw Object.assign(new Error(`${from}: it is being written to`), { code: "EBUSY", path: from });
  }
  await disk.remove(from);
}
