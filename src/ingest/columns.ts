import type { LogKind } from "../model/measurement.ts";
import { type Dimension, unitOf } from "../model/quantity.ts";

/** Columns that mean something, and what their numbers measure; null for text. */
export const COLUMNS = {
  feature: null,
  point: null,
  x: "length",
  y: "length",
  z: "length",
  i: "none",
  j: "none",
  k: "none",
  b: "angle",
  time: null,
  temperature: "temperature",
  note: null,
  sweep: null,
  reading: "length",
  position: "length",
  angle: "angle",
  from: null,
  radius: "length",
  surface: null,
  along: null,
  height: null,
  check: null,
  value: null,
  unit: null,
  by: null,
  diameter: "length",
} as const satisfies Readonly<Record<string, Dimension | "none" | null>>;
export type ColumnName = keyof typeof COLUMNS;
export const isColumnName = (text: string): text is ColumnName => Object.hasOwn(COLUMNS, text);

export interface FoundColumn {
  /** 0-based cell. */
  readonly index: number;
  /** As written in the log, or the position from the plan. */
  readonly written: string;
  readonly unit: string | null;
  readonly mapped: boolean;
  /** Known by a word that is not ours, where no other column could be meant. */
  readonly foreign?: true;
}
export interface ColumnMatch {
  readonly found: ReadonlyMap<ColumnName, FoundColumn>;
  /** Columns that two cells claim. */
  readonly twice: readonly ColumnName[];
  /** The cells of the line that names the columns; empty where there is none. */
  readonly names: readonly string[];
  /** Names as written that mean nothing here. */
  readonly unknown: readonly string[];
  readonly cellCount: number;
}
/** What the plan says about foreign columns. */
export interface Mapping {
  readonly columns: Readonly<Record<string, string | number>>;
  /** Columns that the plan itself fills, with what stands in every row. */
  readonly constants: ReadonlyMap<ColumnName, { readonly text: string; readonly unit: string | null }>;
}
export const NO_MAPPING: Mapping = { columns: {}, constants: new Map() };

/** A longer cell names no column. */
const LONGEST_NAME = 200;

/** Compared without case, blanks and byte order mark. */
const folded = (text: string): string => text.toLowerCase().replace(/[\s\u00a0\u202f\u2009\ufeff]+/g, "");

/** A column name and the unit in it: `x [mm]`, `x (in)`, `x_mm`. */
export function nameAndUnit(text: string): { name: string; unit: string | null } {
  const bracketed = /^(.*?)[\s_]*[[(]([^\])]*)[\])]\s*$/s.exec(text);
  if (bracketed) return { name: folded(bracketed[1] ?? ""), unit: (bracketed[2] ?? "").trim() };
  const suffixed = /^(.+)_([^_]+)$/s.exec(text.trim());
  if (suffixed) return { name: folded(suffixed[1] ?? ""), unit: (suffixed[2] ?? "").trim() };
  return { name: folded(text), unit: null };
}

/** Whether `unit` can be the unit of a column, in its usual spelling; null when it cannot. */
export function columnUnit(name: ColumnName, unit: string): string | null {
  const dimension = COLUMNS[name];
  return dimension === null || dimension === "none" ? null : unitOf(unit, dimension);
}

