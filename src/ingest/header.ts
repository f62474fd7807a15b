import { unitOf } from "../model/quantity.ts";
import { isComment, type LogText, trimmed } from "./logText.ts";
import { isRefusal, listed, type Notebook, quotable, type Refusal, withoutControls } from "./notebook.ts";

/** A `#` line: text after the mark. */
export interface Comment {
  readonly line: number;
  readonly text: string;
}
export interface HeaderEntry {
  readonly value: string;
  readonly line: number;
}
export type Header = ReadonlyMap<string, HeaderEntry>;

/** Keys that change what numbers mean; they may not change in mid-log. */
const DECIDING_KEYS = [
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
const KNOWN_KEYS = [
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

/** All `#` lines of a log. */
export function commentsOf(log: LogText): readonly Comment[] {
  const comments: Comment[] = [];
  if (!log.text.includes("#")) return comments;
  for (let line = 1; line <= log.lineCount; line++) {
    const text = log.line(line);
    if (isComment(text)) comments.push({ line, text: trimmed(unquoted(trimmed(text)).replace(/^#+/, "")) });
  }
  return comments;
}

/** A spreadsheet may have put the whole line in quotation marks and filled up empty cells behind it. */
function unquoted(text: string): string {
  const bare = /(?:decimal|separator)\s*:/i.test(text) ? text : withoutFill(text);
  return bare.startsWith('"') ? bare.slice(1).replace(/"$/, "").replaceAll('""', '"') : bare;
}

/** Without the separators of one kind at its end. */
function withoutFill(text: string): string {
  const last = text.at(-1) ?? "";
  if (!/[,;\t]/.test(last)) return text;
  let end = text.length;
  while (end > 0 && text[end - 1] === last) end--;
  return text.slice(0, end);
}

export function pairOf(text: string): { key: string; value: string } | null {
  const match = /^([^:]{1,60}?)\s*:\s*(.*)$/s.exec(text);
  if (match === null) return null;
  const written = withoutControls(match[1] ?? "")
    .trim()
    .toLowerCase();
  const hyphened = written.replace(/[\s_]+/g, "-");
  const key = KNOWN_KEYS.includes(hyphened) ? hyphened : written;
  return key === "" ? null : { key, value: match[2] ?? "" };
}

/** Header keys above the rows, each once. Remarks below the first row may not change what the rows mean. */
export function readHeader(
  comments: readonly Comment[],
  firstRowLine: number,
  notes: Notebook,
): Header | Refusal {
  const header = new Map<string, HeaderEntry>();
  for (const { line, text } of comments) {
    const pair = pairOf(text);
    if (pair === null) continue;
    const value = cleaned(pair.value, pair.key, line, notes);
    const known = header.get(pair.key);
    const trouble =
      line > firstRowLine
        ? late(pair.key, value, line, known, notes)
        : enter(header, pair.key, { value, line }, known, notes);
    if (isRefusal(trouble)) return trouble;
  }
  for (const [key, { line }] of header) suggest(key, line, header, notes);
  return header;
}

function cleaned(value: string, key: string, line: number, notes: Notebook): string {
  const clean = withoutControls(value).trim();
  if (clean !== value.trim())
    notes.notice(
      "warning",
      "control-characters",
      "the header key {key} holds control characters; each was replaced by a blank",
      { key: quotable(key) },
      { line },
    );
  return clean;
}

/** `inch` and `in` are the same unit. */
const sameValue = (key: string, one: string, other: string): boolean =>
  one === other ||
  (key === "unit" && unitOf(one, "length") !== null && unitOf(one, "length") === unitOf(other, "length"));

function enter(
  header: Map<string, HeaderEntry>,
  key: string,
  entry: HeaderEntry,
  known: HeaderEntry | undefined,
  notes: Notebook,
): Refusal | null {
  if (known === undefined) {
    if (entry.value !== "") header.set(key, entry);
    return null;
  }
  if (sameValue(key, known.value, entry.value)) return null;
  if (KNOWN_KEYS.includes(key) && key !== "note")
    return notes.refuse(
      "header-twice",
      "{key} is {second} here but {first} in line {firstLine}; keep the one that is true",
      { key, second: quotable(entry.value), first: quotable(known.value), firstLine: known.line },
      { line: entry.line },
    );
  header.set(key, { value: `${known.value}; ${entry.value}`, line: known.line });
  return null;
}

function late(
  key: string,
  value: string,
  line: number,
  known: HeaderEntry | undefined,
  notes: Notebook,
): Refusal | null {
  if (known !== undefined && sameValue(key, known.value, value)) return null;
  if (!KNOWN_KEYS.includes(key)) return null;
  if (DECIDING_KEYS.includes(key))
    return notes.refuse(
      "header-after-rows",
      "{key}: {value} stands below the first row, where it could count for all rows or for those after it; put it above the rows or split the log",
      { key, value: quotable(value) },
      { line },
    );
  notes.notice(
    "warning",
    "header-after-rows",
    "{key}: {value} stands below the first row and was not read as a header line",
    { key, value: quotable(value) },
    { line },
  );
  return null;
}

/** A key one or two letters away from a known one is most likely a slip. */
function suggest(key: string, line: number, header: Header, notes: Notebook): void {
  if (KNOWN_KEYS.includes(key) || key.length < 3) return;
  const near = KNOWN_KEYS.filter(
    (known) => !header.has(known) && distance(key, known) <= (key.length > 5 ? 2 : 1),
  );
  if (near.length > 0)
    notes.notice(
      "warning",
      "unknown-key",
      "the header key {key} has no meaning here; was {near} meant?",
      { key: quotable(key), near: listed(near, "or") },
      { line },
    );
}

/** Letters to put in, take out or change to get from one word to the other. */
function distance(one: string, other: string): number {
  let row = Array.from({ length: other.length + 1 }, (_, index) => index);
  for (let at = 1; at <= one.length; at++) {
    const next = [at];
    for (let to = 1; to <= other.length; to++)
      next.push(
        Math.min(
          (next[to - 1] ?? 0) + 1,
          (row[to] ?? 0) + 1,
          (row[to - 1] ?? 0) + (one[at - 1] === other[to - 1] ? 0 : 1),
        ),
      );
    row = next;
  }
  return row[other.length] ?? 0;
}
