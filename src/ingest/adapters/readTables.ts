import { readCells } from "../cells.ts";
import { type ColumnName, columnUnit, constantCells } from "../columns.ts";
import { isBlank, isComment, trimmed } from "../logText.ts";
import { listed, type Notebook, type Refusal } from "../notebook.ts";
import type { Head } from "../survey.ts";
import type { LogSource, RawLog, RawTable, Separator } from "./contract.ts";

export const SEPARATOR_NAMES: Readonly<Record<Separator, string>> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
};

/** The rows below each line of column names, up to the next one or its title. */
export function readTables(source: LogSource, notes: Notebook, titled: boolean): RawLog | Refusal {
  const { heads } = source.survey;
  const [first] = heads;
  if (first === undefined) throw new RangeError("a text without column names was taken for a table");
  const insideCells = new Set<number>();
  const tables: RawTable[] = [];
  for (const [index, head] of heads.entries()) {
    const wrong = wrongHead(head, first, notes);
    if (wrong !== null) return wrong;
    const next = heads[index + 1];
    const end = next === undefined ? source.text.lineCount : endBefore(next, titled);
    const cells = readCells(source.text, head.line + 1, end, head.separator);
    for (const line of cells.insideCells) insideCells.add(line);
    tables.push({ ...tableOf(head, cells, titled), constants: constantCells(head.columns, source.mapping) });
    if (index > 0 && !titled)
      notes.notice(
        "note",
        "repeated-header",
        "the column names stand here again; the rows go on",
        {},
        { line: head.line },
      );
  }
  describeColumns(heads, source, notes);
  tellUnitChanges(tables, notes);
  const firstRowLine = Math.min(...tables.map((table) => table.lines[0] ?? Number.POSITIVE_INFINITY));
  return { tables, firstRowLine, separator: first.separator, insideCells };
}

/** Each table has its own units; that they differ within one log must not go unseen. */
function tellUnitChanges(tables: readonly RawTable[], notes: Notebook): void {
  const unitOf = (table: RawTable, name: ColumnName): string | null => {
    const column = table.columns.found.get(name);
    return column === undefined ? null : (column.unit ?? table.units.get(column.index)?.unit ?? null);
  };
  for (const [at, table] of tables.entries()) {
    const before = tables[at - 1];
    const name = [...table.columns.found.keys()].find(
      (key) => before !== undefined && unitOf(before, key) !== unitOf(table, key),
    );
    if (before === undefined || name === undefined) continue;
    notes.notice(
      "warning",
      "unit-changes",
      "from here on {name} is in {unit}, above it was in {before}; each row counts in its own unit",
      {
        name,
        unit: unitOf(table, name) ?? "the unit of the log",
        before: unitOf(before, name) ?? "the unit of the log",
      },
      { line: table.lines[0] ?? 0 },
    );
  }
}

const endBefore = (next: Head, titled: boolean): number =>
  (titled && next.title !== null ? next.title.line : next.line) - 1;

function wrongHead(head: Head, first: Head, notes: Notebook): Refusal | null {
  const { twice } = head.columns;
  if (twice.length > 0)
    return notes.refuse(
      "column-twice",
      "more than one column is named {names}; rename the one that is not meant or say which counts in the plan's logs.columns",
      { names: listed(twice) },
      { line: head.line },
    );
  if (head.separator !== first.separator || head.kind.kind !== first.kind.kind)
    return notes.refuse(
      "two-tables",
      "other columns than in line {first} begin here, so the log holds two kinds of readings; split it into two logs",
      { first: first.line },
      { line: head.line },
    );
  return null;
}

function tableOf(head: Head, cells: ReturnType<typeof readCells>, titled: boolean): RawTable {
  const units = unitsRow(head, cells.rows[0] ?? [], cells.lines[0] ?? 0);
  const shift = units.size > 0 ? 1 : 0;
  return {
    title: titled ? head.title : null,
    columns: head.columns,
    kind: head.kind,
    units,
    rows: shift === 0 ? cells.rows : cells.rows.slice(shift),
    lines: shift === 0 ? cells.lines : cells.lines.slice(shift),
    broken: new Map([...cells.broken].map(([row, reason]) => [row - shift, reason])),
  };
}

const LONGEST_UNIT = 60;
/** A row right under the names that holds units and nothing else, such as `;[mm];[mm]`. */
function unitsRow(head: Head, row: readonly string[], line: number): RawTable["units"] {
  const units = new Map<number, { unit: string; line: number }>();
  const names = new Map([...head.columns.found].map(([name, column]) => [column.index, name]));
  for (const [index, cell] of row.entries()) {
    if (cell.length > LONGEST_UNIT) return new Map();
    const text = trimmed(cell).replace(/^[[(]\s*(.*?)\s*[\])]$/, "$1");
    if (text === "" || text === "-") continue;
    const name = names.get(index);
    const unit = name === undefined ? null : columnUnit(name, text);
    if (unit !== null) units.set(index, { unit, line });
    else if (/\d/.test(text) || name !== undefined) return new Map();
  }
  return units;
}

function describeColumns(heads: readonly Head[], source: LogSource, notes: Notebook): void {
  const [head] = heads;
  if (head === undefined) return;
  const name = SEPARATOR_NAMES[head.separator];
  notes.decide(
    "separator",
    name,
    source.separator?.because ?? "the column names in line {line} are divided by it",
    {
      line: head.line,
    },
  );
  const columns = [...head.columns.found].map(([ours, { written, mapped }]) => {
    const theirs = trimmed(written);
    return mapped
      ? `${ours} = ${theirs} (plan)`
      : theirs.toLowerCase() === ours
        ? ours
        : `${ours} = ${theirs}`;
  });
  notes.decide("columns", columns.join(", "), "column names in line {line}", { line: head.line });
  if (head.columns.unknown.length > 0)
    notes.decide("columns not used", head.columns.unknown.map(trimmed).join(", "), "they mean nothing here");
  skippedLines(source, head.line, notes);
}

function skippedLines(source: LogSource, headLine: number, notes: Notebook): void {
  const skip = source.plan?.skipRows ?? 0;
  if (skip > 0) notes.decide("rows skipped", String(skip), "declared in the plan as logs.skip-rows");
  const titleLine = source.survey.heads[0]?.title?.line;
  const named = source.survey.heads[0]?.kind.named !== false;
  for (let line = skip + 1; line < headLine; line++) {
    const text = source.text.line(line);
    if (isBlank(text) || isComment(text) || source.unitWords.has(line)) continue;
    if (line === titleLine && !named) continue;
    notes.notice(
      "warning",
      "line-not-read",
      "this line above the column names is neither a header line nor a row and was not read",
      {},
      { line },
    );
  }
}
