import { DECIDING_KEYS, KNOWN_KEYS, lengthUnit, pairOf } from "./headerKeys.ts";
import { tellSlip } from "./headerSlips.ts";
import { isComment, type LogText, trimmed } from "./logText.ts";
import { isRefusal, type Notebook, quotable, type Refusal, withoutControls } from "./notebook.ts";

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
  const bare = /(?:decimal|separator)\s*[:=]/i.test(text) ? text : withoutFill(text);
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
  for (const { line, text } of comments) {
    const trouble = tellSlip({ line, text }, header, line > firstRowLine, notes);
    if (trouble !== null) return trouble;
  }
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
  one === other || (key === "unit" && lengthUnit(one) !== null && lengthUnit(one) === lengthUnit(other));

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
