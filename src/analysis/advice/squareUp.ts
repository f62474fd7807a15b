import { once } from "../../model/once.ts";
import { choice, feature, type Inputs, optional, place, positiveLength } from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { Move } from "../../model/setupReport.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import type { AdviceKind } from "./contract.ts";
import { type Answer, advised, undecided, withoutFeature } from "./shared/answer.ts";
import { boltsLoose, cleanFirst, keepClear, othersMoved } from "./shared/cautions.ts";
import { type FaceSlopes, faceSlopes, facing, ORIENTATIONS } from "./shared/slopes.ts";
import { leanMoves, pivot, type StopMoves, stepOf, stops, yawMoves } from "./shared/stops.ts";
import { degrees } from "./shared/turn.ts";
import { doubtOf } from "./shared/uncertainty.ts";
import { sayMove, signedDeg, signedMm, signedSlope, stated } from "./shared/words.ts";

const inputs = once(() => ({
  of: feature(),
  stops: optional(stops()),
  pivot: optional(pivot()),
  rotary: optional(choice(["b"])),
  /** Where an indicator stands during the move: x on the face for a yaw, z upright on the base for a lean. */
  indicator: optional(place()),
  "largest-move": optional(positiveLength()),
}));
type SquareUp = Readonly<Inputs<typeof inputs>>;

/**
 * Which stop, support or screw takes the yaw (dZ/dX) and the lean (dZ/dY) of a face away, which way and how far, and what
 * an indicator shows during the move; or the degrees to add to B. Stop at x: -a (x - pivot) along Z; support at z:
 * b (z - pivot) along Y; B: the arc tangent of a, times the sense of B. `values`: slopes as mm per mm, `rotary` in
 * degrees, null while the sense of B is unknown. Source: small rotations, own derivation.
 */
export const squareUp: AdviceKind<typeof inputs> = {
  kind: "square-up",
  turn: 4,
  mends: ORIENTATIONS,
  inputs,
  advise(entry, context) {
    const found = context.feature(entry.of);
    if (!found.ok) return withoutFeature(found, entry.of, { slopeX: null, slopeY: null, rotary: null });
    const slopes = faceSlopes(found);
    const values = { ...slopes, rotary: rotaryOf(slopes.slopeX, context) };
    const plan = movesFor(entry, slopes, values.rotary);
    const working = [...slopeLines(found, slopes), ...rotaryLine(values.rotary, slopes), ...plan.working];
    const answer = { of: entry.of, values, working };
    if (plan.trouble !== null) return undecided({ ...answer, headline: plan.trouble });
    const { moves, steps } = stepOf(plan.moves, entry["largest-move"]);
    return advised({
      ...answer,
      moves,
      headline: headlineOf(moves, { steps, found, slopes }),
      shifts:
        moves.some(({ unit, amount }) => unit === "mm" && amount !== 0) && !withinDoubt(found, slopes, moves),
      plot: { kind: "square-up", data: { stops: entry.stops ?? [] } },
      ...guidance(entry, { moves, steps, slopes, plan, found }),
    });
  },
  others(moves) {
    const largest = largestOf(moves);
    const others = moves.filter((move) => move !== largest && move.amount !== 0);
    const firstShim = largest === null || isShim(largest) ? undefined : others.find(isShim);
    return others.map((move) => (move === firstShim ? cleanedFirst(sayMove(move)) : sayMove(move)));
  },
};

const largestOf = (moves: readonly Move[]): Move | null =>
  moves.reduce<Move | null>(
    (best, move) => (best === null || Math.abs(move.amount) > Math.abs(best.amount) ? move : best),
    null,
  );
const isShim = ({ along }: Move): boolean => along === "y";
/** Debris looks like a lean: nobody shims what a clean seat puts right. */
const cleanedFirst = (move: Said): Said =>
  say("Clean and re-seat first; if the lean stays, {move}", { move });

/** Degrees to add to B: for sense +1 a rising B takes a positive yaw slope away. */
function rotaryOf(slopeX: number | null, context: AnalysisContext): number | null {
  const sense = context.plan.machine.bSense;
  if (sense === null || slopeX === null) return null;
  const turn = sense * degrees(Math.atan(slopeX));
  return turn === 0 ? 0 : turn;
}

interface Planned {
  readonly moves: readonly Move[];
  readonly working: readonly Said[];
  readonly trouble: Said | null;
  readonly yawPivot: number | null;
  readonly leanPivot: number | null;
}
const NOTHING: Planned = { moves: [], working: [], trouble: null, yawPivot: null, leanPivot: null };
const stuck = (trouble: Said): Planned => ({ ...NOTHING, trouble });

