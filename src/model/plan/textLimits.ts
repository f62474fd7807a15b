/** A plan is read by people; what is larger or deeper than this is not one. */
const MOST_CHARACTERS = 262_144;
const DEEPEST_BRACKETS = 30;
const DEEPEST_INDENT = 160;
const MOST_MARKS = 20;

/**
 * Why a text is not even tried, with the line; null when it may be read. Nesting is bounded before parsing, because a
 * parser that recurses on hostile nesting ends the process instead of throwing.
 */
export function tooLargeToRead(text: string): { readonly line: number; readonly text: string } | null {
  if (text.length > MOST_CHARACTERS)
    return {
      line: 1,
      text: `the plan has ${text.length} characters; at most ${MOST_CHARACTERS} are read: split it into several plans`,
    };
  let depth = 0;
  let line = 0;
  for (const row of text.split(/\r\n|\r|\n/)) {
    line++;
    const code = row.trimStart();
    if (code.startsWith("#")) continue;
    depth = bracketDepth(row, depth);
    const marks = "-?:&!".includes(code[0] ?? " ") ? marksOf(code) : 0;
    const indent = code === "" ? 0 : row.length - code.length;
    if (depth > DEEPEST_BRACKETS || marks > MOST_MARKS || indent > DEEPEST_INDENT)
      return {
        line,
        text: "the plan is nested too deeply here; no key of a plan needs more than six levels",
      };
  }
  return null;
}

/** How many marks that nest, of YAML's own, a row begins with. */
const marksOf = (code: string): number =>
  /^(?:(?:[-?:]|[&!]\S*)[ \t]+)*/.exec(code)?.[0].trim().split(/\s+/).length ?? 0;

/** Deepest nesting of brackets once it is past the bound, else the depth at the end of the row; never below zero. */
function bracketDepth(row: string, before: number): number {
  let depth = before;
  for (const letter of row) {
    if (letter === "[" || letter === "{") depth++;
    else if (letter === "]" || letter === "}") depth = Math.max(0, depth - 1);
    if (depth > DEEPEST_BRACKETS) return depth;
  }
  return depth;
}
