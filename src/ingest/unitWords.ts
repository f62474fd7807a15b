import { type LogText, trimmed } from "./logText.ts";

const LONGEST = 40;
const WORD =
  /^(?:(?:units?|(?:ma(?:ß|ss)-?)?einheit(?:en)?|mode)\s*[:=]?\s*)?(?:(mm|millimet(?:er|re)s?|metric|g21|g71)|(?:in|inch(?:es)?|zoll|imperial|g20|g70))$/;

/** The unit that a line says when it says nothing else: `INCH`, `(UNIT MM)`, the mode words of ISO 6983 and its dialects. */
export function unitWord(line: string): "mm" | "in" | null {
  if (line.length > LONGEST) return null;
  let end = line.length;
  while (end > 0 && ",;\t".includes(line[end - 1]!)) end--;
  const rest = line.slice(0, end);
  // Rows of several cells, which most lines are, say something else.
  if (rest.includes(",") || rest.includes(";")) return null;
  const bare = trimmed(rest).replace(/^[[(]\s*([^()[\]]*?)\s*[\])]$/, "$1");
  const match = WORD.exec(bare.toLowerCase());
  return match === null ? null : match[1] === undefined ? "in" : "mm";
}

/** All such lines below `skipRows` with their unit. */
export function unitWordsOf(log: LogText, skipRows: number): ReadonlyMap<number, "mm" | "in"> {
  const found = new Map<number, "mm" | "in">();
  for (let line = skipRows + 1; line <= log.lineCount; line++) {
    if (log.lengthOf(line) > LONGEST) continue;
    const text = log.line(line);
    const unit = unitWord(text);
    if (unit !== null) found.set(line, unit);
  }
  return found;
}