function movesFor(entry: SquareUp, slopes: FaceSlopes, rotary: number | null): Planned {
  const { slopeX, slopeY } = slopes;
  if (slopeX === null && slopeY === null)
    return stuck(
      say("{of} does not look at the spindle: it has no slope over X or Y to correct.", { of: entry.of }),
    );
  if (entry.stops === undefined) return rotaryMove(entry, slopes, rotary);
  const needsYaw = entry.stops.some((stop) => stop.x !== undefined);
  const needsLean = entry.stops.some((stop) => stop.z !== undefined);
  if (needsYaw && slopeX === null)
    return stuck(
      say("{of} runs along Y and cannot tell the turn of the face: sweep along X.", { of: entry.of }),
    );
  if (needsLean && slopeY === null)
    return stuck(say("{of} runs along X and cannot tell the lean: sweep along Y.", { of: entry.of }));
  const yaw = needsYaw ? yawMoves(slopeX ?? 0, entry.stops, namedFor(entry, "x")) : null;
  const lean = needsLean ? leanMoves(slopeY ?? 0, entry.stops, namedFor(entry, "z")) : null;
  return joined(yaw, lean, slopes);
}

/** A pivot named among the stops of one direction says nothing about the other. */
function namedFor(entry: SquareUp, axis: "x" | "z"): SquareUp["pivot"] {
  const other = axis === "x" ? "z" : "x";
  const elsewhere = entry.stops?.some((stop) => stop.name === entry.pivot && stop[other] !== undefined);
  return elsewhere === true ? undefined : entry.pivot;
}

function rotaryMove(entry: SquareUp, { slopeX }: FaceSlopes, rotary: number | null): Planned {
  if (entry.rotary === undefined) return NOTHING;
  if (slopeX === null)
    return stuck(
      say("{of} runs along Y and cannot tell the turn of the face: sweep along X.", { of: entry.of }),
    );
  if (rotary === null)
    return stuck(
      say(
        "Which way B turns is not known: state b-sense for this machine, or prove it from a ball at several B.",
      ),
    );
  return { ...NOTHING, moves: [{ at: "B", along: "b", amount: rotary, unit: "deg" }] };
}

function joined(yaw: StopMoves | null, lean: StopMoves | null, { slopeX, slopeY }: FaceSlopes): Planned {
  for (const part of [yaw, lean])
    if (part !== null && !part.ok)
      return stuck(
        say("No stop is called {name}: name one of the stops as the pivot.", { name: part.unknownPivot }),
      );
  const working: Said[] = [];
  const moves: Move[] = [];
  let [yawPivot, leanPivot]: [number | null, number | null] = [null, null];
  if (yaw?.ok) {
    moves.push(...yaw.moves);
    yawPivot = yaw.pivot.at;
    for (const move of yaw.moves)
      working.push(
        say("{at}: -({slope}) x (its X less {pivot}) = {amount} along Z", {
          at: move.at,
          slope: signedSlope(slopeX ?? 0),
          pivot: stated(yawPivot),
          amount: signedMm(move.amount),
        }),
      );
  }
  if (lean?.ok) {
    moves.push(...lean.moves);
    leanPivot = lean.pivot.at;
    for (const move of lean.moves)
      working.push(
        say("{at}: {slope} x (its Z less {pivot}) = {amount} along Y", {
          at: move.at,
          slope: signedSlope(slopeY ?? 0),
          pivot: stated(leanPivot),
          amount: signedMm(move.amount),
        }),
      );
  }
  return { moves, working, trouble: null, yawPivot, leanPivot };
}

function slopeLines(found: FittedFeature, slopes: FaceSlopes): Said[] {
  const lines: Said[] = [];
  for (const [key, axis] of [
    ["slopeX", "X"],
    ["slopeY", "Y"],
  ] as const) {
    const slope = slopes[key];
    if (slope === null) continue;
    const doubt = doubtOf(found, (geometry) => faceSlopes(found, geometry)[key]);
    lines.push(
      say("slope dZ/d{axis} of {of} from {count} readings = {slope}{known} = {angle}", {
        axis,
        of: found.name,
        count: found.count,
        slope: signedSlope(slope),
        known: doubt === null ? "" : say(" ± {doubt}", { doubt: { slope: doubt } }),
        angle: signedDeg(degrees(Math.atan(slope))),
      }),
    );
  }
  return lines;
}

const rotaryLine = (rotary: number | null, { slopeX }: FaceSlopes): Said[] =>
  slopeX === null
    ? []
    : rotary === null
      ? [
          say("by turning B instead: {turn}, its sign is not known until the sense of B is stated", {
            turn: { deg: Math.abs(degrees(Math.atan(slopeX))) },
          }),
        ]
      : [say("by turning B instead: add {turn} to B", { turn: signedDeg(rotary) })];

