import type { Said } from "../model/say.ts";
import type { ReportAdvice } from "../model/setupReport.ts";
import { adviceKinds } from "./advice/index.ts";

const MOST_LINES = 5;

/**
 * The next-move card: the headlines of the advice in the order of doing, which is the order of the shelf's list, at most
 * five. What asks for a move comes before what only informs; what could not be told comes before both, because it has
 * to be measured first.
 */
export function nextMoves(advice: readonly ReportAdvice<Said>[]): readonly Said[] {
  const order = new Map(adviceKinds.map(({ kind }, place) => [kind, place]));
  const urgency = ({ status, moves }: ReportAdvice<Said>): number =>
    status !== "advised" ? 0 : moves.length > 0 ? 1 : 2;
  const sorted = advice.toSorted(
    (a, b) => urgency(a) - urgency(b) || (order.get(a.kind) ?? 0) - (order.get(b.kind) ?? 0),
  );
  const lines = new Map(sorted.map(({ headline }) => [headline.text, headline]));
  return [...lines.values()].slice(0, MOST_LINES);
}
