import { type Said, say } from "../../../model/say.ts";

/** Shimming a bolted base bends it (common practice, no source); debris is the usual reason for a lean. */
export const cleanFirst = (): Said =>
  say("Clean and re-seat first: shim only what is left after that, and only where the shop allows it.");
/** Beside every number that is typed into a control. */
export const offsetsMove = (): Said =>
  say(
    "Stored offsets move the machine: dry run, single block, rapid low, hand on feed hold after any change.",
  );
/** Beside every move of a bolted body. */
export const boltsLoose = (): Said =>
  say(
    "Loosen the bolts before the move, tighten as the maker says, then measure again: tightening can move it.",
  );
/** Beside every turn about a pivot. */
export const othersMoved = (): Said =>
  say("Turning about a pivot moves everything else too: probe X and Z again before offsets are stored.");
/** Beside every turn of B. */
export const keepClear = (): Said => say("Turn B only with people clear: the far side of the column swings.");
