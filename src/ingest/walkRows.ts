import type { ExcludedRow } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import { type Said, say } from "../model/say.ts";
import type { RawTable } from "./adapters/contract.ts";
import { COLUMNS } from "./columns.ts";
import { isBlank, type LogText } from "./logText.ts";
import type { Notebook } from "./notebook.ts";
import { type DecimalMark, writtenDecimals } from "./readNumber.ts";

/** Rows seen, used and left out, over all tables of a log. */
export class RowCount {
  rows = 0;
  used = 0;
  readonly excluded: ExcludedRow<Said>[] = [];

  leaveOut(line: number, reason: Said): void {
    this.excluded.push({ line, reason });
  }
  /** A row that was taken and turned out not to count after all. */
  takeBack(line: number, reason: Said): void {
    this.used--;
    this.leaveOut(line, reason);
  }
}
export interface WalkContext {
  readonly text: LogText;
  readonly notes: Notebook;
  readonly count: RowCount;
  readonly plan: Plan | null;
  readonly mark: DecimalMark;
}
/** Takes the cells of a row, or says why the row is left out. */
export type Visit = (cells: readonly string[], line: number) => Said | null;

/** Every row of a table that has its cells goes to `visit`; the others are left out with their reason. */
export function walkRows(table: RawTable, context: WalkContext, visit: Visit, seen?: Visit): void {
  const { count, plan, notes } = context;
  const last = table.rows.length - 1;
  const open = !context.text.ended && table.lines[last] === context.text.lineCount;
  const excluded = (plan?.exclude ?? []).filter((entry) => entry.log === null || entry.log === notes.log);
  const feature = table.columns.found.get(table.kind.nameColumn ?? "feature")?.index;
  for (let row = 0; row <= last; row++) {
    const cells = table.rows[row] ?? [];
    const line = table.lines[row] ?? 0;
    count.rows++;
    if (!table.broken.has(row)) seen?.(cells, line);
    const broken = brokenRow(table, row, cells);
    if (broken !== null && open && row === last) tellCut(notes, line);
    const reason =
      broken ??
      excludedByPlan(excluded, line, feature === undefined ? "" : (cells[feature] ?? "")) ??
      (open && row === last ? cutRow(table, cells, context) : null) ??
      visit(cells, line);
    if (reason === null) count.used++;
    else count.leaveOut(line, reason);
  }
}

function brokenRow(table: RawTable, row: number, cells: readonly string[]): Said | null {
  const { cellCount } = table.columns;
  if (cells.length === cellCount && table.broken.size === 0) return null;
  const broken = table.broken.get(row);
  if (broken !== undefined) return say("the row cannot be divided into cells: {broken}", { broken });
  if (cells.length < cellCount)
    return say("a short row: {count} of {expected} cells", { count: cells.length, expected: cellCount });
  if (cells.slice(cellCount).every(isBlank)) return null;
  return say("a long row: {count} cells under {expected} columns", {
    count: cells.length,
    expected: cellCount,
  });
}

function excludedByPlan(exclusions: Plan["exclude"], line: number, feature: string): Said | null {
  const found = exclusions.find(
    (entry) =>
      entry.line === line && (entry.feature === null || feature === "" || entry.feature === feature.trim()),
  );
  return found === undefined ? null : say("left out by the plan: {reason}", { reason: found.reason });
}

/**
 * The last row when it has no line end: its last cell may be cut off. It counts when that cell has as many decimals
 * as its column has above; cells before it are closed by their separators.
 */
function cutRow(table: RawTable, cells: readonly string[], context: WalkContext): Said | null {
  const { notes, mark } = context;
  const line = context.text.lineCount;
  const index = cells.length - 1;
  const names = [...table.columns.found].filter(([, column]) => column.index === index);
  const numeric = names.some(([name]) => COLUMNS[name] !== null || name === "value");
  const above = table.rows.slice(0, -1).filter((row) => row.length > index);
  const most = above.reduce((found, row) => Math.max(found, writtenDecimals(row[index] ?? "", mark)), 0);
  const here = writtenDecimals(cells[index] ?? "", mark);
  const gone = isBlank(cells[index] ?? "") && above.some((row) => !isBlank(row[index] ?? ""));
  if (!numeric || (here >= most && !gone)) {
    notes.notice(
      "note",
      "last-row-without-line-end",
      "the last row has no line end but all its cells and decimals, so it was kept",
      {},
      { line },
    );
    return null;
  }
  tellCut(notes, line);
  return say("it has no line end and fewer decimals than the rows above: it may be cut off");
}

function tellCut(notes: Notebook, line: number): void {
  notes.notice(
    "warning",
    "last-row-cut",
    "the last row has no line end and fewer cells or decimals than the rows above, so it may be cut off and was left out",
    {},
    { line },
  );
}
