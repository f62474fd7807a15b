import { dimensionsOf } from "../model/quantity.ts";
import { type Said, say } from "../model/say.ts";
import { trimmed } from "./logText.ts";
import { quotable } from "./notebook.ts";

export type DecimalMark = "." | ",";
export type NumberReading =
  | {
      readonly ok: true;
      readonly value: number;
      /** What stands behind the number, such as `mm` or `"`; empty when nothing does. */
      readonly unit: string;
      /** Set when the text is written unusually but can be read one way only. */
      readonly odd?: "minus" | "groups";
    }
  | { readonly ok: false; readonly reason: Said };

/** A number as any program writes it; the marks of people go the long way. */
export const PLAIN_NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const SPLIT = /^([+-]?[\d.,'’\u00a0\u202f\u2009]*\d[\d.,]*(?:[eE][+-]?\d+)?)\s*(.*)$/su;
const OTHER_MINUS = /^[\u2212\u2013\ufe63\uff0d]/;
const NO_VALUE = /^(?:-?9{4,}(?:[.,](?:9+|0+))?)$/;
const isFiller = (text: string): boolean => text.includes("9999") && NO_VALUE.test(text);
const MISSING =
  /^(?:-+|nan|-nan|n\/?a|#n\/?a|#[a-z0-9/]+[!?]?|null|none|\?+|\*[*.]*|[+-]?inf(?:inity)?|[+-]?\.?\*+\.?\*+)$/i;

/** Characters in a cell beyond which it is no number, whatever it holds. */
const LONGEST_NUMBER = 200;

/**
 * The number a cell says, to the last bit `Number` of its digits, or why it is none. A text that two readers
 * could take for different numbers is none. `thousands` is true where the decimal mark was declared, so that the
 * other mark can only group digits.
 */
export function readNumber(cell: string, decimal: DecimalMark, thousands = false): NumberReading {
  const text = trimmed(cell);
  if (decimal === "." && PLAIN_NUMBER.test(text) && !isFiller(text)) return finite(Number(text), text);
  if (text === "") return bad("the cell is empty");
  if (text.length > LONGEST_NUMBER) return bad("{text} is not a number", text);
  if (MISSING.test(text)) return bad("{text} stands for a missing value", text);
  const minus = OTHER_MINUS.test(text);
  const match = SPLIT.exec(minus ? `-${text.slice(1)}` : text);
  if (match === null) return notANumber(text);
  const [, digits = "", unit = ""] = match;
  if (isFiller(digits)) return bad("{text} is the filler some controls print for no value", text);
  if (unit !== "" && !/^(?:["″°µμ%]|\p{L})/u.test(unit)) return notANumber(text);
  // Digits behind a letter, or a single letter that looks like part of a number, are no unit.
  if (/\p{L}.*\d/u.test(unit) || /^[OoIlEex]$/.test(unit) || /^[OoIl]\W/.test(unit)) return notANumber(text);
  const plain = withPoint(digits, decimal, thousands);
  if (plain === null) return unclear(digits, decimal, text);
  const read = finite(Number(plain.text), text, unit);
  if (!read.ok) return read;
  if (minus) return { ...read, odd: "minus" };
  return plain.grouped ? { ...read, odd: "groups" } : read;
}

const finite = (value: number, text: string, unit = ""): NumberReading =>
  Number.isFinite(value) ? { ok: true, value, unit } : bad("{text} is too large for a number", text);
const bad = (template: string, text = ""): NumberReading => ({
  ok: false,
  reason: say(template, { text: quotable(text) }),
});

function notANumber(text: string): NumberReading {
  if (/[Oo]/.test(text) && /^[+-]?[\dOo.,]+$/.test(text))
    return bad("{text} has the letter O where a zero may be meant", text);
  if (/^[+-]?[\dlI.,]+$/.test(text)) return bad("{text} has a letter where a one may be meant", text);
  if (/^\d+\s*[/-]\s*(?:\d+|[A-Za-z]{3,})/.test(text)) return bad("{text} is a fraction or a date", text);
  return bad("{text} is not a number", text);
}

/** Digits with a decimal point only, or null when they can be read in more than one way or in none. */
function withPoint(
  digits: string,
  decimal: DecimalMark,
  thousands: boolean,
): { text: string; grouped: boolean } | null {
  const group = decimal === "." ? "," : ".";
  const pointed = digits.replace(decimal, ".");
  if (PLAIN_NUMBER.test(pointed) && !digits.includes(group)) return { text: pointed, grouped: false };
  const mark = decimal === "." ? "\\." : ",";
  const groups = new RegExp(
    `^[+-]?\\d{1,3}(?:(${group === "." ? "\\." : ","}|[\\u00a0\\u202f\\u2009])\\d{3})(?:\\1\\d{3})*(?:${mark}\\d+)?$`,
  );
  const match = groups.exec(digits);
  if (match === null) return null;
  const joint = match[1] ?? "";
  const certain = joint !== group || digits.includes(decimal) || digits.split(joint).length > 2 || thousands;
  // A leading zero never starts a group of thousands.
  if (!certain || /^[+-]?0/.test(digits)) return null;
  return { text: digits.replaceAll(joint, "").replace(decimal, "."), grouped: true };
}

function unclear(digits: string, decimal: DecimalMark, text: string): NumberReading {
  const group = decimal === "." ? "," : ".";
  if (digits.split(group).length === 2 && !digits.includes(decimal))
    return bad(
      decimal === "."
        ? "{text} has a comma although the decimal mark is the point"
        : "{text} has a point although the decimal mark is the comma",
      text,
    );
  return bad("{text} is not a number", text);
}

/** What one cell says about the decimal mark of its log. */
export type MarkEvidence = "." | "," | "either" | "none";

/** Whether a cell holds a number without unit and groups, a filler or nothing: it proves no other mark and says no unit. */
export function saysOnlyItself(cell: string, decimal: DecimalMark): boolean {
  const text = trimmed(cell);
  if (text === "" || text.length > LONGEST_NUMBER) return text === "";
  if (MISSING.test(text) || isFiller(text)) return true;
  return decimal === "." ? PLAIN_NUMBER.test(text) : /^[+-]?\d+(?:,\d+)?$/.test(text);
}

/** Which decimal mark a cell proves; `either` when `1,234` could be a group of thousands as well. */
export function markEvidence(cell: string): MarkEvidence {
  if (cell.length > LONGEST_NUMBER) return "none";
  const text = trimmed(cell).replace(OTHER_MINUS, "-");
  const match = /^[+-]?([\d.,\u00a0\u202f\u2009]*\d[.,]?)(?:[eE][+-]?\d+)?\s*(\p{L}.*|["″°].*)?$/su.exec(
    text,
  );
  const [, digits, unit] = match ?? [];
  // What is followed by another word, such as a month, is no number.
  if (digits === undefined || (unit !== undefined && dimensionsOf(unit).length === 0)) return "none";
  const points = digits.split(".").length - 1;
  const commas = digits.split(",").length - 1;
  if (points === 0 && commas === 0) return "none";
  if (points > 0 && commas > 0) {
    const last = digits.lastIndexOf(".") > digits.lastIndexOf(",") ? "." : ",";
    return (last === "." ? points : commas) === 1 ? last : "none";
  }
  const mark = points > 0 ? "." : ",";
  const other = mark === "." ? "," : ".";
  if (points + commas > 1) return groupsOnly(digits, mark) ? other : "none";
  return groupsOnly(digits, mark) ? "either" : mark;
}

const groupsOnly = (digits: string, mark: string): boolean => {
  const [first = "", ...rest] = digits.split(mark);
  return /^[1-9]\d{0,2}$/.test(first) && rest.every((part) => /^\d{3}$/.test(part));
};

/** Decimals written in a cell, and the digits of its exponent: what a cut would shorten. */
export function writtenDecimals(cell: string, decimal: DecimalMark): number {
  const text = trimmed(cell);
  const match =
    text.length > LONGEST_NUMBER ? null : /^[^eE]*?(?:([.,])(\d*))?(?:[eE]([+-]?\d*))?$/.exec(text);
  if (match === null) return 0;
  const decimals = match[1] === decimal ? (match[2] ?? "").length : 0;
  return decimals + (match[3] === undefined ? 0 : 100 + match[3].length);
}
