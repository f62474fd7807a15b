import type { Comment } from "../header.ts";
import { pairOf } from "../headerKeys.ts";
import { isComment, trimmed } from "../logText.ts";
import { isRefusal } from "../notebook.ts";
import type { Adapter, LogSource } from "./contract.ts";
import { type NamedBlock, type NamedRow, namedTables } from "./namedValues.ts";

const WORD =
  /([A-Za-z])[ \t\u00a0]*([-+]?)[ \t\u00a0]*(\d[\d.,]*|[.,]\d+|[*.]*\*[*.]*)(?:[ \t\u00a0]*(mm|inch|in|"|°|deg)(?![A-Za-z]))?/y;
const LINES_LOOKED_AT = 200;
/** No control prints longer lines. */
const LONGEST = 1000;

/** Text that a control prints: a letter and its number, glued or with leading blanks, filler lines, remarks in brackets. */
export const printedText: Adapter = {
  id: "printed-text",
  recognise(source) {
    if (source.survey.heads.length > 0 || source.survey.nearest !== null) return null;
    const lines = dataLines(source, LINES_LOOKED_AT);
    const read = lines.map(({ text }) => wordsOf(text));
    const touches = read.filter((words) => words !== null && axes(words) >= 2);
    // Motion and switching words mean that this is a program and no record of what was measured.
    if (read.some((words) => words?.has("G") || words?.has("M"))) return null;
    return touches.length > 0 && touches.length * 2 >= lines.length
      ? `${touches.length} of the first ${lines.length} lines hold letters with numbers`
      : null;
  },
  read(source, notes) {
    const { blocks, header, splitSign } = blocksOf(source);
    const tables = namedTables(blocks, source.mapping, {}, notes);
    if (isRefusal(tables)) return tables;
    if (splitSign !== null)
      notes.decide(
        "split sign",
        "belongs to the number behind it",
        "{text} in line {line}: printed with a fixed width",
        splitSign,
      );
    const lines = blocks.flatMap((block) => block.rows.map((row) => row.line));
    return { tables, header, firstRowLine: lines[0] ?? Number.POSITIVE_INFINITY, separator: null };
  },
};

const axes = (words: ReadonlyMap<string, string>): number =>
  ["X", "Y", "Z"].filter((letter) => words.has(letter)).length;

/** What stands between the filler lines, without program numbers and remarks. */
function bare(line: string): string {
  if (line.length > LONGEST) return line;
  const text = trimmed(line.replace(/\([^)]*\)/g, " "));
  return /^(?:%.*|[O:]\s*\d+|\/\/.*)$/i.test(text) ? "" : text;
}

function dataLines({ text, plan, unitWords }: LogSource, most: number): { line: number; text: string }[] {
  const found: { line: number; text: string }[] = [];
  for (let line = (plan?.skipRows ?? 0) + 1; line <= text.lineCount && found.length < most; line++) {
    const whole = text.line(line);
    const data = isComment(whole) || unitWords.has(line) ? "" : bare(whole);
    if (data !== "") found.push({ line, text: data });
  }
  return found;
}

/** The words of a line, or null when something else stands in it or a letter comes twice. */
function wordsOf(text: string): Map<string, string> | null {
  if (text.length > LONGEST) return null;
  const words = new Map<string, string>();
  let at = 0;
  while (at < text.length) {
    WORD.lastIndex = at;
    const match = WORD.exec(text);
    if (match === null) return null;
    const [whole, letter = "", sign = "", digits = "", unit = ""] = match;
    const name = letter.toUpperCase();
    if (words.has(name)) return null;
    words.set(name, sign + digits.replace(/,$/, "") + unit);
    at += whole.length;
    while (at < text.length && /[\s,;:\u0000\u00a0]/.test(text[at] ?? "")) at++;
  }
  return words;
}

interface Printed {
  readonly blocks: readonly NamedBlock[];
  readonly header: readonly Comment[];
  readonly splitSign: { readonly text: string; readonly line: number } | null;
}

function blocksOf({ text, plan, unitWords }: LogSource): Printed {
  const blocks: { title: NamedBlock["title"]; rows: NamedRow[] }[] = [{ title: null, rows: [] }];
  const header: Comment[] = [];
  let splitSign: Printed["splitSign"] = null;
  for (let line = (plan?.skipRows ?? 0) + 1; line <= text.lineCount; line++) {
    const whole = text.line(line);
    if (isComment(whole) || unitWords.has(line)) continue;
    const data = bare(whole);
    if (data === "") {
      const remark = /\(([^)]*)\)/.exec(whole)?.[1]?.trim() ?? "";
      if (pairOf(remark) !== null) header.push({ line, text: remark });
      else if (remark !== "") blocks.push({ title: { text: remark, line }, rows: [] });
      continue;
    }
    const words = wordsOf(data);
    const split = /[A-Za-z][ \t]*[-+][ \t]+[\d.*]+/.exec(data);
    if (split !== null && words !== null) splitSign ??= { text: split[0], line };
    blocks.at(-1)?.rows.push({
      line,
      values: words ?? new Map(),
      broken: words === null ? "it is not letters with one number each" : null,
    });
  }
  return { blocks: blocks.filter((block) => block.rows.length > 0), header, splitSign };
}
