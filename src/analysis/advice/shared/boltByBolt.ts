import { type Said, say } from "../../../model/say.ts";
import type { AnalysisContext } from "../../context.ts";
import { faceSlopes } from "./slopes.ts";
import { signedMm, stated } from "./words.ts";

/** A seated base moves less than this at its top when one bolt is pulled: 0.0002 in (common practice, no source). */
const SEATED_MM = 0.005;

/** What the top did while each bolt was pulled. */
export interface BoltByBolt {
  readonly lines: readonly Said[];
  /** The headline when a bolt moved the top: the base is not seated there. */
  readonly loose: Said | null;
}

/** Movement of the top over `height` from one sweep to the next, features in the order in which bolts were pulled. */
export function boltByBolt(
  features: readonly string[],
  height: number,
  context: AnalysisContext,
): BoltByBolt {
  const lines: Said[] = [];
  let [before, worst]: [number | null, { at: string; moved: number } | null] = [null, null];
  for (const name of features) {
    const found = context.feature(name);
    const lean = found.ok ? faceSlopes(found).slopeY : null;
    if (!found.ok || lean === null) {
      lines.push(say("{of}: no lean, left out of the bolts", { of: name }));
      continue;
    }
    const at = found.measured?.bolt ?? name;
    if (before !== null) {
      const moved = (lean - before) * height;
      lines.push(
        say("{at} pulled: the top moved {moved} over {height}", {
          at,
          moved: signedMm(moved),
          height: stated(height),
        }),
      );
      if (worst === null || Math.abs(moved) > Math.abs(worst.moved)) worst = { at, moved };
    }
    before = lean;
  }
  const loose =
    worst !== null && Math.abs(worst.moved) > SEATED_MM
      ? say("Not seated: {at} moved the top {moved} (a seated base stays within {limit})", {
          at: worst.at,
          moved: signedMm(worst.moved),
          limit: stated(SEATED_MM),
        })
      : null;
  return { lines, loose };
}
