import type { Separator } from "./adapters/contract.ts";
import { splitLine } from "./cells.ts";
import {
  type ColumnMatch,
  type KindOfColumns,
  kindOf,
  type Mapping,
  matchColumns,
  withConstants,
  withPositions,
} from "./columns.ts";
import { isBlank, isComment, type LogText, trimmed } from "./logText.ts";
import { PLAIN_NUMBER } from "./readNumber.ts";

/** A line of column names. */
export interface Head {
  readonly line: number;
  readonly separator: Separator;
  readonly columns: ColumnMatch;
  readonly kind: KindOfColumns;
  /** The line right above when it holds one text and nothing else. */
  readonly title: { readonly text: string; readonly line: number } | null;
}
export interface Survey {
  readonly heads: readonly Head[];
  /** Where no line names all columns of a kind: the line that names most of them. */
  readonly nearest: { readonly line: number; readonly columns: ColumnMatch } | null;
}
const SEPARATORS: readonly Separator[] = [",", ";", "\t"];
/** Column names stand near the top; a log without them is not searched to its end. */
const LINES_SEARCHED = 400;
const ROW_OF_NUMBERS = /\d[.,]\d|[,;\t]\s*[-+]?[.,]?\d/;

/** All lines of column names among those that are not skipped. */
export function surveyLog(
  log: LogText,
  skipped: (line: number) => boolean,
  mapping: Mapping,
  declared: Separator | null,
): Survey {
  const separators = declared === null ? SEPARATORS : [declared];
  const heads: Head[] = [];
  let nearest: { line: number; columns: ColumnMatch } | null = null;
  let searched = 0;
  let above = 0;
  for (let line = 1; line <= log.lineCount; line++) {
    const text = log.line(line);
    if (isBlank(text) || isComment(text) || skipped(line)) continue;
    if (heads.length === 0 && ++searched > LINES_SEARCHED) break;
    if (!ROW_OF_NUMBERS.test(text) || heads.length === 0) {
      const found = headOf(text, separators, mapping);
      if (found.head !== null)
        heads.push({ ...found.head, line, title: titleOf(log, above, found.head.separator) });
      else if (found.best !== null && found.best.found.size > (nearest?.columns.found.size ?? 1))
        nearest = { line, columns: found.best };
    }
    above = line;
  }
  return { heads, nearest: heads.length > 0 ? null : nearest };
}

/** Whether a line names the columns of a log. */
export const namesColumns = (text: string, declared: Separator | null, mapping: Mapping): boolean =>
  !ROW_OF_NUMBERS.test(text) &&
  headOf(text, declared === null ? SEPARATORS : [declared], mapping).head !== null;

function headOf(text: string, separators: readonly Separator[], mapping: Mapping) {
  let best: ColumnMatch | null = null;
  for (const separator of separators) {
    if (!text.includes(separator)) continue;
    const named = withPositions(matchColumns(splitLine(text, separator), mapping), mapping);
    const columns = withConstants(named, mapping);
    const kind = kindOf(columns);
    if (kind !== null) return { head: { separator, columns, kind }, best: null };
    if (columns.found.size > (best?.found.size ?? 0)) best = columns;
  }
  return { head: null, best };
}

function titleOf(log: LogText, line: number, separator: Separator): Head["title"] {
  if (line === 0) return null;
  const [first = "", ...rest] = splitLine(log.line(line), separator);
  const text = trimmed(first);
  if (text === "" || PLAIN_NUMBER.test(text) || !rest.every(isBlank)) return null;
  return { text, line };
}
