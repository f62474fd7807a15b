import type { MeasuredFeature, Readings } from "../../model/measurement.ts";
import { type Said, say } from "../../model/say.ts";
import type { RawTable } from "../adapters/contract.ts";
import { featureNames, type NameOf } from "../featureNames.ts";
import { featurePlan } from "../headerSettings.ts";
import { isBlank } from "../logText.ts";
import { counted, isRefusal, type Refusal } from "../notebook.ts";
import { type NumberColumn, numberColumn } from "../numberColumn.ts";
import { pointClosureMm } from "../pointClosure.ts";
import { RepeatedRows } from "../repeatedRows.ts";
import { type Measured, Runs } from "../runs.ts";
import { walkRows } from "../walkRows.ts";
import type { KindContext, KindReader } from "./contract.ts";
import { measuredFeature, walkContext } from "./measuredFeature.ts";
import { tellZeroRows } from "./zeroRows.ts";

/** Rows of touches, growing. Optional numbers are NaN where a row has none. */
export class Touches {
  readonly x: number[] = [];
  readonly y: number[] = [];
  readonly z: number[] = [];
  readonly i: number[] = [];
  readonly j: number[] = [];
  readonly k: number[] = [];
  readonly b: number[] = [];
  readonly line: number[] = [];
  temperatureSum = 0;
  temperatures = 0;
}
type Columns = Readonly<Record<"x" | "y" | "z", NumberColumn>> &
  Readonly<Record<"i" | "j" | "k" | "b" | "temperature", NumberColumn | null>>;

/** Probe points: `feature x y z`, with normals, B and temperature where the log has them. */
export const probe: KindReader = {
  kind: "probe",
  read(raw, context) {
    const runs = new Runs(() => new Touches(), nearlySamePlace);
    let firstTime: string | null = null;
    for (const [at, table] of raw.tables.entries()) {
      if (at > 0) runs.nextTable(table.title !== null, context.settings.plan);
      const names = featureNames(table, context);
      if (isRefusal(names)) return names;
      const columns = columnsOf(table, context);
      if (isRefusal(columns)) return columns;
      readTable({ table, names, columns, runs, context });
      const time = table.columns.found.get("time")?.index;
      if (time !== undefined) firstTime ??= table.rows[0]?.[time] ?? null;
    }
    const measured = runs.settle(context.settings.plan, context.notes);
    if (isRefusal(measured)) return measured;
    const features = measured
      .filter(({ rows }) => rows.x.length > 0)
      .map((entry) => featureOf(entry, context));
    return { features, signOffs: [], firstTime };
  },
};

/** A programme that runs again touches what moved a little a little beside the first place. mm. */
const RUN_AGAIN_MM = 0.5;
const nearlySamePlace = ({ x, y, z }: Touches, one: number, other: number): boolean =>
  Math.hypot(
    (x[one] ?? 0) - (x[other] ?? 0),
    (y[one] ?? 0) - (y[other] ?? 0),
    (z[one] ?? 0) - (z[other] ?? 0),
  ) <= RUN_AGAIN_MM;

function columnsOf(table: RawTable, context: KindContext): Columns | Refusal {
  const read: Partial<Record<keyof Columns, NumberColumn | null>> = {};
  for (const name of ["x", "y", "z", "i", "j", "k", "b", "temperature"] as const) {
    const column = numberColumn(table, name, context);
    if (isRefusal(column)) return column;
    read[name] = column;
  }
  const { x, y, z, i, j, k, b, temperature } = read;
  if (!x || !y || !z) throw new RangeError("a table of touches has no x, y and z");
  const normals = i && j && k ? { i, j, k } : { i: null, j: null, k: null };
  return { x, y, z, ...normals, b: b ?? null, temperature: temperature ?? null };
}

interface TableReading {
  readonly table: RawTable;
  readonly names: NameOf;
  readonly columns: Columns;
  readonly runs: Runs<Touches>;
  readonly context: KindContext;
}

function readTable({ table, names, columns, runs, context }: TableReading): void {
  const repeated = new RepeatedRows(table);
  const notName = (cells: readonly string[], line: number): Said | null => {
    const name = names(cells);
    if (name !== "") runs.at(name, line);
    return null;
  };
  walkRows(
    table,
    walkContext(context),
    (cells, line) => {
      const name = names(cells);
      if (name === "") return say("the feature is not named");
      return repeated.check(cells, line) ?? takeTouch(cells, line, columns, runs.at(name, line));
    },
    notName,
  );
  repeated.tell(context.notes);
}

