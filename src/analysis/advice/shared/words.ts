import { type Said, type SaidValue, say } from "../../../model/say.ts";
import type { Move } from "../../../model/setupReport.ts";

/** What a positive and a negative movement along an axis is called by a person who looks from the spindle at the work. */
const WAYS: Readonly<Record<string, readonly [string, string]>> = {
  x: ["to the right", "to the left"],
  y: ["up", "down"],
  z: ["towards the spindle", "away from the spindle"],
  outward: ["outward", "inward"],
};
/** Words for the way of a movement: `towards the spindle`, `to the left`. */
export function wayOf(along: string, amount: number): string {
  const pair = WAYS[along];
  if (pair === undefined || amount === 0) return "";
  return amount > 0 ? pair[0] : pair[1];
}
/** A movement as one line: `right: -0.041 mm along Z, away from the spindle, turn 8.4°`. `ending` follows as it is. */
export function sayMove(move: Move, ending = "", more: Readonly<Record<string, SaidValue>> = {}): Said {
  const axis = move.along.length === 1 ? ` along ${move.along.toUpperCase()}` : "";
  const way = wayOf(move.along, move.amount);
  const words = move.words ?? way;
  const turn = move.turnDegrees === undefined ? "" : ", turn {turn}";
  return say(`{at}: {amount}${axis}${words === "" ? "" : `, ${words}`}${turn}${ending}`, {
    at: move.at,
    amount: amountOf(move),
    ...(move.turnDegrees === undefined ? {} : { turn: { deg: Math.abs(move.turnDegrees), digits: 1 } }),
    ...more,
  });
}
/** The amount of a movement as a value of a sentence, with its sign and unit. */
export const amountOf = (move: Move): SaidValue =>
  move.unit === "deg"
    ? { deg: move.amount, signed: true, digits: 4 }
    : { mm: move.amount, signed: true, digits: 4 };

/** A length as a value of a sentence; `digits` in mm. */
export const mm = (value: number, digits = 4): SaidValue => ({ mm: value, digits });
/** The same with its sign. */
export const signedMm = (value: number, digits = 4): SaidValue => ({ mm: value, signed: true, digits });
/** A slope (mm per mm) with its sign. */
export const signedSlope = (slope: number): SaidValue => ({ slope, signed: true });
/** An angle in degrees. */
export const deg = (value: number, digits = 1): SaidValue => ({ deg: value, digits });
/** The same with its sign. */
export const signedDeg = (value: number, digits = 4): SaidValue => ({ deg: value, digits, signed: true });
