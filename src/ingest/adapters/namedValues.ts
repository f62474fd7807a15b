import {
  type ColumnMatch,
  type ColumnName,
  constantCells,
  type FoundColumn,
  kindOf,
  type Mapping,
  matchColumns,
  withConstants,
} from "../columns.ts";
import { listed, type Notebook, quotable, type Refusal } from "../notebook.ts";
import type { RawTable } from "./contract.ts";

/** A line of values that each carry their own name, in any order. */
export interface NamedRow {
  readonly line: number;
  readonly values: ReadonlyMap<string, string>;
  /** Why the line could not be divided, or null. */
  readonly broken: string | null;
}
export interface NamedBlock {
  readonly title: RawTable["title"];
  readonly rows: readonly NamedRow[];
}
const AXES = ["x", "y", "z"] as const;

/** Tables of lines whose values carry names; `rename` maps names of the shape to ours. */
export function namedTables(
  blocks: readonly NamedBlock[],
  mapping: Mapping,
  rename: Readonly<Record<string, string>>,
  notes: Notebook,
): readonly RawTable[] | Refusal {
  const names = [...new Set(blocks.flatMap((block) => block.rows.flatMap((row) => [...row.values.keys()])))];
  const named = matchColumns(
    names.map((name) => (Object.hasOwn(rename, name) ? (rename[name] ?? name) : name)),
    mapping,
  );
  const { columns: written, missing } = withZeroAxis(named, names.length, mapping);
  const columns = withConstants(written, mapping);
  const kind = kindOf(columns);
  const [first] = blocks.flatMap((block) => block.rows);
  if (kind === null)
    return notes.refuse(
      "column-missing",
      "the values are named {names}, which are not those of a log; expected x, y and z, or sweep and reading with angle, position or x and y; give their names in the plan's logs.columns",
      { names: quotable(listed(names)) },
      first === undefined ? {} : { line: first.line },
    );
  notes.decide("columns", [...named.found.keys()].join(", "), "each value carries its name");
  if (named.unknown.length > 0)
    notes.decide("columns not used", named.unknown.join(", "), "they mean nothing here");
  if (missing !== null) {
    notes.decide(missing, "0", "no line has it");
    notes.notice(
      "warning",
      "axis-not-in-log",
      "no line has {axis}, so it was taken as 0; nothing along {axis} can be said",
      {
        axis: missing,
      },
    );
  }
  return blocks.map((block) => ({
    title: block.title,
    columns,
    constants: constantCells(columns, mapping),
    kind,
    units: new Map(),
    rows: block.rows.map((row) => cellsOf(row, names, missing !== null)),
    lines: block.rows.map((row) => row.line),
    broken: new Map(
      block.rows.flatMap((row, at) => (row.broken === null ? [] : [[at, row.broken] as const])),
    ),
  }));
}

const cellsOf = (row: NamedRow, names: readonly string[], zero: boolean): readonly string[] => [
  ...names.map((name) => row.values.get(name) ?? ""),
  ...(zero ? ["0"] : []),
];

/** A log of one plane, such as X and Z of a ball at several B, leaves out the axis it does not move. */
function withZeroAxis(
  named: ColumnMatch,
  count: number,
  { constants }: Mapping,
): { columns: ColumnMatch; missing: ColumnName | null } {
  const whole = { ...named, cellCount: count };
  const absent = AXES.filter((axis) => !named.found.has(axis) && !constants.has(axis));
  const [missing] = absent;
  if (missing === undefined || absent.length > 1 || named.found.has("reading") || named.found.has("diameter"))
    return { columns: whole, missing: null };
  const column: FoundColumn = { index: count, written: missing, unit: "mm", mapped: false };
  return {
    columns: { ...whole, found: new Map([...named.found, [missing, column]]), cellCount: count + 1 },
    missing,
  };
}
