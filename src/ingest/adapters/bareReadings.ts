import type { OrderedReading } from "../../model/plan/plan.ts";
import {
  type ColumnMatch,
  type ColumnName,
  type FoundColumn,
  kindOf,
  matchColumns,
  NO_MAPPING,
} from "../columns.ts";
import { isBlank, isComment, trimmed } from "../logText.ts";
import { markless } from "../markless.ts";
import { counted, type Notebook, quotable, type Refusal } from "../notebook.ts";
import { readNumber } from "../readNumber.ts";
import type { Adapter, LogSource, RawLog } from "./contract.ts";

const LINES_LOOKED_AT = 200;

/** An indicator that types: one number a line and nothing else. The plan's `logs.order` says where each belongs. */
export const bareReadings: Adapter = {
  id: "bare-readings",
  recognise(source) {
    if (source.survey.heads.length > 0 || source.survey.nearest !== null) return null;
    const lines = linesOf(source, LINES_LOOKED_AT);
    const numbers = lines.filter(({ text }) => isReading(text));
    const divided = lines.some(({ text }) => !isReading(text) && /[^\s,;][,;\t]\s*[^\s,;]/.test(text));
    return !divided && numbers.length > 0 && numbers.length * 2 >= lines.length
      ? `${numbers.length} of the first ${lines.length} lines hold one number and nothing else`
      : null;
  },
  read(source, notes) {
    const all = linesOf(source, Number.POSITIVE_INFINITY);
    const head = matchColumns([all[0]?.text ?? ""], NO_MAPPING).found.get("reading");
    const lines = head === undefined ? all : all.slice(1);
    const order = source.plan?.order ?? [];
    const numbers = lines.filter(({ text }) => isReading(text));
    if (order.length === 0)
      return notes.refuse(
        "no-places",
        "the log holds {count} and nothing that says where each was taken; give the places in the plan's logs.order, or add columns such as sweep,angle,reading",
        { count: counted(numbers.length, "reading") },
        lines[0] === undefined ? {} : { line: lines[0].line },
      );
    const extra = numbers.length === order.length;
    if (!extra && lines.length !== order.length)
      return notes.refuse(
        "readings-and-places",
        "the log holds {count} but the plan's logs.order names {places}; take the readings again or correct the order",
        { count: counted(numbers.length, "reading"), places: counted(order.length, "place") },
      );
    return rawLog(
      extra ? numbers : lines,
      extra ? lines.filter(({ text }) => !isReading(text)) : [],
      order,
      head,
      notes,
    );
  },
};

interface Line {
  readonly line: number;
  readonly text: string;
}

function linesOf({ text, plan, unitWords }: LogSource, most: number): Line[] {
  const found: Line[] = [];
  for (let line = (plan?.skipRows ?? 0) + 1; line <= text.lineCount && found.length < most; line++) {
    const whole = text.line(line);
    if (isBlank(whole) || isComment(whole) || unitWords.has(line)) continue;
    // The key that ends a reading may be a tab or a separator.
    found.push({ line, text: trimmed(trimmed(whole).replace(/[,;\t]+$/, "")) });
  }
  return found;
}

const isReading = (text: string): boolean => readNumber(text, ".").ok || readNumber(text, ",").ok;

const NAMES: readonly ColumnName[] = ["sweep", "position", "angle", "x", "y", "reading"];

function rawLog(
  readings: readonly Line[],
  extra: readonly Line[],
  order: readonly OrderedReading[],
  head: FoundColumn | undefined,
  notes: Notebook,
): RawLog | Refusal {
  const columns = columnsFor(order, head);
  const kind = kindOf(columns);
  if (kind === null)
    return notes.refuse(
      "no-places",
      "the plan's logs.order gives no places; each entry needs sweep and position, angle, or x and y",
    );
  notes.decide("places", `${order.length} in order`, "declared in the plan as logs.order");
  for (const { line, text } of extra)
    notes.notice(
      "warning",
      "line-between-readings",
      "{text} is no reading; as the other lines are as many as the places of the plan, it takes none",
      { text: quotable(text) },
      { line },
    );
  const rows = readings.map(({ line, text }, at) => ({
    line,
    cells: cellsFor(order[at], text),
    broken: false,
  }));
  const left = extra.map(({ line, text }) => ({ line, cells: cellsFor(undefined, text), broken: true }));
  const table = [...rows, ...left].sort((one, other) => one.line - other.line);
  return {
    tables: [
      {
        title: null,
        columns,
        kind,
        units: new Map(),
        rows: table.map((row) => row.cells),
        lines: table.map((row) => row.line),
        broken: new Map(table.flatMap((row, at) => (row.broken ? [[at, "it is no reading"] as const] : []))),
      },
    ],
    firstRowLine: table[0]?.line ?? Number.POSITIVE_INFINITY,
    separator: null,
  };
}

/** Places come from the plan in mm and radians. */
function columnsFor(order: readonly OrderedReading[], head: FoundColumn | undefined): ColumnMatch {
  const used = (name: ColumnName): boolean => {
    if (name === "position") return order.some((entry) => entry.position !== null);
    if (name === "angle") return order.some((entry) => entry.angle !== null);
    if (name === "x") return order.some((entry) => entry.x !== null);
    if (name === "y") return order.some((entry) => entry.y !== null);
    return true;
  };
  const unitOf = (name: ColumnName): string | null =>
    name === "sweep" ? null : name === "reading" ? (head?.unit ?? null) : name === "angle" ? "rad" : "mm";
  const found = NAMES.flatMap((name, index): [ColumnName, FoundColumn][] =>
    used(name) ? [[name, { index, written: `${name} of logs.order`, unit: unitOf(name), mapped: true }]] : [],
  );
  return { found: new Map(found), twice: [], unknown: [], cellCount: NAMES.length, names: [] };
}

const cellsFor = (place: OrderedReading | undefined, reading: string): readonly string[] => [
  place?.sweep ?? "",
  markless(place?.position ?? null),
  markless(place?.angle ?? null),
  markless(place?.x ?? null),
  markless(place?.y ?? null),
  reading,
];
