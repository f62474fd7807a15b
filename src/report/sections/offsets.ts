import type { AdviceValue, ReportAdvice } from "../../model/setupReport.ts";
import { type Quantity, quantity } from "../format.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section, View } from "./contract.ts";
import { adviceWord, alignColumns, namesOf, quantityView } from "./shared.ts";

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
  const { of } = page.texts.offsets;
  return [
    {
      caption: page.text(of, { kind: adviceWord(advice.kind, page), of: namesOf(advice.of, page) }),
      rows: ready,
      proof: advice.expect === null ? null : page.say(advice.expect),
    },
  ];
}

/** An advice that carries `change` for axes speaks of stored numbers; `rotary` is one for the rotary axis. */
function rowsOf({ values }: ReportAdvice, page: PageContext): readonly Row[] {
  const change = axesOf(values.change);
  const fresh = axesOf(values.new);
  const old = axesOf(values.old);
  const rows = Object.keys({ ...change, ...fresh }).map((axis) => ({
    axis: axis.toUpperCase(),
    old: length(old[axis], page),
    change: length(change[axis], page, true),
    new: length(fresh[axis] ?? numberAt(values, axis), page),
  }));
  const rotary = values.rotary;
  if (typeof rotary !== "number") return rows;
  const turn = quantity(rotary, "deg", page.style, { signed: true });
  return [...rows, { axis: "B", old: null, change: turn, new: null }];
}

function axesOf(value: AdviceValue | undefined): Readonly<Record<string, number>> {
  if (value === null || typeof value !== "object" || Array.isArray(value)) return {};
  return Object.fromEntries(
    Object.entries(value).filter(
      (entry): entry is [string, number] => typeof entry[1] === "number" && /^[xyzb]$/.test(entry[0]),
    ),
  );
}

function numberAt(values: ReportAdvice["values"], axis: string): number | undefined {
  const value = values[axis];
  return typeof value === "number" ? value : undefined;
}

const length = (value: number | undefined, page: PageContext, signed = false): Quantity | null =>
  value === undefined ? null : quantity(value, "mm", page.style, { signed });
