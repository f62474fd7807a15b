import type { Plan } from "../model/plan/plan.ts";
import type { RawTable } from "./adapters/contract.ts";
import { headerLine, type Settings } from "./headerSettings.ts";
import { trimmed } from "./logText.ts";
import { type Notebook, quotable, type Refusal, withoutControls } from "./notebook.ts";

/** Says to which feature a row belongs; empty when its cell is. */
export type NameOf = (cells: readonly string[]) => string;

/** The name of each row's feature: from its column, the title above, the header, the plan or the file name. */
export function featureNames(
  table: RawTable,
  context: { readonly name: string; readonly settings: Settings; readonly notes: Notebook },
): NameOf | Refusal {
  const { notes, settings } = context;
  const column = table.columns.found.get(table.kind.nameColumn ?? "feature");
  // A name in so many words in the header goes before a column known by a foreign word.
  const stated = column?.foreign === true && (settings.header.get("feature")?.value ?? "") !== "";
  if (column !== undefined && !stated) return fromColumn(column.index, notes);
  const given = givenName(table, context);
  if (given !== null) {
    if (table.title !== null) tellOtherNames(table, given.name, notes);
    notes.decide("feature", given.name, given.because);
    return () => given.name;
  }
  const word = table.kind.kind === "sweep" ? "sweep" : "feature";
  return notes.refuse(
    "no-feature-name",
    "the rows do not say which feature they belong to; add a column {word}, or write # feature: {example} above the rows",
    { word, example: Object.keys(settings.plan?.features ?? {})[0] ?? "NAME" },
    table.lines[0] === undefined ? {} : { line: table.lines[0] },
  );
}

/** Columns that nobody takes for names of features. */
const NO_NAMES =
  /^(?:point|pt|punkt|no|nr|#|time|zeit|date|datum|comment|kommentar|bemerkung|notiz|remark|typ|type|unit|einheit)\b/i;

/** One title for all rows, while a column that means nothing here says something else in them: perhaps the features. */
function tellOtherNames(table: RawTable, name: string, notes: Notebook): void {
  const { names, found } = table.columns;
  const understood = new Set([...found.values()].map((column) => column.index));
  for (const [index, written] of names.entries()) {
    const label = trimmed(written);
    if (understood.has(index) || label === "" || NO_NAMES.test(label)) continue;
    const words = new Set(table.rows.map((cells) => trimmed(cells[index] ?? "")));
    if (words.size < 2 || [...words].some((word) => !/\p{L}/u.test(word))) continue;
    const [one = "", other = ""] = words;
    notes.notice(
      "warning",
      "names-not-used",
      "all rows were taken for {name}, the title above them, but the column {column} says {one} and {other}; if it names the features, say feature: {column} under logs.columns in the plan",
      {
        name: quotable(name),
        column: quotable(label),
        one: quotable(one),
        other: quotable(other),
      },
      { line: table.lines[0] ?? 0 },
    );
    return;
  }
}

function fromColumn(index: number, notes: Notebook): NameOf {
  const clean = new Map<string, string>();
  return (cells) => {
    const cell = cells[index] ?? "";
    const known = clean.get(cell);
    if (known !== undefined) return known;
    const text = trimmed(cell);
    const name = withoutControls(text).trim();
    if (name !== text)
      notes.notice(
        "warning",
        "control-characters",
        "the name {name} held control characters; each was replaced by a blank",
        { name },
      );
    clean.set(cell, name);
    return name;
  };
}

function givenName(
  table: RawTable,
  { name, settings }: { readonly name: string; readonly settings: Settings },
): { name: string; because: string } | null {
  if (table.title !== null) {
    const text = withoutControls(table.title.text).trim();
    const planned = sameName(text, settings.plan);
    return { name: planned ?? text, because: `title ${text} in line ${table.title.line}` };
  }
  const header = settings.header.get("feature");
  if (header !== undefined && header.value !== "")
    return { name: header.value, because: headerLine(header.line) };
  const stem = name.replace(/\.[^.]*$/, "");
  const inFile = sameName(stem, settings.plan);
  if (inFile !== null) return { name: inFile, because: `the file is named ${name}` };
  const touched = Object.values(settings.plan?.features ?? {}).filter((feature) => feature.fit !== "axis");
  const [only] = touched;
  return only !== undefined && touched.length === 1
    ? { name: only.name, because: "the plan has no other feature" }
    : null;
}

const slug = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "");
function sameName(text: string, plan: Plan | null): string | null {
  const names = Object.keys(plan?.features ?? {});
  return names.find((name) => name === text) ?? names.find((name) => slug(name) === slug(text)) ?? null;
}
