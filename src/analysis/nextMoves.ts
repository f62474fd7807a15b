import { type Said, say } from "../model/say.ts";
import {
  isOutdated,
  type ReportAdvice,
  type ReportCharacteristic,
  type ReportCorrection,
  type ReportSignOff,
} from "../model/setupReport.ts";
import { adviceKinds } from "./advice/index.ts";
import type { HealthResult } from "./health/contract.ts";

const MOST_LINES = 5;
/** So many lines of the card may stand before its moves. */
const MOST_BEFORE = 4;
const MOST_NAMES = 5;
const kinds = new Map(adviceKinds.map((kind) => [kind.kind, kind]));

export interface CardOf {
  readonly advice: readonly ReportAdvice<Said>[];
  readonly corrections: readonly ReportCorrection<Said>[];
  readonly characteristics: readonly ReportCharacteristic<Said>[];
  readonly signOffs: readonly ReportSignOff<Said>[];
  readonly health: readonly HealthResult[];
}

/**
 * The next-move card, at most five lines: what must be touched again before anything is built on it, what failed and no
 * move of this page puts right, then the moves in the order of doing.
 */
export function card({ advice, corrections, characteristics, signOffs, health }: CardOf): readonly Said[] {
  const stops = stopLines(characteristics, signOffs, advice);
  const again = health.flatMap((result) => (result.again === undefined ? [] : [result.again]));
  const before = [...again.slice(0, MOST_BEFORE - stops.length), ...stops];
  return [...before, ...nextMoves(advice, corrections, before.length)];
}

/** Going on would build on what failed, unless advice puts it right. */
function stopLines(
  characteristics: readonly ReportCharacteristic<Said>[],
  signOffs: readonly ReportSignOff<Said>[],
  advice: readonly ReportAdvice<Said>[],
): readonly Said[] {
  const failed = characteristics.filter(
    (entry) => entry.verdict === "fail" && !advice.some((one) => mends(one, entry)),
  );
  const refused = signOffs.filter(({ verdict }) => verdict === "fail");
  const names = (entries: readonly { readonly id: string }[]): string =>
    entries
      .slice(0, MOST_NAMES)
      .map(({ id }) => id)
      .join(", ");
  return [
    ...(failed.length === 0
      ? []
      : [
          say("Stop: {names} outside the limits. Put it right or have it decided before going on.", {
            names: names(failed),
          }),
        ]),
    ...(refused.length === 0
      ? []
      : [
          say("Stop: sign-off {names} failed. Put it right and sign again before going on.", {
            names: names(refused),
          }),
        ]),
  ];
}

/** Whether the advice has something to do that changes this characteristic for the better. */
function mends(one: ReportAdvice<Said>, { kind, of, to }: ReportCharacteristic<Said>): boolean {
  if (one.status !== "advised" || kinds.get(one.kind)?.mends.includes(kind) !== true) return false;
  // A body that is turned or shifted takes all its features with it.
  if (one.shifts === true) return true;
  const about = new Set([one.of ?? {}].flatMap((of) => (typeof of === "string" ? [of] : Object.values(of))));
  return [of, to ?? []].flat().some((name) => about.has(name));
}

/**
 * The moves of the card, in the order of doing. A correction that went the wrong way or did nothing
 * comes first, because every further move would be built on it; then what is missing or not decided, then advice by
 * seat, moves, cuts and offsets. Each line carries its sign and unit. `before` lines stand above.
 */
export function nextMoves(
  advice: readonly ReportAdvice<Said>[],
  corrections: readonly ReportCorrection<Said>[] = [],
  before = 0,
): readonly Said[] {
  // Where something of a feature moved, what stayed was not meant to.
  const moved = new Set(
    corrections.filter(({ judged }) => MOVED.includes(judged)).map(({ feature }) => feature),
  );
  const wrong = corrections
    .filter(
      ({ judged, feature }) => judged === "wrong-way" || (judged === "nothing-moved" && !moved.has(feature)),
    )
    .map((row) => row.because);
  const shifted = advice.some(({ shifts }) => shifts === true);
  const open = advice.filter((one) => one.status !== "advised").map((one) => one.headline);
  const ranked = advice
    .map((one, place) => ({ one, place }))
    .filter(({ one }) => one.status === "advised")
    .sort((a, b) => rank(a.one.kind) - rank(b.one.kind) || a.place - b.place)
    .flatMap(({ one }) => (shifted && isOutdated(one) ? [afterwards(one)] : linesOf(one)));
  const lines = unlike([...wrong, ...open, ...ranked]);
  const most = MOST_LINES - before;
  if (lines.length <= most) return lines;
  const shown = lines.slice(0, most - 1);
  return [...shown, say("and {count} more: see the advice below.", { count: lines.length - shown.length })];
}

const MOVED: readonly ReportCorrection["judged"][] = ["good", "partly", "too-far"];
const rank = (kind: string): number => kinds.get(kind)?.turn ?? 0;

const afterwards = ({ headline }: ReportAdvice<Said>): Said =>
  say("After the moves above measure again; as it stands now {headline}", { headline });

/** The headline, and the moves that it does not name. */
const linesOf = (one: ReportAdvice<Said>): Said[] => [
  one.headline,
  ...(kinds.get(one.kind)?.others?.(one.moves) ?? []),
];

/** The same sentence of two entries is said once. */
function unlike(lines: readonly Said[]): Said[] {
  const seen = new Set<string>();
  return lines.filter((line) => !seen.has(line.text) && seen.add(line.text));
}