/** Which cells of a line are names of columns we know, by the plan's mapping first and by our own names else. */
export function matchColumns(cells: readonly string[], { columns, constants }: Mapping): ColumnMatch {
  const found = new Map<ColumnName, FoundColumn>();
  const twice: ColumnName[] = [];
  const unknown: string[] = [];
  const mapped = new Map<string, ColumnName>();
  for (const [name, theirs] of Object.entries(columns))
    if (typeof theirs === "string" && isColumnName(name)) mapped.set(folded(theirs), name);
  const candidates = cells.map((cell) => candidateOf(cell, mapped));
  for (const byPlan of [true, false])
    candidates.forEach((candidate, index) => {
      if (candidate === null || candidate.mapped !== byPlan) return;
      const known = found.get(candidate.name);
      if (known === undefined)
        found.set(candidate.name, {
          index,
          written: cells[index] ?? "",
          unit: candidate.unit,
          mapped: byPlan,
        });
      else if (known.mapped === byPlan) twice.push(candidate.name);
      else unknown.push(cells[index] ?? "");
    });
  const foreign = constants.has("feature") || constants.has("sweep") ? null : foreignFeature(cells, found);
  if (foreign !== null) found.set("feature", foreign);
  candidates.forEach((candidate, index) => {
    const written = cells[index] ?? "";
    if (candidate === null && folded(written) !== "" && index !== foreign?.index) unknown.push(written);
  });
  // Spreadsheets fill up the line with empty cells.
  const cellCount = cells.findLastIndex((cell) => folded(cell) !== "") + 1;
  return { found, twice, unknown, cellCount, names: cells };
}

/** What others call the column of features; from memory, in German and English. */
const FEATURE_WORDS =
  /^(?:feature-?(?:name|id)|(?:mess|geometrie)?elemente?(?:-?name)?|merkmale?(?:s?-?name)?)$/;
/** Names that could as well be those of features. */
const NAME_WORDS = /^(?:name|bezeichnung|label|id|fläche|flaeche|face|bohrung|object|objekt)$/;

/** The one column that others would call that of features, where none is called so. */
function foreignFeature(
  cells: readonly string[],
  found: ReadonlyMap<ColumnName, FoundColumn>,
): FoundColumn | null {
  if (found.size < 2 || found.has("feature") || found.has("sweep") || found.has("check")) return null;
  const words = cells.map((cell) => (cell.length > LONGEST_NAME ? "" : folded(cell).replaceAll("_", "-")));
  if (words.some((word) => NAME_WORDS.test(word))) return null;
  const [index, second] = [...words.keys()].filter((at) => FEATURE_WORDS.test(words[at] ?? ""));
  return index === undefined || second !== undefined
    ? null
    : { index, written: cells[index] ?? "", unit: null, mapped: false, foreign: true };
}

/** The columns with those that the plan fills behind the last cell, where the log has them not. */
export function withConstants(match: ColumnMatch, { constants }: Mapping): ColumnMatch {
  if (constants.size === 0 || match.found.size === 0) return match;
  const found = new Map(match.found);
  let index = match.cellCount;
  for (const [name, { unit }] of constants)
    if (!found.has(name))
      found.set(name, { index: index++, written: `${name} of logs.constant`, unit, mapped: true });
  return { ...match, found };
}
/** What stands behind the cells of each row, in the order of `withConstants`. */
export const constantCells = ({ found, cellCount }: ColumnMatch, { constants }: Mapping): readonly string[] =>
  [...constants].flatMap(([name, { text }]) => ((found.get(name)?.index ?? -1) >= cellCount ? [text] : []));

function candidateOf(
  cell: string,
  mapped: ReadonlyMap<string, ColumnName>,
): { name: ColumnName; unit: string | null; mapped: boolean } | null {
  if (cell.length > LONGEST_NAME) return null;
  const whole = folded(cell);
  const { name, unit } = nameAndUnit(cell);
  const byPlan = mapped.get(whole);
  if (byPlan !== undefined) {
    const itsUnit = unit === null ? null : columnUnit(byPlan, unit);
    return { name: byPlan, unit: itsUnit, mapped: true };
  }
  const target = mapped.get(name) ?? (isColumnName(name) ? name : undefined);
  if (isColumnName(whole)) return { name: whole, unit: null, mapped: false };
  if (target === undefined || unit === null) return null;
  // A bracket that holds no unit of this column makes it another column.
  const itsUnit = unit === "" ? null : columnUnit(target, unit);
  return itsUnit === null && unit !== "" ? null : { name: target, unit: itsUnit, mapped: mapped.has(name) };
}

