import Papa from "papaparse";
import type { LogFile } from "../model/measurement.ts";
import { COLUMNS, type ColumnName, nameAndUnit } from "./columns.ts";
import { decodeLog } from "./decodeLog.ts";
import { isRefusal, Notebook } from "./notebook.ts";

type Separator = "," | ";" | "\t";

/** Words that foreign columns are named with, as a whole or as a beginning; from memory, in English and German. */
const WORDS: Partial<Record<ColumnName, readonly string[]>> = {
  feature: ["feature", "element", "merkmal", "name", "fläche", "flaeche", "face", "bohrung", "object"],
  x: ["x"],
  y: ["y"],
  z: ["z"],
  i: ["i", "nx", "vx"],
  j: ["j", "ny", "vy"],
  k: ["k", "nz", "vz"],
  b: ["b", "pallet", "palette", "index"],
  sweep: ["sweep", "abtastung", "messung"],
  reading: ["reading", "messwert", "wert", "anzeige", "indicator", "ablesung", "uhr"],
  position: ["position", "pos", "weg", "travel"],
  angle: ["angle", "winkel", "deg", "grad"],
  time: ["time", "zeit", "date", "datum"],
  temperature: ["temperature", "temp"],
  note: ["note", "comment", "bemerkung", "notiz"],
  point: ["point", "punkt", "no", "nr", "#"],
};
const FEWEST_ROWS = 2;
const ROWS_READ = 200;

