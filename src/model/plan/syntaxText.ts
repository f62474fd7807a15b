import { clipped } from "./nearest.ts";

/** What each slip of YAML means for the person who wrote it, by the parser's code. */
const TEXTS: Readonly<Record<string, string>> = {
  TAB_AS_INDENT: "a tab stands before the text; indent with blanks",
  MULTIPLE_DOCS: "a second document starts here (---); keep one plan in a file",
  BLOCK_AS_IMPLICIT_KEY:
    'a second "key:" stands in one line or a line is indented too far; put it on its own line, or the value in quotes',
  MULTILINE_IMPLICIT_KEY: "a line is indented differently from the one it belongs to; align the keys",
  BAD_INDENT:
    "the indentation does not fit, or a bracket opened above is not closed; align the lines or close it",
  MISSING_CHAR: "something that was opened is not closed: a quote, a bracket or a colon is missing; add it",
  BAD_SCALAR_START: "a value cannot start with this character; put the value in quotes",
  BAD_DQ_ESCAPE: 'a backslash inside "..." starts an escape that does not exist; use single quotes',
  BAD_DIRECTIVE: 'a line that starts with "%" is not part of a plan; take it away',
  BAD_ALIAS: "an alias (*name) is not used in plans; write the value out where it is meant",
  TAG_RESOLVE_FAILED: "a tag (!name) is not used in plans; write the plain value",
  BLOCK_IN_FLOW:
    "a list or mapping in lines cannot stand inside brackets; write it with brackets or in lines",
  KEY_OVER_1024_CHARS: "a key is longer than 1024 characters; a colon or a closing quote is missing",
  UNEXPECTED_TOKEN: "a comma, bracket or sign stands where none belongs; take it away or add what is missing",
};

/** One sentence for a syntax error in a line of that text; where the parser's own words say more, they follow. */
export function syntaxText(code: string, message: string, line: string): string {
  if (lacksColon(code, line)) return withoutColon(line.trim());
  const own = TEXTS[code];
  if (own === undefined) return `this is not YAML: ${clipped(message.split("\n")[0] ?? "")}; correct it`;
  const detail = code === "UNEXPECTED_TOKEN" || code === "MISSING_CHAR" ? clipped(firstLine(message)) : "";
  return detail === "" ? own : `${own} (${detail})`;
}
/** Whether the line has a key without a colon: alone, or before a bracket. What the parser stumbles over further on comes of it. */
export const lacksColon = (code: string, line: string): boolean =>
  code === "MULTILINE_IMPLICIT_KEY"
    ? !line.includes(":")
    : code === "BLOCK_AS_IMPLICIT_KEY" && /^\s*[\w.-]+\s+[{[]/.test(line);

function withoutColon(line: string): string {
  const [key = "", ...value] = line.split(/\s+/);
  return `"${clipped(line)}" has no colon behind its key; write "${clipped([`${key}:`, ...value].join(" "))}"`;
}
const firstLine = (message: string): string => message.split("\n")[0] ?? "";