/** The columns of a line with the plan's positions on top of the names, where both speak of the same kind of log. */
export function withPositions(named: ColumnMatch, mapping: Mapping): ColumnMatch {
  const positioned = positionedColumns(mapping);
  if (positioned === null || named.found.size === 0 || positioned.cellCount > named.cellCount) return named;
  const taken = new Set([...positioned.found.values()].map((column) => column.index));
  const kept = [...named.found].filter(
    ([name, { index }]) => !taken.has(index) && !positioned.found.has(name),
  );
  const placed = [...positioned.found].map(([name, column]): [ColumnName, FoundColumn] => {
    const unit = [...named.found.values()].find((other) => other.index === column.index)?.unit ?? null;
    const fits = unit !== null && columnUnit(name, unit) !== null;
    return [name, { ...column, unit: fits ? unit : null }];
  });
  const whole = { ...named, found: new Map([...kept, ...placed]) };
  const [before, after] = [kindOf(named), kindOf(whole)];
  return after !== null && (before === null || before.kind === after.kind) ? whole : named;
}

/** Columns at the 1-based positions of the plan's mapping; null when it names no positions. */
export function positionedColumns(mapping: Mapping): ColumnMatch | null {
  const found = new Map<ColumnName, FoundColumn>();
  let cellCount = 0;
  for (const [name, position] of Object.entries(mapping.columns)) {
    if (typeof position !== "number" || !isColumnName(name)) continue;
    found.set(name, { index: position - 1, written: `column ${position}`, unit: null, mapped: true });
    cellCount = Math.max(cellCount, position);
  }
  return found.size === 0 ? null : { found, twice: [], unknown: [], cellCount, names: [] };
}

interface KindColumns {
  readonly kind: LogKind;
  /** Column that names the feature; a log may give the name elsewhere. */
  readonly names: readonly ColumnName[];
  readonly body: readonly (readonly ColumnName[])[];
}
/** In the order in which they are tried: the most special first. */
const KINDS: readonly KindColumns[] = [
  { kind: "sign-offs", names: [], body: [["check", "value"]] },
  {
    kind: "sweep",
    names: ["sweep", "feature"],
    body: [
      ["reading", "position"],
      ["reading", "angle"],
      ["reading", "x", "y"],
    ],
  },
  { kind: "results", names: ["feature"], body: [["diameter", "x", "y"]] },
  { kind: "probe", names: ["feature"], body: [["x", "y", "z"]] },
];

export interface KindOfColumns {
  readonly kind: LogKind;
  readonly nameColumn: ColumnName | null;
  /** Whether each row says which feature it belongs to. */
  readonly named: boolean;
}
/** Which kind of log has these columns; null when none is complete. */
export function kindOf(match: ColumnMatch): KindOfColumns | null {
  const has = (name: ColumnName): boolean => match.found.has(name);
  const whole = KINDS.filter((kind) => kind.body.some((body) => body.every(has))).map((kind) => {
    const nameColumn = kind.names.find(has) ?? null;
    return { kind: kind.kind, nameColumn, named: nameColumn !== null || kind.names.length === 0 };
  });
  return whole.find((kind) => kind.named) ?? whole[0] ?? null;
}

/** What is missing for the kind that comes nearest, in words. */
export function missingColumns(match: ColumnMatch): readonly ColumnName[] {
  // A log of touches that lacks a column is likelier than a table of results that does.
  const likely = KINDS.filter((kind) => kind.kind !== "results" || match.found.has("diameter"));
  const options = likely.flatMap((kind) =>
    kind.body.map((body) => ({
      hits: [...body, ...kind.names.slice(0, 1)].filter((name) => match.found.has(name)).length,
      missing: body.filter((name) => !match.found.has(name)),
    })),
  );
  options.sort((one, other) => other.hits - one.hits || one.missing.length - other.missing.length);
  return options[0]?.missing ?? [];
}
