import { once } from "../../../model/once.ts";
import {
  choice,
  type Inputs,
  length,
  list,
  name,
  object,
  oneOf,
  optional,
  place,
  positiveLength,
  refined,
} from "../../../model/plan/fields.ts";
import type { Move } from "../../../model/setupReport.ts";

const stopShape = once(() => ({
  name: name(),
  x: optional(length()),
  z: optional(length()),
  pitch: optional(positiveLength()),
  screw: optional(choice(["in-moves +z", "in-moves -z", "in-moves +y", "in-moves -y"])),
}));
/** Stops of a face (with `x`) and supports under the base (with `z`), each with its screw where it has one. */
export const stops = () =>
  list(
    refined(
      object(stopShape()),
      (stop) => (stop.x === undefined) !== (stop.z === undefined),
      "a stop has x (a stop along the face) or z (a support under the base), one of them",
    ),
  );
/** The name of a stop, or a place of its own. */
export const pivot = () => oneOf([name(), place()]);
export type Stop = Inputs<typeof stopShape>;
export type Pivot =
  | string
  | { readonly x: number | null; readonly y: number | null; readonly z: number | null };

/** Where the body turns: the coordinate in question, and the stop that stands there, if any. */
interface Turning {
  readonly at: number;
  readonly stop: string | null;
}
export type StopMoves =
  | { readonly ok: true; readonly moves: readonly Move[]; readonly pivot: Turning }
  | { readonly ok: false; readonly unknownPivot: string };

/**
 * Moves along Z of stops at x that take a yaw slope a = dZ/dX away: -a (x - x of the pivot), plus towards the spindle.
 * The first stop is the pivot unless another is named; it does not move and is left out.
 */
export function yawMoves(slopeX: number, all: readonly Stop[], chosen: Pivot | undefined): StopMoves {
  const own = all.filter((stop) => stop.x !== undefined);
  const turning = turningAt(own, "x", chosen) ?? { at: own[0]?.x ?? 0, stop: own[0]?.name ?? null };
  if (typeof turning === "string") return { ok: false, unknownPivot: turning };
  const moves = own
    .filter((stop) => stop.name !== turning.stop)
    .map((stop) => moveOf(stop, "z", -slopeX * ((stop.x ?? 0) - turning.at)));
  return { ok: true, moves, pivot: turning };
}

/**
 * Moves along Y of supports at z that take a lean b = dZ/dY away: b (z - z of the pivot), plus up. Without a named
 * pivot the support is chosen that makes every move at least zero, because a shim cannot be negative.
 */
export function leanMoves(slopeY: number, all: readonly Stop[], chosen: Pivot | undefined): StopMoves {
  const own = all.filter((stop) => stop.z !== undefined);
  const turning = turningAt(own, "z", chosen) ?? lowestSupport(own, slopeY);
  if (typeof turning === "string") return { ok: false, unknownPivot: turning };
  const moves = own
    .filter((stop) => stop.name !== turning.stop)
    .map((stop) => moveOf(stop, "y", slopeY * ((stop.z ?? 0) - turning.at)));
  return { ok: true, moves, pivot: turning };
}

/** The named pivot; null when none is named for this axis; its name when no stop is called so. */
function turningAt(
  own: readonly Stop[],
  axis: "x" | "z",
  chosen: Pivot | undefined,
): Turning | string | null {
  if (chosen === undefined) return null;
  if (typeof chosen === "string") {
    const stop = own.find((one) => one.name === chosen);
    return stop === undefined ? chosen : { at: stop[axis] ?? 0, stop: stop.name };
  }
  const at = chosen[axis];
  return at === null ? null : { at, stop: own.find((one) => one[axis] === at)?.name ?? null };
}

function lowestSupport(own: readonly Stop[], slopeY: number): Turning {
  const sign = slopeY < 0 ? -1 : 1;
  const first = own.reduce<Stop | null>(
    (best, stop) => (best === null || sign * (stop.z ?? 0) < sign * (best.z ?? 0) ? stop : best),
    null,
  );
  return { at: first?.z ?? 0, stop: first?.name ?? null };
}

function moveOf(stop: Stop, along: "y" | "z", raw: number): Move {
  const amount = raw === 0 ? 0 : raw;
  const move: Move = { at: stop.name, along, amount, unit: "mm" };
  if (stop.pitch === undefined) return move;
  const turned = { ...move, turnDegrees: (amount / stop.pitch) * 360 };
  const drive = stop.screw;
  // Without the drive's sense a turn has no side: never clockwise, only how much.
  if (drive === undefined || !drive.endsWith(along) || amount === 0) return turned;
  const inward = amount > 0 === drive.includes("+");
  return { ...turned, words: `${wayWords(along, amount)}: screw ${inward ? "in" : "out"}` };
}
const wayWords = (along: "y" | "z", amount: number): string =>
  along === "y" ? (amount > 0 ? "up" : "down") : amount > 0 ? "towards the spindle" : "away from the spindle";

/** Moves cut down together, so that none is larger than `largest`: the body stays one piece. */
export function stepOf(
  moves: readonly Move[],
  largest: number | undefined,
): { readonly moves: readonly Move[]; readonly steps: number } {
  // A turn is no length: the limit says nothing about it.
  const most = Math.max(0, ...moves.map(({ unit, amount }) => (unit === "mm" ? Math.abs(amount) : 0)));
  if (largest === undefined || most <= largest) return { moves, steps: 1 };
  const factor = largest / most;
  const scaled = moves.map((move) => ({
    ...move,
    amount: move.amount * factor,
    ...(move.turnDegrees === undefined ? {} : { turnDegrees: move.turnDegrees * factor }),
  }));
  return { moves: scaled, steps: Math.ceil(most / largest - 1e-9) };
}
