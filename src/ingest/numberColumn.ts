import type { Dimension } from "../model/quantity.ts";
import { converter, toInside, unitOf } from "../model/quantity.ts";
import { type Said, say } from "../model/say.ts";
import type { RawTable } from "./adapters/contract.ts";
import { COLUMNS, type ColumnName, nameAndUnit } from "./columns.ts";
import type { SettledMark } from "./decimalMark.ts";
import type { Settings } from "./headerSettings.ts";
import { trimmed } from "./logText.ts";
import { type Notebook, quotable, type Refusal } from "./notebook.ts";
import { PLAIN_NUMBER, readNumber } from "./readNumber.ts";

/** Reads the cells of one column into the unit used inside. */
export interface NumberColumn {
  readonly name: ColumnName;
  readonly index: number;
  /** The value in mm, radians, degrees Celsius or as it is; NaN when the cell holds none, with `trouble` set. */
  read(cell: string): number;
  /** The value of a number that its cell says plainly, without a unit; null where it is that number itself. */
  readonly inside: ((value: number) => number) | null;
  trouble: Said | null;
}
export interface ColumnOptions {
  readonly mark: SettledMark;
  readonly settings: Settings;
  readonly notes: Notebook;
}
/** Units taken when a column and its cells name none. */
const DEFAULT_UNITS: Partial<Record<Dimension | "none", string>> = { angle: "deg", temperature: "C" };

/** A reader for a column of numbers, its unit settled; null when the table has no such column. */
export function numberColumn(
  table: RawTable,
  name: ColumnName,
  options: ColumnOptions,
): NumberColumn | Refusal | null {
  const column = table.columns.found.get(name);
  const dimension = COLUMNS[name];
  if (column === undefined || dimension === null) return null;
  if (dimension === "none")
    return reader({ name, index: column.index, dimension: null, unit: "", fixed: false, options });
  const settled = settledUnit(table, name, dimension, options);
  if ("ok" in settled) return settled;
  const { unit, because, fixed } = settled;
  const { decisions } = options.notes;
  if (!decisions.some((entry) => entry.what === `unit of ${name}` && entry.value === unit))
    options.notes.decide(`unit of ${name}`, unit, because);
  return reader({ name, index: column.index, dimension, unit, fixed, options });
}

interface SettledUnit {
  readonly unit: string;
  readonly because: string;
  /** Stated for the column, so that a cell may not say another one. */
  readonly fixed: boolean;
}

function settledUnit(
  table: RawTable,
  name: ColumnName,
  dimension: Dimension,
  { settings, notes }: ColumnOptions,
): SettledUnit | Refusal {
  const column = table.columns.found.get(name);
  if (column === undefined) throw new RangeError(`the table has no column ${name}`);
  if (column.unit !== null) {
    // A column that is not in the log itself has a unit of its own.
    if (dimension === "length" && settings.unit?.byLog && nameAndUnit(column.written).unit !== null)
      tellOtherUnit(column, settings.unit.name, notes);
    return { unit: column.unit, because: `column name ${quotable(trimmed(column.written))}`, fixed: true };
  }
  const row = table.units.get(column.index);
  if (row !== undefined) return { unit: row.unit, because: `row of units in line ${row.line}`, fixed: true };
  if (dimension === "length" && settings.unit !== null)
    return { unit: settings.unit.name, because: settings.unit.because, fixed: true };
  const inCells = unitInCells(table, column.index, dimension);
  if (inCells !== null) return inCells;
  const usual = DEFAULT_UNITS[dimension];
  if (usual !== undefined)
    return { unit: usual, because: "nothing else is written in the column", fixed: false };
  return notes.refuse(
    "no-unit",
    "the column {name} has no unit; write # unit: mm or # unit: in above the rows, put it into the column name as {name} [mm], or set logs.unit in the plan",
    { name },
  );
}

/** Inches above millimetres are a slip that must be seen; the name nearest to the numbers counts. */
function tellOtherUnit(
  column: { readonly unit: string | null; readonly written: string },
  general: string,
  notes: Notebook,
): void {
  if ((column.unit === "in") === (general === "in")) return;
  if (notes.findings.some(({ code }) => code === "units-differ")) return;
  notes.notice(
    "warning",
    "units-differ",
    "the column {name} is taken in {unit}, as its name says, but elsewhere the unit {general} is stated; look which is right and take the other away",
    { name: quotable(trimmed(column.written)), unit: column.unit ?? "", general },
  );
}

function unitInCells(table: RawTable, index: number, dimension: Dimension): SettledUnit | null {
  let seen: SettledUnit | null = null;
  for (const [row, cells] of table.rows.entries()) {
    const text = trimmed(cells[index] ?? "");
    if (text === "" || PLAIN_NUMBER.test(text)) continue;
    const read = readNumber(text.replace(",", "."), ".");
    const unit = read.ok && read.unit !== "" ? unitOf(read.unit, dimension) : null;
    if (unit === null) continue;
    // Cells that disagree say nothing about those without a unit.
    if (seen !== null && seen.unit !== unit)
      return { unit: seen.unit, because: "each cell has its own", fixed: false };
    seen ??= { unit, because: `${quotable(text)} in line ${table.lines[row] ?? 0}`, fixed: false };
  }
  return seen;
}

interface ReaderSpec {
  readonly name: ColumnName;
  readonly index: number;
  readonly dimension: Dimension | null;
  readonly unit: string;
  readonly fixed: boolean;
  readonly options: ColumnOptions;
}

function reader(spec: ReaderSpec): NumberColumn {
  const { name, index, dimension, unit, options } = spec;
  const { mark, declared } = options.mark;
  const inside = dimension === null || unit === "mm" ? null : converter(unit, dimension);
  const converted = (value: number): number => (inside === null ? value : inside(value));
  const column: NumberColumn = {
    name,
    index,
    trouble: null,
    inside,
    read(cell) {
      column.trouble = null;
      const read = readNumber(cell, mark, declared);
      if (!read.ok) {
        column.trouble = say("{name}: {reason}", { name, reason: read.reason.text });
        return Number.NaN;
      }
      if (read.unit === "") return converted(read.value);
      const own = dimension === null ? null : unitOf(read.unit, dimension);
      if (own === null || (own !== unit && spec.fixed)) {
        column.trouble = strangeUnit(name, cell, unit);
        return Number.NaN;
      }
      return dimension === null || own === unit
        ? converted(read.value)
        : toInside(read.value, own, dimension);
    },
  };
  return column;
}

const strangeUnit = (name: string, cell: string, unit: string): Said =>
  unit === ""
    ? say("{name}: {text} is not a number", { name, text: quotable(trimmed(cell)) })
    : say("{name}: {text} is not a number in {unit}, the unit of its column", {
        name,
        text: quotable(trimmed(cell)),
        unit,
      });
