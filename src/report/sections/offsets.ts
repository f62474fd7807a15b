import { type AdviceValue, isOutdated, type ReportAdvice } from "../../model/setupReport.ts";
import { type Quantity, quantity } from "../format.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section, View } from "./contract.ts";
import { adviceWord, alignColumns, movedName, namesOf, quantityView } from "./shared.ts";

type Row = {
  readonly axis: string;
  readonly old: Quantity | null;
  readonly change: Quantity | null;
  readonly new: Quantity | null;
};

/** Numbers that go into the control: old, change, new for each axis, with the reading that proves them. */
export const offsets: Section = {
  name: "offsets",
  heading: (page) => page.texts.offsets.heading,
  view: (page) => {
    const tables = page.report.advice
      .filter((advice) => advice.status === "advised")
      .flatMap((advice) => tableOf(advice, page));
    return tables.length === 0 ? null : { tables, text: page.texts.offsets };
  },
};

function tableOf(advice: ReportAdvice, page: PageContext): readonly { [key: string]: View }[] {
  const rows = rowsOf(advice, page);
  if (rows.length === 0) return [];
  const ready = alignColumns(rows, ["old", "change", "new"]).map((row) => ({
    axis: row.axis,
    old: quantityView(row.old),
    change: quantityView(row.change),
    new: quantityView(row.new),
  }));
  const outdated = isOutdated(advice) && page.report.advice.some(({ shifts }) => shifts === true);
  const registers = [...new Set(advice.moves.map((move) => movedName(advice, move, page)))].join(", ");
  return [
    {
      after: outdated ? page.texts.offsets.after : null,
      kind: adviceWord(advice.kind, page),
      of: namesOf(advice.of, page),
      registers: registers === "" ? null : registers,
      rows: ready,
      proof: advice.expect === null ? null : page.say(advice.expect),
    },
  ];
}

/** An advice with `change` speaks of stored numbers, whose new ones stand in `new` or under their axes; a move of B adds to B. */
function rowsOf({ values, moves }: ReportAdvice, page: PageContext): readonly Row[] {
  const turns = moves
    .filter((move) => move.at === "B" && move.unit === "deg")
    .map((move) => ({
      axis: "B",
      old: null,
      change: quantity(move.amount, "deg", page.style, { signed: true }),
      new: null,
    }));
  if (values.change === undefined) return turns;
  const change = axesOf(values.change);
  const fresh = axesOf(values.new ?? values);
  const stored = Object.keys({ ...change, ...fresh }).map((axis) => {
    const [by, to] = [change[axis], fresh[axis]];
    // The record keeps the new number and the change: together they say what the old one was.
    const from = by === undefined || to === undefined ? undefined : to - by;
    return {
      axis: axis.toUpperCase(),
      old: length(from, page),
      change: length(by, page, true),
      new: length(to, page),
    };
  });
  return [...stored, ...turns];
}

function axesOf(value: AdviceValue | undefined): Readonly<Record<string, number>> {
  if (value === null || typeof value !== "object" || Array.isArray(value)) return {};
  return Object.fromEntries(
    Object.entries(value).filter(
      (entry): entry is [string, number] => typeof entry[1] === "number" && /^[xyzb]$/.test(entry[0]),
    ),
  );
}

const length = (value: number | undefined, page: PageContext, signed = false): Quantity | null =>
  value === undefined ? null : quantity(value, "mm", page.style, { signed });
