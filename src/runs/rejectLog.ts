import { Buffer } from "node:buffer";
import { join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import { sha256Of } from "../records/readLogs.ts";
import type { WorkspacePaths } from "../records/workspace.ts";
import type { Claim } from "./claims.ts";
import { freeName } from "./freeName.ts";
import { moveFile } from "./moveFile.ts";

const REASON = ".reason.txt";
/** Longest name of most file systems in bytes, less what is put behind it. */
const LONGEST_NAME_BYTES = 255 - REASON.length - "-9999".length;

/**
 * Lays a log into `inbox/rejected` with the reason beside it. The reason is written first: a crash between the two leaves the
 * log claimed, and the same name is used again.
 * @returns the name that it got there
 */
export async function rejectLog(
  effects: DurableEffects,
  paths: WorkspacePaths,
  claimed: Claim,
  reason: string,
): Promise<string> {
  await effects.disk.makeFolder(paths.rejected);
  // A reason without its log belongs to one that was taken out again.
  const name = await freeName(effects, paths.rejected, fittingName(claimed.name));
  await effects.writeFile(join(paths.rejected, name + REASON), `${reason.trim()}\n`);
  await moveFile(effects, claimed.path, join(paths.rejected, name));
  await effects.disk.removeFolder(claimed.folder);
  return name;
}

/** A name so long that the reason's name would not fit is cut, with six digits of its hash. */
function fittingName(name: string): string {
  const bytes = Buffer.from(name, "utf8");
  if (bytes.length <= LONGEST_NAME_BYTES) return name;
  const ending = /\.[A-Za-z0-9]{1,8}$/.exec(name)?.[0] ?? "";
  const kept = bytes.subarray(0, LONGEST_NAME_BYTES - ending.length - 7).toString("utf8");
  return `${kept.replaceAll("\ufffd", "")}-${sha256Of(name).slice(0, 6)}${ending}`;
}
