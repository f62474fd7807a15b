import type { LogFile, SignOffReading } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import { toInside } from "../model/quantity.ts";
import type { RawTable } from "./adapters/contract.ts";
import { COLUMNS, type ColumnName } from "./columns.ts";
import { featureNames } from "./featureNames.ts";
import { canHold, KNOWN_KEYS } from "./headerKeys.ts";
import type { KindContext } from "./kinds/contract.ts";
import { isBlank } from "./logText.ts";
import { isRefusal, Notebook, type Refusal } from "./notebook.ts";
import { type NumberColumn, numberColumn } from "./numberColumn.ts";
import { openLog } from "./openLog.ts";
import { understandLog } from "./understandLog.ts";
import { wholeRow } from "./walkRows.ts";

/** Columns of numbers in the order they are written. */
const NUMBERS = [
  "x",
  "y",
  "z",
  "position",
  "angle",
  "reading",
  "i",
  "j",
  "k",
  "b",
  "diameter",
  "radius",
  "temperature",
] as const;
/** Settled by the copy itself, so that they are not carried over. */
const SETTLED = ["unit", "decimal", "separator", "feature"];
/** Settled, or a slip of such a key: beside the right one it says nothing more, alone it would be asked about. */
const isSettled = (key: string, value: string): boolean =>
  SETTLED.includes(key) || (!KNOWN_KEYS.includes(key) && SETTLED.some((settled) => canHold(settled, value)));

interface Row {
  readonly name: string;
  readonly numbers: ReadonlyMap<ColumnName, number>;
  readonly texts: ReadonlyMap<ColumnName, string>;
  readonly line: number;
}
const TEXTS = ["point", "time", "from", "surface", "along", "height", "note"] as const;

/**
 * The log written plainly: UTF-8, LF, commas, decimal points, the unit in each column's name, the original line number in
 * the last column. Rows that cannot be read are left out, as they are when the log itself is read. Reading the copy with
 * the same plan gives the same points to the last bit.
 * @returns the copy, or the sentence that says why the log is not understood
 */
export function normaliseLog(
  file: LogFile,
  plan: Plan | null,
): { readonly text: string } | { readonly sentence: string } {
  const understood = understandLog(file, plan);
  if (!understood.ok) return { sentence: understood.finding.text.text };
  const header = Object.entries(understood.record.header)
    .filter(([key, value]) => !isSettled(key, value))
    .map(([key, value]) => `# ${key}: ${withPoint(value)}\n`)
    .join("");
  if (understood.record.kind === "sign-offs") return { text: header + signOffText(understood.signOffs) };
  const notes = new Notebook(file.name);
  const opened = openLog(file, plan, notes);
  const rows = isRefusal(opened) ? opened : rowsOf(opened.raw.tables, opened.context);
  if (isRefusal(rows)) return { sentence: rows.finding.text.text };
  return { text: header + tableText(rows, understood.record.kind === "sweep" ? "sweep" : "feature") };
}

/** A quantity with a decimal comma, as `20,5 C`; other values stay as written. */
const withPoint = (value: string): string => value.replace(/^([+-]?\d*),(\d+)(?=\s*[^\d,.]*$)/, "$1.$2");

function rowsOf(tables: readonly RawTable[], context: KindContext): Row[] | Refusal {
  const rows: Row[] = [];
  for (const table of tables) {
    const name = featureNames(table, context);
    if (isRefusal(name)) return name;
    const columns: NumberColumn[] = [];
    for (const wanted of NUMBERS) {
      const column = numberColumn(table, wanted, context);
      if (isRefusal(column)) return column;
      if (column !== null) columns.push(column);
    }
    table.rows.forEach((row, index) => {
      const cells = wholeRow(table, row);
      const numbers = numbersOf(columns, cells);
      if (numbers === null || table.broken.has(index)) return;
      rows.push({ name: name(cells), numbers, texts: textsOf(table, cells), line: table.lines[index] ?? 0 });
    });
  }
  return rows;
}

/** Null when a cell that has something in it cannot be read. */
function numbersOf(
  columns: readonly NumberColumn[],
  cells: readonly string[],
): Map<ColumnName, number> | null {
  const numbers = new Map<ColumnName, number>();
  for (const column of columns) {
    const cell = cells[column.index];
    if (cell === undefined || isBlank(cell)) continue;
    const value = column.read(cell);
    if (column.trouble !== null) return null;
    numbers.set(column.name, value);
  }
  return numbers;
}

function textsOf(table: RawTable, cells: readonly string[]): Map<ColumnName, string> {
  const texts = new Map<ColumnName, string>();
  for (const name of TEXTS) {
    const cell = cells[table.columns.found.get(name)?.index ?? -1] ?? "";
    if (!isBlank(cell)) texts.set(name, cell);
  }
  return texts;
}

function tableText(rows: readonly Row[], nameColumn: "sweep" | "feature"): string {
  const numbers = NUMBERS.filter((name) => rows.some((row) => row.numbers.has(name)));
  const texts = TEXTS.filter((name) => rows.some((row) => row.texts.has(name)));
  const units = new Map(numbers.map((name) => [name, unitFor(name, rows)]));
  const head = [
    nameColumn,
    ...numbers.map((name) => `${name}${units.get(name)?.suffix ?? ""}`),
    ...texts,
    "line",
  ];
  const lines = rows.map((row) =>
    [
      cellText(row.name),
      ...numbers.map((name) => {
        const value = row.numbers.get(name);
        return value === undefined ? "" : (units.get(name)?.write(value) ?? "");
      }),
      ...texts.map((name) => cellText(row.texts.get(name) ?? "")),
      String(row.line),
    ].join(","),
  );
  return `${head.join(",")}\n${lines.map((line) => `${line}\n`).join("")}`;
}

interface Written {
  readonly suffix: string;
  write(value: number): string;
}
const plain = (value: number): string => (Object.is(value, -0) ? "-0" : String(value));

/** The unit of a column in which every number of it comes back to the last bit; degrees where they do, else radians. */
function unitFor(name: ColumnName, rows: readonly Row[]): Written {
  const dimension = COLUMNS[name];
  if (dimension === "length") return { suffix: " [mm]", write: plain };
  if (dimension === "temperature") return { suffix: " [C]", write: plain };
  if (dimension !== "angle") return { suffix: "", write: plain };
  const values = rows.map((row) => row.numbers.get(name)).filter((value) => value !== undefined);
  if (values.every((value) => degreesOf(value) !== null))
    return { suffix: " [deg]", write: (value) => plain(degreesOf(value) ?? 0) };
  return { suffix: " [rad]", write: plain };
}

/** Degrees that give exactly this angle again; null when the double nearest to it does not. */
function degreesOf(radians: number): number | null {
  const near = (radians * 180) / Math.PI;
  for (const candidate of [Number(near.toPrecision(12)), near])
    if (toInside(candidate, "deg", "angle") === radians) return candidate;
  return null;
}

function signOffText(signOffs: readonly SignOffReading[]): string {
  const rows = signOffs.map(({ check, value, unit, by, time, note, line }) =>
    [check, value, unit ?? "", by ?? "", time ?? "", note ?? "", String(line)].map(cellText).join(","),
  );
  return `check,value,unit,by,time,note,line\n${rows.map((row) => `${row}\n`).join("")}`;
}

/** A text cell, quoted where it must be (RFC 4180). */
const cellText = (text: string): string =>
  /[",\n\r]|^\s|\s$|^#/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
