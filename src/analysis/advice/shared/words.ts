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
/** A movement as one line: `right: -0.041 mm along Z, away from the spindle, turn 8.4°`. `at` says whose it is where that is no name of the plan. */
export function sayMove(move: Move, ending: Said | "" = "", at: SaidValue = move.at): Said {
  const { along, turnDegrees } = move;
  const words = move.words ?? wayOf(along, move.amount);
  return say("{at}: {amount}{along}{words}{turn}{ending}", {
    at,
    amount: amountOf(move),
    along: along.length === 1 ? say(" along {axis}", { axis: along.toUpperCase() }) : "",
    words: words === "" ? "" : say(", {way}", { way: say(words) }),
    turn:
      turnDegrees === undefined
        ? ""
        : say(", turn {turn}", { turn: { deg: Math.abs(turnDegrees), digits: 1 } }),
    ending,
  });
}
/** The amount of a movement as a value of a sentence, with its sign and unit. */
export const amountOf = (move: Move): SaidValue =>
  move.unit === "deg" ? { deg: move.amount, signed: true } : { mm: move.amount, signed: true };

/** A length as a value of a sentence; `digits` in mm where it is told coarsely on purpose. */
export const mm = (value: number, digits?: number): SaidValue => ({
  mm: value,
  ...(digits === undefined ? {} : { digits }),
});
/** The same with its sign. */
export const signedMm = (value: number): SaidValue => ({ mm: value, signed: true });
/** A length that somebody stated: with its own digits and none behind them. */
export const stated = (value: number, { signed = false } = {}): SaidValue => ({
  mm: value,
  as: "stated",
  ...(signed ? { signed } : {}),
});
/** How unsure a length is, or what a fit leaves over of it: two digits. */
export const unsure = (value: number, { signed = false } = {}): SaidValue => ({
  mm: value,
  as: "uncertainty",
  ...(signed ? { signed } : {}),
});
/** A slope (mm per mm) with its sign. */
export const signedSlope = (slope: number): SaidValue => ({ slope, signed: true });
/** An angle in degrees. */
export const deg = (value: number, digits = 1): SaidValue => ({ deg: value, digits });
/** The same with its sign and the digits of a rotary axis. */
export const signedDeg = (value: number): SaidValue => ({ deg: value, signed: true });

/** Several sentences as a list. */
export function listed([first, ...others]: readonly Said[]): Said | "" {
  if (first === undefined || others.length === 0) return first ?? "";
  return say("{first}, {rest}", { first, rest: listed(others) });
}
