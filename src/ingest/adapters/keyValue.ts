import { onceFor } from "../../model/once.ts";
import { COLUMNS, type ColumnName, matchColumns, NO_MAPPING } from "../columns.ts";
import type { Comment } from "../header.ts";
import { isBlank, isComment, trimmed } from "../logText.ts";
import { isRefusal, type Notebook, quotable, type Refusal } from "../notebook.ts";
import type { Adapter, LogSource } from "./contract.ts";
import { type NamedRow, namedTables } from "./namedValues.ts";

/** A comma ends a value when another name follows it; else it is a decimal comma. */
const NAME = "\\p{L}[\\p{L}\\p{N}_-]*";
const pairWith = onceFor(
  (mark: string) =>
    new RegExp(
      `(${NAME})[ \\t]*${mark}[ \\t]*("[^"]*"|(?:[^\\s;=,]|,(?!\\s*${NAME}[ \\t]*${mark}))*)[\\s;,]*`,
      "uy",
    ),
);
/** The number of a touch before its values: `POINT 1 X= ...`, `P1: x=...`, `1) x=...`. Other words could name a feature. */
const LABEL = new RegExp(
  `^(?:(?:point|pt|p|punkt|touch|no|nr)\\.?[ \\t]*)?(\\d+)[ \\t]*[:.)]?[ \\t]+(?=${NAME}[ \\t]*=)`,
  "iu",
);
const LINES_LOOKED_AT = 200;
const RENAMED: Readonly<Record<string, string>> = { pt: "point" };
/** Keys of a line that say something about the log when they are the same in all lines. */
const LOG_KEYS: Readonly<Record<string, string>> = {
  tip: "points",
  points: "points",
  unit: "unit",
  units: "unit",
  state: "state",
  frame: "frame",
  sign: "sign",
  job: "job",
  operation: "operation",
  setup: "setup",
  machine: "machine",
  pallet: "pallet",
  serial: "serial",
  "tip-diameter": "tip-diameter",
};

/** One touch a line, each value with its name, in any order: `pt=1 x=-12.5178 z=-15.7411 unit=in`. */
export const keyValue: Adapter = {
  id: "key-value",
  recognise(source) {
    if (source.survey.heads.length > 0) return null;
    const lines = rowsOf(source, LINES_LOOKED_AT);
    const keyed = lines.filter((row) => row.broken === null && row.values.size >= 2);
    return keyed.length > 0 && keyed.length * 2 >= lines.length
      ? `${keyed.length} of the first ${lines.length} lines hold name=value pairs`
      : null;
  },
  read(source, notes) {
    const rows = rowsOf(source, Number.POSITIVE_INFINITY);
    const shared = logKeys(rows, notes);
    if (isRefusal(shared)) return shared;
    const touches = rows.map((row) => withUnit(row, shared.rowUnit));
    const tables = namedTables([{ title: null, rows: touches }], source.mapping, RENAMED, notes);
    if (isRefusal(tables)) return tables;
    return {
      tables,
      header: shared.header,
      firstRowLine: rows[0]?.line ?? Number.POSITIVE_INFINITY,
      separator: null,
    };
  },
};

function rowsOf({ text, plan, unitWords }: LogSource, most: number): NamedRow[] {
  const rows: NamedRow[] = [];
  for (let line = (plan?.skipRows ?? 0) + 1; line <= text.lineCount && rows.length < most; line++) {
    const whole = text.line(line);
    if (isBlank(whole) || isComment(whole) || unitWords.has(line)) continue;
    const values = pairsOf(trimmed(whole));
    rows.push({
      line,
      values: values ?? new Map(),
      broken: values === null ? "it is not name=value pairs with each name once" : null,
    });
  }
  return rows;
}

function pairsOf(text: string): Map<string, string> | null {
  const pairs = new Map<string, string>();
  // Where no line has an equals sign, a colon stands for it.
  const pair = pairWith(text.includes("=") ? "=" : ":");
  const [label = "", point] = LABEL.exec(text) ?? [];
  if (point !== undefined) pairs.set("point", point);
  for (let at = label.length; at < text.length; at = pair.lastIndex) {
    pair.lastIndex = at;
    const match = pair.exec(text);
    if (match === null) return null;
    const [, name = "", value = ""] = match;
    const key = name.toLowerCase();
    if (pairs.has(key)) return null;
    pairs.set(key, value.replace(/^"(.*)"$/, "$1").replace(/[,;]$/, ""));
  }
  return pairs;
}

interface LogKeys {
  readonly header: readonly Comment[];
  /** Whether each line has a unit of its own, because they differ or some lines have none. */
  readonly rowUnit: boolean;
}

function logKeys(rows: readonly NamedRow[], notes: Notebook): LogKeys | Refusal {
  const header: Comment[] = [];
  let rowUnit = false;
  for (const [theirs, ours] of Object.entries(LOG_KEYS)) {
    const whole = rows.filter((row) => row.broken === null);
    const having = whole.filter((row) => row.values.has(theirs));
    const [first] = having;
    if (first === undefined) continue;
    const value = first.values.get(theirs) ?? "";
    const other = having.find((row) => row.values.get(theirs)?.toLowerCase() !== value.toLowerCase());
    if (ours === "unit" && (other !== undefined || having.length < whole.length)) {
      rowUnit = true;
      continue;
    }
    if (other !== undefined)
      return notes.refuse(
        "key-changes",
        "{key}={other} here but {key}={value} in line {first}; split the log so that each says one thing",
        {
          key: theirs,
          other: quotable(other.values.get(theirs) ?? ""),
          value: quotable(value),
          first: first.line,
        },
        { line: other.line },
      );
    header.push({ line: rows[0]?.line ?? first.line, text: `${ours}: ${value}` });
  }
  return { header, rowUnit };
}

/** A unit that belongs to one line goes to each of its lengths. */
function withUnit(row: NamedRow, rowUnit: boolean): NamedRow {
  const unit = row.values.get("unit") ?? row.values.get("units");
  const values = new Map<string, string>();
  for (const [name, value] of row.values) {
    if (Object.hasOwn(LOG_KEYS, name)) continue;
    const isLength = [...matchColumns([name], NO_MAPPING).found.keys()].some(
      (column: ColumnName) => COLUMNS[column] === "length",
    );
    values.set(name, rowUnit && unit !== undefined && isLength ? `${value} ${unit}` : value);
  }
  return { ...row, values };
}
