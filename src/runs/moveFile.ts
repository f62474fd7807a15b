import { dirname } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import { writeDurably } from "../records/durableEffects.ts";

/**
 * Moves a file to a place where nothing is: in one step, or where the two places are on different file systems as a copy
 * and a removal. Cut off between the two, both are there with the same bytes, which counts as one log.
 */
export async function moveFile(
  { disk }: DurableEffects,
  from: string | Uint8Array,
  to: string,
): Promise<void> {
  try {
    await disk.rename(from, to);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EXDEV" || typeof from !== "string") throw error;
    await writeDurably(disk, to, await disk.read(from));
    await disk.remove(from);
    return;
  }
  await disk.syncFolder(dirname(to));
}