interface Table {
  readonly separator: Separator;
  /** 1-based line of the column names. */
  readonly line: number;
  readonly names: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/**
 * A mapping for the plan's `logs:` that a person can confirm and paste, with the evidence of each line as a remark; or a
 * sentence when the log holds no rows of cells.
 */
export function draftMapping(file: LogFile): { readonly yaml: string } | { readonly sentence: string } {
  const notes = new Notebook(file.name);
  const decoded = decodeLog(file, notes);
  if (isRefusal(decoded)) return { sentence: decoded.finding.text.text };
  const lines = decoded.text.replace(/^\ufeff/, "").split(/\r\n|\n|\r/);
  const tables = ([",", ";", "\t"] as const)
    .map((separator) => tableOf(lines, separator))
    .filter((table) => table !== null);
  const [table] = tables.toSorted((a, b) => numericCells(b) - numericCells(a));
  if (table === undefined)
    return {
      sentence: `${file.name}: no line of column names above rows of numbers was found; bare readings need logs.order in the plan`,
    };
  return { yaml: yamlOf(file.name, table, lines) };
}

const cellsOf = (line: string, separator: Separator): string[] =>
  (Papa.parse<string[]>(line, { delimiter: separator }).data[0] ?? []).map((cell) => cell.trim());
const NUMBER = /^[+\-\u2212]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?$/;
const isNumber = (cell: string): boolean => NUMBER.test(cell);

/** The first line of several texts with rows of as many cells, most of them numbers, below it. */
function tableOf(lines: readonly string[], separator: Separator): Table | null {
  for (const [index, line] of lines.slice(0, ROWS_READ).entries()) {
    if (line.startsWith("#") || !line.includes(separator)) continue;
    const names = cellsOf(line, separator);
    if (names.length < 2 || names.some(isNumber) || names.filter((name) => name !== "").length < 2) continue;
    const rows = lines
      .slice(index + 1, index + 1 + ROWS_READ)
      .filter((row) => row.trim() !== "" && !row.startsWith("#"))
      .map((row) => cellsOf(row, separator))
      .filter((row) => row.length >= 2 && row.some(isNumber));
    if (rows.length >= FEWEST_ROWS) return { separator, line: index + 1, names, rows };
  }
  return null;
}
const numericCells = (table: Table): number =>
  table.rows.reduce((sum, row) => sum + row.filter(isNumber).length, 0);

interface Proposed {
  readonly column: ColumnName;
  readonly index: number;
  readonly because: string;
}
function propose(table: Table): Proposed[] {
  const taken = new Map<ColumnName, Proposed>();
  for (const exact of [true, false])
    for (const [index, written] of table.names.entries()) {
      if ([...taken.values()].some((one) => one.index === index)) continue;
      const { name } = nameAndUnit(written);
      const found = (Object.entries(WORDS) as [ColumnName, readonly string[]][]).find(
        ([column, words]) =>
          !taken.has(column) && words.some((word) => (exact ? name === word : beginsWith(name, word))),
      );
      if (found === undefined) continue;
      const [column] = found;
      const numbers = table.rows.filter((row) => isNumber(row[index] ?? "")).length;
      if (COLUMNS[column] !== null && numbers < table.rows.length / 2) continue;
      const cells =
        COLUMNS[column] === null
          ? "by its name"
          : `${numbers} of ${table.rows.length} rows hold a number there`;
      taken.set(column, { column, index, because: `column ${index + 1}; ${cells}` });
    }
  const sweep = taken.get("sweep");
  if (
    sweep !== undefined &&
    !taken.has("reading") &&
    (["x", "y", "z"] as const).every((name) => taken.has(name))
  ) {
    // Touches have no sweep: what looks like its name tells their features apart.
    taken.delete("sweep");
    if (!taken.has("feature")) taken.set("feature", { ...sweep, column: "feature" });
  }
  return [...taken.values()].toSorted((a, b) => a.index - b.index);
}
/** `x-ist` begins with `x`, `xylophone` does not. */
const beginsWith = (name: string, word: string): boolean =>
  name.startsWith(word) && !/^[a-zäöü]/.test(name.slice(word.length));

function yamlOf(file: string, table: Table, lines: readonly string[]): string {
  const proposed = propose(table);
  const units = proposed.flatMap(({ column, index }) =>
    COLUMNS[column] === "length" ? [nameAndUnit(table.names[index] ?? "").unit] : [],
  );
  const named =
    units.every((unit) => unit !== null && /^(?:mm|in|um|µm|cm|m|inch)$/i.test(unit)) && units.length > 0;
  const skipped = lines.slice(0, table.line - 1).filter((line) => !line.startsWith("#")).length;
  const columns = proposed.map(
    ({ column, index, because }) => `    ${column}: ${JSON.stringify(table.names[index])} # ${because}`,
  );
  const has = (column: ColumnName): boolean => proposed.some((one) => one.column === column);
  return [
    `# Proposed for ${file.replace(/[\r\n]/g, " ")}, column names in line ${table.line}. Check every line, then put it into the plan.`,
    "logs:",
    ...(skipped > 0 ? [`  skip-rows: ${table.line - 1} # lines above the column names`] : []),
    `  separator: ${{ ",": "comma", ";": "semicolon", "\t": "tab" }[table.separator]} # it divides the column names`,
    ...decimalLines(table),
    named
      ? "  # unit: stands in the column names"
      : "  unit: # mm or in? The log does not say; answer before anything is measured with it",
    "  columns:",
    ...columns,
    ...table.names.flatMap((name, index) =>
      name === "" || proposed.some((one) => one.index === index)
        ? []
        : [`    # ${JSON.stringify(name)} is not used; if it says which rows count, say so under keep`],
    ),
    ...(has("feature") || has("sweep")
      ? []
      : [
          "  # No column names the feature: write # feature: NAME into the log, or name the file after the feature.",
        ]),
    ...(["x", "y", "z"].every((axis) => has(axis as ColumnName))
      ? ["  points: # surface or ball-center? Sizes wait for the answer; with ball-center also tip-diameter"]
      : []),
    ...(has("reading")
      ? [
          "  sign: # toward-plus or toward-minus? Bump the axis towards the work and see which way the needle goes",
        ]
      : []),
    "",
  ].join("\n");
}

function decimalLines(table: Table): string[] {
  if (table.separator === ",") return [];
  const cells = table.rows.flat().filter(isNumber);
  // One to three digits without a leading zero and three behind the mark may be a group of thousands.
  const only = (mark: "," | "."): string | undefined =>
    cells.find((cell) => cell.includes(mark) && !/^[+\-\u2212]?[1-9]\d{0,2}[.,]\d{3}$/.test(cell));
  const [comma, point] = [only(","), only(".")];
  if (comma !== undefined && point === undefined)
    return [`  decimal: comma # ${comma} can be read in no other way`];
  if (point !== undefined && comma === undefined)
    return [`  decimal: point # ${point} can be read in no other way`];
  if (comma === undefined && cells.every((cell) => !/[.,]/.test(cell))) return [];
  return ["  decimal: # comma or point? The numbers can be read both ways"];
}
