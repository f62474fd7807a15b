import { type Said, say } from "../model/say.ts";
import type { Move, ReportAdvice, ReportCorrection } from "../model/setupReport.ts";
import { adviceKinds } from "./advice/index.ts";
import { sayMove } from "./advice/shared/words.ts";

const MOST_LINES = 5;
const kinds = new Map(adviceKinds.map((kind) => [kind.kind, kind]));

/**
 * The next-move card: at most five lines in the order of doing. A correction that went the wrong way or did nothing
 * comes first, because every further move would be built on it; then what is missing or not decided, then advice by
 * seat, moves, cuts and offsets. Each line carries its sign and unit. `before` lines stand above.
 */
export function nextMoves(
  advice: readonly ReportAdvice<Said>[],
  corrections: readonly ReportCorrection<Said>[] = [],
  before = 0,
): readonly Said[] {
  const wrong = corrections
    .filter((row) => row.judged === "wrong-way" || row.judged === "nothing-moved")
    .map((row) => row.because);
  const open = advice.filter((one) => one.status !== "advised").map((one) => one.headline);
  const ranked = advice
    .map((one, place) => ({ one, place }))
    .filter(({ one }) => one.status === "advised")
    .sort((a, b) => rank(a.one.kind) - rank(b.one.kind) || a.place - b.place)
    .flatMap(({ one }) => linesOf(one));
  const lines = unlike([...wrong, ...open, ...ranked]);
  const most = MOST_LINES - before;
  if (lines.length <= most) return lines;
  const shown = lines.slice(0, most - 1);
  return [...shown, say("and {count} more: see the advice below.", { count: lines.length - shown.length })];
}

const rank = (kind: string): number => kinds.get(kind)?.turn ?? 0;

/** The headline, and the moves that it does not name. */
function linesOf(one: ReportAdvice<Said>): Said[] {
  if (kinds.get(one.kind)?.namesEachMove !== true || one.moves.length < 2) return [one.headline];
  const largest = one.moves.reduce((best, move) =>
    Math.abs(move.amount) > Math.abs(best.amount) ? move : best,
  );
  const others = one.moves.filter((move: Move) => move !== largest && move.amount !== 0);
  return [one.headline, ...others.map((move) => sayMove(move))];
}

/** The same sentence of two entries is said once. */
function unlike(lines: readonly Said[]): Said[] {
  const seen = new Set<string>();
  return lines.filter((line) => !seen.has(line.text) && seen.add(line.text));
}
