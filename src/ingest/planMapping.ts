import type { LogsPlan } from "../model/plan/plan.ts";
import { readQuantity } from "../model/quantity.ts";
import type { RawLog, RawTable } from "./adapters/contract.ts";
import { COLUMNS, type ColumnName, isColumnName, type Mapping, NO_MAPPING } from "./columns.ts";
import { trimmed } from "./logText.ts";
import { markless } from "./markless.ts";
import { counted, listed, type Notebook, quotable, type Refusal } from "./notebook.ts";
import { PLAIN_NUMBER } from "./readNumber.ts";

const INSIDE = { length: "mm", angle: "rad", temperature: "C", none: null } as const;

/** The plan's mapping of columns, or why a constant of it cannot be one. */
export function mappingOf(plan: LogsPlan | null, notes: Notebook): Mapping | Refusal {
  if (plan === null) return NO_MAPPING;
  const constants = new Map<ColumnName, { text: string; unit: string | null }>();
  for (const [name, text] of Object.entries(plan.constant)) {
    const wrong = (because: string): Refusal =>
      notes.refuse("constant-wrong", "logs.constant in the plan says {name}: {text}, but {because}", {
        name: quotable(name),
        text: quotable(text),
        because,
      });
    if (!isColumnName(name)) return wrong(`this is none of the columns ${listed(Object.keys(COLUMNS))}`);
    const constant = constantOf(name, text);
    if ("because" in constant) return wrong(constant.because);
    constants.set(name, constant);
    notes.decide(name, text, "declared in the plan as logs.constant, where the log has no such column");
  }
  return { columns: plan.columns, constants };
}

function constantOf(
  name: ColumnName,
  text: string,
): { text: string; unit: string | null } | { because: string } {
  const dimension = COLUMNS[name];
  if (dimension === null) return { text, unit: null };
  if (dimension === "none")
    return PLAIN_NUMBER.test(text)
      ? { text: markless(Number(text)), unit: null }
      : { because: "it is not a number" };
  const read = readQuantity(text, dimension);
  return read.ok ? { text: markless(read.value), unit: INSIDE[dimension] } : { because: read.reason };
}

/** Only the rows that say in a column what the plan asks for; the others are none of this log. */
export function keepRows(raw: RawLog, plan: LogsPlan | null, notes: Notebook): RawLog | Refusal {
  let kept = raw;
  for (const [column, values] of Object.entries(plan?.keep ?? {})) {
    const tables: RawTable[] = [];
    for (const table of kept.tables) {
      const index = indexOf(column, table);
      if (index === null)
        return notes.refuse(
          "keep-no-column",
          "logs.keep in the plan asks for rows by their column {column}, and the log has none of that name; its columns are {names}",
          { column: quotable(column), names: listed(table.columns.names.map(trimmed).map(quotable)) },
        );
      tables.push(
        onlyRows(table, (row) => values.some((value) => same(value, table.rows[row]?.[index] ?? ""))),
      );
    }
    const rows = (log: RawLog): number => log.tables.reduce((sum, table) => sum + table.rows.length, 0);
    const passed = rows(kept) - rows({ ...kept, tables });
    notes.decide(
      "rows kept",
      `${column}: ${values.join(" or ")}`,
      "declared in the plan as logs.keep; {count} with something else there",
      { count: counted(passed, "row") },
    );
    kept = { ...kept, tables };
  }
  return kept;
}

const folded = (text: string): string => trimmed(text).toLowerCase();
const same = (wanted: string, cell: string): boolean => folded(wanted) === folded(cell);

function indexOf(column: string, { columns }: RawTable): number | null {
  const named = columns.names.findIndex((name) => same(column, name));
  if (named >= 0) return named;
  const ours = isColumnName(column) ? columns.found.get(column)?.index : undefined;
  if (ours !== undefined) return ours;
  const position = /^\d+$/.test(column) ? Number(column) : 0;
  return position >= 1 && position <= columns.cellCount ? position - 1 : null;
}

/** A table with some of its rows. */
export function onlyRows(table: RawTable, keeps: (row: number) => boolean): RawTable {
  const kept = table.rows.flatMap((_, row) => (keeps(row) ? [row] : []));
  return {
    ...table,
    rows: kept.map((row) => table.rows[row] ?? []),
    lines: kept.map((row) => table.lines[row] ?? 0),
    broken: new Map(
      kept.flatMap((row, at) => {
        const reason = table.broken.get(row);
        return reason === undefined ? [] : [[at, reason] as const];
      }),
    ),
  };
}
