import { join } from "node:path";
import type { WholeLog } from "../model/measurement.ts";
import { knownLog } from "../records/ledger/chains.ts";
import { sha256Of } from "../records/readLogs.ts";
import { type ScannedLog, scanLog } from "../records/scanLog.ts";
import { isoSeconds } from "../records/sourceDate.ts";
import { dayOf } from "../records/workspace.ts";
import { type Claim, finishClaim, isUnchanged, putBack } from "./claims.ts";
import type { RoundContext } from "./context.ts";
import { rejectClaim } from "./rejectClaim.ts";

/** A claimed log whose setup is known. Its bytes are read again when their turn comes. */
export interface ReadyLog {
  readonly claimed: Claim;
  readonly sha256: string;
  readonly scanned: ScannedLog & { readonly ok: true };
  /** Day of the log itself: logs without a job stay together by it. */
  readonly day: string;
}

/** A file larger than this is no log of touches; reading it would take the memory of everything else. */
const LARGEST_BYTES = 256 * 1024 * 1024;

/**
 * Looks into a claimed file: gone if its bytes are known, to the rejected ones if it cannot be used, back into the inbox if
 * somebody still writes to it; else what is needed to find its chain.
 */
export async function readClaim(round: RoundContext, claimed: Claim): Promise<ReadyLog | null> {
  const { effects, workspace } = round;
  const { kind, size } = claimed.entry;
  if (kind !== "file")
    return rejectClaim(
      round,
      claimed,
      `${claimed.name}: this is a ${kind === "link" ? "link" : "device or pipe"}, not a file; drop the log itself.`,
    );
  if (size > LARGEST_BYTES)
    return rejectClaim(
      round,
      claimed,
      `${claimed.name}: ${Math.round(size / 1e6)} MB is more than a log of readings has; at most ${LARGEST_BYTES / 1048576} MB are read. Split it.`,
    );
  const file = await claimedFile(round, claimed);
  if (!(await isUnchanged(effects, claimed))) {
    await putBack(effects, workspace.paths, claimed);
    return null;
  }
  if (await endKnown(round, claimed, file)) return null;
  const seen = isoSeconds(Math.min(claimed.entry.modifiedMs, round.runNow()));
  const scanned = scanLog({ ...file, seen }, round.plans, workspace.settings);
  if (!scanned.ok) return rejectClaim(round, claimed, scanned.because);
  return { claimed, sha256: file.sha256, scanned, day: dayOfLog(round, scanned.time ?? seen) };
}

/** The log in a claim, under a name that can be shown anywhere. */
export async function claimedFile({ effects }: RoundContext, { path, name }: Claim): Promise<WholeLog> {
  const bytes = await effects.readFile(path);
  return { name: shownName(name), bytes, sha256: sha256Of(bytes) };
}
/** Control characters, and those that turn the direction of writing, do not go into reports. */
const shownName = (name: string): string =>
  name.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, "_");

/** The same bytes again are one log whatever the name: nothing more to do than to see that the archive has them. */
async function endKnown(round: RoundContext, claimed: Claim, file: WholeLog): Promise<boolean> {
  const { effects, workspace, ledger, log, tally } = round;
  const known = await knownLog(ledger.tables, file.sha256);
  if (known === null) return false;
  const archived = join(workspace.paths.root, known.archived);
  if (!(await effects.exists(archived))) {
    await effects.writeFile(archived, file.bytes);
    await effects.disk.setReadOnly(archived);
  }
  await finishClaim(effects, workspace.paths, claimed, file.sha256);
  tally.duplicates++;
  const { name, reportId, replacedIn } = known;
  // Bytes that are known make no revision, also where that is not what was meant: whoever dropped them must hear how to get one.
  const todo =
    replacedIn === null
      ? "nothing to do"
      : `no revision made. But ${reportId} r${replacedIn} uses another log in its place, dropped later as ${name}; to use this one again, add a line such as "# note: counts again" to its header and drop it as ${name}`;
  await log.note(
    "duplicate",
    `${file.name}: the same bytes are known as ${name} in ${reportId}; removed from the inbox, ${todo}.`,
    { name: file.name, sha256: file.sha256, report: reportId, replacedIn },
  );
  return true;
}

/** Times without a zone are those of the shop; others count on its calendar. */
function dayOfLog({ workspace }: RoundContext, time: string): string {
  if (!/(?:Z|[+-]\d{2}:\d{2})$/.test(time)) return time.slice(0, 10);
  return dayOf(Date.parse(time), workspace.settings.timeZone);
}
