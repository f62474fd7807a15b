import type { Claim } from "./claims.ts";
import type { RoundContext } from "./context.ts";
import { rejectLog } from "./rejectLog.ts";

/** Rejects a claimed log and says so. Returns null, as nothing is left to do with it. */
export async function rejectClaim(round: RoundContext, claimed: Claim, reason: string): Promise<null> {
  const { effects, workspace, log, tally } = round;
  const name = await rejectLog(effects, workspace.paths, claimed, reason);
  tally.rejected++;
  await log.note("rejected", `rejected ${reason.split("\n")[0]} (inbox/rejected/${name})`, {
    name: claimed.name,
    as: name,
    reason,
  });
  return null;
}