function takeTouch(cells: readonly string[], line: number, columns: Columns, rows: Touches): Said | null {
  const cell = (column: NumberColumn): string => cells[column.index] ?? "";
  const { x, y, z, i, j, k, b } = columns;
  const px = x.read(cell(x));
  if (x.trouble) return x.trouble;
  const py = y.read(cell(y));
  if (y.trouble) return y.trouble;
  const pz = z.read(cell(z));
  if (z.trouble) return z.trouble;
  const extra: number[] = [];
  for (const column of [i, j, k, b]) {
    const text = column === null ? "" : cell(column);
    const value = column === null || isBlank(text) ? Number.NaN : column.read(text);
    if (column?.trouble && !isBlank(text)) return column.trouble;
    extra.push(value);
  }
  rows.x.push(px);
  rows.y.push(py);
  rows.z.push(pz);
  const [ei = Number.NaN, ej = Number.NaN, ek = Number.NaN, eb = Number.NaN] = extra;
  rows.i.push(ei);
  rows.j.push(ej);
  rows.k.push(ek);
  rows.b.push(eb);
  rows.line.push(line);
  takeTemperature(columns.temperature, cells, rows);
  return null;
}

function takeTemperature(column: NumberColumn | null, cells: readonly string[], rows: Touches): void {
  if (column === null) return;
  const value = column.read(cells[column.index] ?? "");
  if (Number.isNaN(value)) return;
  rows.temperatureSum += value;
  rows.temperatures++;
}

function featureOf({ name, rows, closure }: Measured<Touches>, context: KindContext): MeasuredFeature {
  const plan = featurePlan(context.settings.plan, name);
  tellZeroRows(name, rows, context.notes);
  const closureMm = closure === null || closure.x.length === 0 ? null : pointClosureMm(rows, closure, plan);
  if (closure !== null)
    for (const line of closure.line)
      context.count.takeBack(
        line,
        say("a repeat of {name} to see whether anything moved: it counts as closure", { name }),
      );
  const feature = measuredFeature(name, readingsOf(name, rows, context), context);
  const temperatureC = rows.temperatures > 0 ? rows.temperatureSum / rows.temperatures : feature.temperatureC;
  return { ...feature, temperatureC, ...(closureMm === null ? {} : { closureMm }) };
}

function readingsOf(name: string, rows: Touches, context: KindContext): Readings {
  const normals = normalsOf(name, rows, context);
  const withB = rows.b.every((value) => !Number.isNaN(value));
  if (!withB && rows.b.some((value) => !Number.isNaN(value)))
    context.notes.notice(
      "warning",
      "b-incomplete",
      "some rows of {name} have no B, so none is used",
      { name },
      { feature: name },
    );
  return {
    x: Float64Array.from(rows.x),
    y: Float64Array.from(rows.y),
    z: Float64Array.from(rows.z),
    ...normals,
    ...(withB ? { b: Float64Array.from(rows.b) } : {}),
    line: Int32Array.from(rows.line),
  };
}

/** Unit normals when every row has one; else none, and it is said why. */
function normalsOf(name: string, rows: Touches, { notes }: KindContext): Pick<Readings, "i" | "j" | "k"> {
  const count = rows.x.length;
  const given = rows.i.some((value, at) => !Number.isNaN(value + (rows.j[at] ?? 0) + (rows.k[at] ?? 0)));
  if (!given) return {};
  const [i, j, k] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  let odd = 0;
  for (let at = 0; at < count; at++) {
    const [vi = Number.NaN, vj = Number.NaN, vk = Number.NaN] = [rows.i[at], rows.j[at], rows.k[at]];
    const length = Math.hypot(vi, vj, vk);
    if (!(length > 0)) {
      notes.notice(
        "warning",
        "no-normal",
        "the touch of {name} has no direction in i j k, so the directions of this feature are not used",
        { name },
        { line: rows.line[at] ?? 0, feature: name },
      );
      return {};
    }
    if (Math.abs(length - 1) > 0.01) odd++;
    i[at] = vi / length;
    j[at] = vj / length;
    k[at] = vk / length;
  }
  if (odd > 0)
    notes.notice(
      "warning",
      "normal-not-unit",
      "{count} i j k of {name} of another length than 1, which was scaled to 1",
      { count: counted(odd, "direction"), name },
      { feature: name },
    );
  return { i, j, k };
}