function headlineOf(
  moves: readonly Move[],
  about: { readonly steps: number; readonly found: FittedFeature; readonly slopes: FaceSlopes },
): Said {
  const largest = largestOf(moves);
  if (largest === null) return tiltLine(about.found.name, about.slopes);
  if (largest.amount === 0) return say("{of} is square: nothing to move.", { of: about.found.name });
  if (withinDoubt(about.found, about.slopes, moves))
    return sayMove(largest, say(" (within the uncertainty of the readings: leave it)"));
  const move = sayMove(
    largest,
    about.steps === 1 ? "" : say(" (step 1 of {steps}, measure again after each)", { steps: about.steps }),
  );
  return isShim(largest) ? cleanedFirst(move) : move;
}
function tiltLine(of: string, { slopeX, slopeY }: FaceSlopes): Said {
  if (slopeX === null) return say("{of}: lean {slopeY}", { of, slopeY: signedSlope(slopeY ?? 0) });
  if (slopeY === null) return say("{of}: turned {slopeX}", { of, slopeX: signedSlope(slopeX) });
  return say("{of}: turned {slopeX}, lean {slopeY}", {
    of,
    slopeX: signedSlope(slopeX),
    slopeY: signedSlope(slopeY),
  });
}

/** Whether every slope that moves correct is below its own expanded uncertainty. */
function withinDoubt(found: FittedFeature, slopes: FaceSlopes, moves: readonly Move[]): boolean {
  const keys = [
    ...(moves.some((move) => move.along !== "y") ? (["slopeX"] as const) : []),
    ...(moves.some(isShim) ? (["slopeY"] as const) : []),
  ];
  return keys.every((key) => {
    const doubt = doubtOf(found, (geometry) => faceSlopes(found, geometry)[key]);
    return doubt !== null && Math.abs(slopes[key] ?? 0) < doubt;
  });
}

/** What to watch, to check next and to be careful about. */
function guidance(
  entry: SquareUp,
  about: {
    readonly moves: readonly Move[];
    readonly steps: number;
    readonly slopes: FaceSlopes;
    readonly plan: Planned;
    readonly found: FittedFeature;
  },
): Pick<Answer, "expect" | "next" | "cautions"> {
  const { moves, steps, slopes, plan, found } = about;
  const share = 1 / Math.max(1, shareOf(plan.moves, moves));
  const shims = moves.some(isShim);
  const turnsB = moves.some((move) => move.unit === "deg");
  return {
    expect:
      watched(entry, { slopes, plan, facing: facing(found) }, share) ?? expectation(moves, steps, entry.of),
    next:
      moves.length === 0
        ? say("Name stops, or rotary: b, to be told the move.")
        : say(
            "Sweep {of} again: what is left over what was found should be near 0 (near 2 means the wrong way).",
            {
              of: entry.of,
            },
          ),
    cautions: [
      ...(shims ? [cleanFirst()] : []),
      ...(plan.moves.some((move) => move.along === "y" && move.amount < 0)
        ? [say("A shim cannot be negative: lower this support by its screw, or pivot on another one.")]
        : []),
      ...(turnsB ? [keepClear()] : moves.length > 0 ? [boltsLoose()] : []),
      ...(moves.length > 0 ? [othersMoved()] : []),
    ],
  };
}
/** How many times the whole correction is larger than this step. */
function shareOf(whole: readonly Move[], step: readonly Move[]): number {
  const [most, now] = [whole, step].map((all) => Math.max(0, ...all.map((move) => Math.abs(move.amount))));
  return now !== undefined && most !== undefined && now > 0 ? most / now : 1;
}
const expectation = (moves: readonly Move[], steps: number, of: string): Said | null =>
  moves.length === 0
    ? null
    : steps > 1
      ? say(
          "The sweep of {of} falls by the share of this step; go on until it reads the same at both ends.",
          { of },
        )
      : say("A sweep of {of} reads the same at both ends.", { of });

/** What an indicator at a named place shows while the body is moved: the change of its own surface, plus = towards it. */
function watched(
  entry: SquareUp,
  about: { readonly slopes: FaceSlopes; readonly plan: Planned; readonly facing: 1 | -1 },
  share: number,
): Said | null {
  const { slopes, plan } = about;
  const { x = null, z = null } = entry.indicator ?? {};
  if (x !== null && plan.yawPivot !== null && slopes.slopeX !== null) {
    const change = -about.facing * slopes.slopeX * (x - plan.yawPivot) * share;
    return say("An indicator on the face at X {at} must change by {change}: stop there.", {
      at: stated(x),
      change: signedMm(change),
    });
  }
  if (z !== null && plan.leanPivot !== null && slopes.slopeY !== null) {
    const change = slopes.slopeY * (z - plan.leanPivot) * share;
    return say("An indicator upright on the base at Z {at} must change by {change}: stop there.", {
      at: stated(z),
      change: signedMm(change),
    });
  }
  return null;
}
