import { unitOf } from "../model/quantity.ts";
import { foldedWord, WORDS } from "./headerWords.ts";
import { trimmed } from "./logText.ts";
import { withoutControls } from "./notebook.ts";
import { unitWord } from "./unitWords.ts";

/** Keys that change what numbers mean; they may not change in mid-log. */
export const DECIDING_KEYS = [
  "unit",
  "state",
  "points",
  "tip-diameter",
  "lever-angle",
  "sag",
  "sign",
  "frame",
  "decimal",
  "separator",
  "feature",
  "from",
  "radius",
  "surface",
  "along",
  "height",
  "job",
  "operation",
  "setup",
  "plan",
  "machine",
  "pallet",
  "serial",
];
export const KNOWN_KEYS = [
  ...DECIDING_KEYS,
  "fixture",
  "part",
  "operator",
  "instrument",
  "indicator",
  "temperature",
  "time",
  "note",
  "clamping",
  "bolt",
];

/** Words for the unit in other languages and forms; blanks read as hyphens, brackets left out. */
const UNIT_KEYS =
  /^(?:units?|uom|(?:length|measuring|measurement)-units?|units?-of-(?:lengths?|measure(?:s|ment|ments)?)|(?:ma(?:ß|ss)-?|l(?:ä|ae)ngen-?)?einheit(?:en)?|unit[éeàa]s?|unidad(?:es)?|eenheid|enhet)$/;
/** A remark that says its unit in a sentence of its own. */
const UNIT_SENTENCE =
  /^(?:all\s+|alle\s+)?(?:units?|values|dimensions|coordinates|ma(?:ß|ss)e|werte|koordinaten|ma(?:ß|ss)einheit|einheit(?:en)?|uom)\s+(?:(?:is|are|ist|sind)\s+)?(?:in\s+)?(\S+)$/i;

interface Pair {
  readonly key: string;
  readonly value: string;
}

/** What a remark says as a header line: `key: value`, and `key = value` or `key value` where that has one meaning only. */
export function pairOf(text: string): Pair | null {
  return equated(text) ?? divided(text, ":") ?? sentenced(text);
}

/** The two sides of a remark about its first mark; the key as we spell it where it is one of ours. */
export function divided(text: string, mark: ":" | "="): Pair | null {
  const match = (mark === ":" ? /^([^:]{1,60}?)\s*:\s*(.*)$/s : /^([^:=]{1,60}?)\s*=\s*(.*)$/s).exec(text);
  if (match === null) return null;
  const written = withoutControls(match[1] ?? "")
    .trim()
    .toLowerCase();
  const key = ourKey(written) ?? written;
  return key === "" ? null : { key, value: match[2] ?? "" };
}

/** Our spelling of a key; null when it is none of ours. */
function ourKey(written: string): string | null {
  const hyphened = foldedWord(written);
  if (KNOWN_KEYS.includes(hyphened)) return hyphened;
  return UNIT_KEYS.test(hyphened.replace(/-*[[(].*$/, "")) ? "unit" : null;
}

/** Remarks hold equals signs for many reasons, so one of our keys must stand before it. */
function equated(text: string): Pair | null {
  const pair = divided(text, "=");
  return pair !== null && KNOWN_KEYS.includes(pair.key) ? pair : null;
}

/** A remark without any mark counts where nothing but the key and something that the key can hold stands in it. */
function sentenced(text: string): Pair | null {
  const unit = unitWord(text) ?? lengthUnit(UNIT_SENTENCE.exec(trimmed(text))?.[1] ?? "");
  if (unit !== null) return { key: "unit", value: unit };
  const words = wordsOf(text);
  const key = words === null ? null : ourKey(words.key);
  if (key === null || words === null || !canHold(key, words.value)) return null;
  // `RADIUS 75` may be a title; with its unit it is none.
  return Object.hasOwn(QUANTITIES, key) && /\d\W*$/.test(words.value) ? null : { key, value: words.value };
}

/** The first word of a remark and what stands behind it. */
export function wordsOf(text: string): Pair | null {
  const match = /^([\p{L}-]{3,20})\s+([^\s:=].{0,30})$/su.exec(trimmed(text));
  return match === null ? null : { key: (match[1] ?? "").toLowerCase(), value: match[2] ?? "" };
}

/** The unit of length that a text names, with or without brackets about it. */
export function lengthUnit(text: string): string | null {
  return unitOf(text.replace(/^[[("']\s*(.*?)\s*[\])"'.]*$/, "$1"), "length") ?? unitOf(text, "length");
}

const QUANTITIES: Readonly<Record<string, "length" | "angle">> = {
  "tip-diameter": "length",
  sag: "length",
  radius: "length",
  "lever-angle": "angle",
};

/** Keys such as job, as against those of units, quantities and fixed words. */
export const holdsAnyText = (key: string): boolean =>
  key !== "unit" && !Object.hasOwn(QUANTITIES, key) && !Object.hasOwn(WORDS, key);

/** Whether a key that changes numbers can hold this value; false for keys that hold any text. */
export function canHold(key: string, value: string): boolean {
  if (key === "unit") return lengthUnit(value) !== null;
  const dimension = Object.hasOwn(QUANTITIES, key) ? QUANTITIES[key] : undefined;
  if (dimension !== undefined) {
    const match = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)\s*(\D*)$/.exec(value.trim());
    return match !== null && (match[1] === "" || unitOf(match[1] ?? "", dimension) !== null);
  }
  return Object.hasOwn(WORDS, key) && Object.hasOwn(WORDS[key as keyof typeof WORDS], foldedWord(value));
}
