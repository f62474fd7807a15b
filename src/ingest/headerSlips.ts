import { spellingDistance } from "../model/plan/nearest.ts";
import {
  canHold,
  DECIDING_KEYS,
  divided,
  holdsAnyText,
  KNOWN_KEYS,
  lengthUnit,
  pairOf,
  wordsOf,
} from "./headerKeys.ts";
import { foldedWord } from "./headerWords.ts";
import { listed, type Notebook, quotable, type Refusal } from "./notebook.ts";

type Known = ReadonlyMap<string, { readonly value: string }>;
interface Remark {
  readonly line: number;
  readonly text: string;
}
interface Slip {
  /** As written. */
  readonly key: string;
  readonly value: string;
  /** Without colon or equals sign, so that it may be a sentence. */
  readonly sentence: boolean;
}

/**
 * A remark that is almost one of our header lines. Where the key that was probably meant changes numbers and the value is
 * one of its own, the log is refused: read without that line it could come out wrong by 25.4, and nobody would see it.
 * Other slips are told. Below the first row only the former matter.
 */
export function tellSlip(remark: Remark, header: Known, late: boolean, notes: Notebook): Refusal | null {
  const slip = slipIn(remark.text);
  if (slip === null) return null;
  const { key, value, sentence } = slip;
  const place = { line: remark.line };
  if (scales(slip))
    return notes.refuse(
      "scale-in-header",
      "{key}: {value} would change every number, and a log has no such key; write the readings as they count, their unit as # unit: mm or # unit: in, and take this line out, or put it behind # note:",
      { key: quotable(key), value: quotable(value) },
      place,
    );
  const near = meantBy(slip);
  const grave =
    near.find((known) => changesNumbers(known, slip) && !sameAs(known, value, header)) ??
    (isCloserUnit(slip, header) ? "unit" : undefined);
  if (grave !== undefined)
    return notes.refuse(
      "near-key",
      "{key} is no header key but looks like {near}, which changes what the numbers mean; write # {near}: {value} if that is meant, else put the line behind # note:",
      { key: quotable(key), near: grave, value: quotable(value) },
      place,
    );
  const open = near.filter((known) => !header.has(known));
  if (late || open.length === 0) return null;
  if (!sentence)
    notes.notice(
      "warning",
      "unknown-key",
      "the header key {key} has no meaning here; was {near} meant?",
      { key: quotable(key), near: listed(open, "or") },
      place,
    );
  else if (isNameOfOne(key, value, open[0] ?? ""))
    notes.notice(
      "warning",
      "no-colon",
      "the remark {text} has no colon and was not read as a header line; was {key}: {value} meant?",
      { text: quotable(remark.text), key: open[0] ?? "", value: quotable(value) },
      place,
    );
  return null;
}

/** What a remark says that is no header line of ours; null where it is one, or nothing like one. */
function slipIn(text: string): Slip | null {
  const pair = pairOf(text);
  if (pair !== null) return KNOWN_KEYS.includes(pair.key) ? null : { ...pair, sentence: false };
  const equated = divided(text, "=");
  if (equated !== null) return { ...equated, sentence: false };
  const words = wordsOf(text);
  return words === null ? null : { ...words, sentence: true };
}

const SCALES =
  /^(?:scale|scaling|scale-?factor|scaling-?factor|factor|multiplier|skal(?:a|e|ierung)|faktor|umrechnung(?:sfaktor)?|ma(?:ß|ss)stab|sacle|sclae|scael|csale)$/;
/** A factor, in front of its unit or alone; a ratio such as 1:10 is one of a drawing. */
const FACTOR = /^[x×*÷/]?\s*([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?)\s*(?:[^\d\s:,.].*)?$/i;

function scales({ key, value }: Slip): boolean {
  if (!SCALES.test(foldedWord(key))) return false;
  const factor = FACTOR.exec(value.trim())?.[1];
  return factor !== undefined && Number(factor.replace(",", ".")) !== 1;
}

/** Other spellings of a key that a slip may come from. */
const SPELLINGS: readonly (readonly [string, string])[] = [
  ...KNOWN_KEYS.map((key) => [key, key] as const),
  ["units", "unit"],
  ["einheit", "unit"],
  ["maßeinheit", "unit"],
  ["masseinheit", "unit"],
];
const LONGEST_KEY = 24;

/** The keys that were probably meant: one or two letters away, the nearest of them. */
function meantBy({ key }: Slip): readonly string[] {
  const folded = foldedWord(key);
  if (folded.length < 3 || folded.length > LONGEST_KEY) return [];
  const most = folded.length > 5 ? 2 : 1;
  const near = SPELLINGS.filter(([spelling]) => Math.abs(spelling.length - folded.length) <= most)
    .map(([spelling, known]) => ({ known, slips: spellingDistance(folded, spelling) }))
    .filter(({ slips }) => slips <= most);
  const fewest = Math.min(...near.map(({ slips }) => slips));
  return [...new Set(near.filter(({ slips }) => slips === fewest).map(({ known }) => known))];
}

/** Whether the value is one that the key can hold, so that numbers would count otherwise. */
function changesNumbers(known: string, { key, value }: Slip): boolean {
  // Three letters are one slip away from many words, such as tag from sag.
  const sure = key.length > 3 || known === key || isSwapped(key, known);
  return sure && DECIDING_KEYS.includes(known) && canHold(known, value);
}

const letters = (word: string): string => [...word].sort().join("");
const isSwapped = (one: string, other: string): boolean => letters(one) === letters(other);

/** Said anyway, with the same value. */
function sameAs(known: string, value: string, header: Known): boolean {
  const stated = header.get(known)?.value;
  if (stated === undefined) return false;
  return known === "unit"
    ? lengthUnit(stated) === lengthUnit(value)
    : foldedWord(stated) === foldedWord(value);
}

/** The unit of something named more closely, such as `log unit: in`, where the log states none. */
const isCloserUnit = ({ key, value, sentence }: Slip, header: Known): boolean =>
  !sentence &&
  !header.has("unit") &&
  /(?:^|-)(?:units?|einheit(?:en)?)(?:-|$)/.test(foldedWord(key)) &&
  canHold("unit", value);

/** Two words such as `job J-2207`: any other remark is left in peace. */
const isNameOfOne = (key: string, value: string, known: string): boolean =>
  holdsAnyText(known) && (key === known || isSwapped(key, known)) && /^\S*\d\S*$/.test(value);
