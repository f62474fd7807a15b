import type { ExcludedRow } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import { type Said, say } from "../model/say.ts";
import type { RawTable } from "./adapters/contract.ts";
import { COLUMNS } from "./columns.ts";
import { isBlank, type LogText } from "./logText.ts";
import type { RowSink } from "./long/rowScanner.ts";
import type { Notebook } from "./notebook.ts";
import { type DecimalMark, writtenDecimals } from "./readNumber.ts";

/** Rows seen, used and left out, over all tables of a log. */
export class RowCount {
  rows = 0;
  used = 0;
  readonly excluded: ExcludedRow<Said>[] = [];
  /** Rows left out for what they say themselves, of which no finding tells yet. */
  readonly untold: ExcludedRow<Said>[] = [];

  leaveOut(line: number, reason: Said, told = true): void {
    const row = { line, reason };
    this.excluded.push(row);
    if (!told) this.untold.push(row);
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
export interface RowVisitor {
  readonly visit: Visit;
  /** Every row that could be divided into cells, whether it counts or not. */
  seen?(cells: readonly string[], line: number): void;
  /** A row of plain numbers out of the rest of a long log; readers that have none take no long logs. */
  readonly plain?: RowSink["plain"];
  /** About how many rows come out of the rest of a long log. */
  expect?(count: number): void;
  /** The row before one that is visited, when it was a plain one. */
  before?(cells: readonly string[], line: number): void;
}

/** Every row of a table that has its cells goes to the visitor; the others are left out with their reason. */
export function walkRows(table: RawTable, context: WalkContext, visitor: RowVisitor): void {
  const walk = new Walk(table, context, visitor);
  const last = table.rows.length - 1;
  const open = !context.text.ended && table.lines[last] === context.text.lineCount;
  for (let row = 0; row <= last; row++)
    walk.take(table.rows[row] ?? [], table.lines[row] ?? 0, table.broken.get(row), open && row === last);
  if (table.rest !== undefined && visitor.plain !== undefined)
    table.rest.read(context.mark, { ...visitor, count: context.count, take: walk.take });
}

class Walk {
  readonly #table: RawTable;
  readonly #context: WalkContext;
  readonly #visitor: RowVisitor;
  readonly #excluded: Plan["exclude"];
  readonly #feature: number | undefined;

  constructor(table: RawTable, context: WalkContext, visitor: RowVisitor) {
    this.#table = table;
    this.#context = context;
    this.#visitor = visitor;
    this.#excluded = exclusionsOf(context.plan, context.notes.log);
    this.#feature = table.columns.found.get(table.kind.nameColumn ?? "feature")?.index;
  }

  /** One row; `open` when it is the last of the log and has no line end. */
  readonly take = (
    cells: readonly string[],
    line: number,
    broken: string | undefined,
    open: boolean,
  ): void => {
    const { count, notes } = this.#context;
    const { visit, seen } = this.#visitor;
    const whole = wholeRow(this.#table, cells);
    count.rows++;
    if (broken === undefined) seen?.(whole, line);
    const odd = brokenRow(this.#table, cells, broken);
    if (odd !== null && open) tellCut(notes, line);
    const name = this.#feature === undefined ? "" : (whole[this.#feature] ?? "");
    const planned = excludedByPlan(this.#excluded, line, name);
    const cut =
      odd === null && planned === null && open ? cutRow(this.#table, cells, line, this.#context) : null;
    const reason = odd ?? planned ?? cut ?? visit(whole, line);
    const told = planned !== null || cut !== null || (odd !== null && open);
    if (reason === null) count.used++;
    else count.leaveOut(line, reason, told);
  };
}

/** The cells of a row with those that the plan puts behind them. */
export const wholeRow = ({ columns, constants }: RawTable, cells: readonly string[]): readonly string[] =>
  constants === undefined || constants.length === 0
    ? cells
    : [...Array.from({ length: columns.cellCount }, (_, index) => cells[index] ?? ""), ...constants];

/** What the plan leaves out of a log. */
export const exclusionsOf = (plan: Plan | null, log: string): Plan["exclude"] =>
  (plan?.exclude ?? []).filter((entry) => entry.log === null || entry.log === log);

function brokenRow(table: RawTable, cells: readonly string[], broken: string | undefined): Said | null {
  const { cellCount } = table.columns;
  if (broken !== undefined) return say("the row cannot be divided into cells: {broken}", { broken });
  if (cells.length === cellCount) return null;
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
function cutRow(
  table: RawTable,
  cells: readonly string[],
  line: number,
  { notes, mark }: WalkContext,
): Said | null {
  const index = cells.length - 1;
  const names = [...table.columns.found].filter(([, column]) => column.index === index);
  const numeric = names.some(([name]) => COLUMNS[name] !== null || name === "value");
  const above = table.rows.filter((row, at) => table.lines[at] !== line && row.length > index);
  const most = above.reduce(
    (found, row) => Math.max(found, writtenDecimals(row[index] ?? "", mark)),
    table.rest?.mostDecimals ?? 0,
  );
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
