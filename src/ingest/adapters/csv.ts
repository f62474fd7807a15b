import { readCells, splitLine } from "../cells.ts";
import {
  COLUMNS,
  type ColumnMatch,
  constantCells,
  kindOf,
  missingColumns,
  positionedColumns,
  withConstants,
} from "../columns.ts";
import { isBlank, isComment } from "../logText.ts";
import { listed, type Notebook, quotable, type Refusal } from "../notebook.ts";
import { PLAIN_NUMBER } from "../readNumber.ts";
import type { Adapter, LogSource, RawLog, Separator } from "./contract.ts";
import { isTitledBlocks } from "./isTitledBlocks.ts";
import { readTables, SEPARATOR_NAMES } from "./readTables.ts";

/** Columns under their names, or at positions that the plan gives. */
export const csv: Adapter = {
  id: "csv",
  recognise(source) {
    const { heads, nearest } = source.survey;
    const [head] = heads;
    if (head !== undefined)
      return head.kind.kind === "results" || isTitledBlocks(source.survey)
        ? null
        : `line ${head.line} names columns`;
    if (positions(source) !== null) return "the plan gives the positions of columns";
    return nearest === null ? null : `line ${nearest.line} names some columns`;
  },
  read(source, notes) {
    if (source.survey.heads.length > 0) return readTables(source, notes, false);
    const found = positions(source);
    if (found !== null) return byPosition(source, found, notes);
    return incomplete(source, notes);
  },
};

interface Positions {
  readonly columns: ColumnMatch;
  readonly separator: Separator;
  readonly firstLine: number;
}
const SEPARATORS: readonly Separator[] = ["\t", ";", ","];

function positions(source: LogSource): Positions | null {
  const placed = positionedColumns(source.mapping);
  const columns = placed === null ? null : withConstants(placed, source.mapping);
  if (columns === null || kindOf(columns) === null) return null;
  const sample = firstRows(source, 50);
  const candidates = source.separator === null ? SEPARATORS : [source.separator.mark];
  const separator = candidates.find((mark) => {
    const enough = sample.filter((line) => splitLine(line.text, mark).length >= columns.cellCount);
    return sample.length > 0 && enough.length * 5 >= sample.length * 4;
  });
  return separator === undefined ? null : { columns, separator, firstLine: sample[0]?.line ?? 1 };
}

function firstRows(source: LogSource, most: number): { line: number; text: string }[] {
  const rows: { line: number; text: string }[] = [];
  for (
    let line = (source.plan?.skipRows ?? 0) + 1;
    line <= source.text.lineCount && rows.length < most;
    line++
  ) {
    const text = source.text.line(line);
    if (!isBlank(text) && !isComment(text) && !source.unitWords.has(line)) rows.push({ line, text });
  }
  return rows;
}

function byPosition(
  source: LogSource,
  { columns, separator, firstLine }: Positions,
  notes: Notebook,
): RawLog {
  const kind = kindOf(columns);
  if (kind === null) throw new RangeError("positions without a kind were taken for columns");
  const first = splitLine(source.text.line(firstLine), separator);
  const named = [...columns.found].every(
    ([name, { index }]) => COLUMNS[name] === null || /^[^\d]*\p{L}/u.test(first[index] ?? ""),
  );
  // A first line with words where the numbers should be names the columns.
  const from =
    named && ![...first].some((cell) => PLAIN_NUMBER.test(cell.trim())) ? firstLine + 1 : firstLine;
  const cells = readCells(source.text, from, source.text.lineCount, separator);
  notes.decide(
    "separator",
    SEPARATOR_NAMES[separator],
    source.separator?.because ?? "it divides the lines into the columns that the plan numbers",
  );
  const list = [...columns.found].map(([name, { index }]) => `${name} = ${index + 1}`);
  notes.decide("columns", list.join(", "), "positions declared in the plan as logs.columns");
  if (from > firstLine)
    notes.decide("column names", `line ${firstLine}`, "words stand where the plan expects numbers");
  const width = Math.max(columns.cellCount, ...cells.rows.slice(0, 200).map((row) => row.length));
  const placed = positionedColumns(source.mapping) ?? columns;
  const whole = withConstants({ ...placed, cellCount: width }, source.mapping);
  return {
    tables: [
      {
        title: null,
        columns: whole,
        constants: constantCells(whole, source.mapping),
        kind,
        units: new Map(),
        rows: cells.rows,
        lines: cells.lines,
        broken: cells.broken,
      },
    ],
    firstRowLine: cells.lines[0] ?? Number.POSITIVE_INFINITY,
    separator,
    insideCells: cells.insideCells,
  };
}

function incomplete(source: LogSource, notes: Notebook): Refusal {
  const nearest = source.survey.nearest;
  const found = nearest === null ? [] : [...nearest.columns.found.keys()];
  const missing = nearest === null ? [] : missingColumns(nearest.columns);
  const odd = nearest?.columns.unknown.map((name) => name.trim()).filter((name) => name !== "") ?? [];
  return notes.refuse(
    "column-missing",
    "of the columns {found} are there but {missing} is not{odd}; name the column so, or say which one it is in the plan's logs.columns",
    {
      found: listed(found),
      missing: listed(missing),
      odd: odd.length === 0 ? "" : ` (no meaning here: ${listed(odd.slice(0, 6).map(quotable))})`,
    },
    nearest === null ? {} : { line: nearest.line },
  );
}
