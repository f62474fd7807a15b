import type { MeasuredFeature, Readings } from "../../model/measurement.ts";
import { type Said, say } from "../../model/say.ts";
import type { RawTable } from "../adapters/contract.ts";
import { COLUMNS } from "../columns.ts";
import { featureNames, type NameOf } from "../featureNames.ts";
import { Growing } from "../growing.ts";
import { featurePlan } from "../headerSettings.ts";
import { isBlank } from "../logText.ts";
import { counted, isRefusal, type Notebook, quotable, type Refusal } from "../notebook.ts";
import { type NumberColumn, numberColumn } from "../numberColumn.ts";
import { pointClosureMm } from "../pointClosure.ts";
import { RepeatedRows } from "../repeatedRows.ts";
import { type Measured, Runs } from "../runs.ts";
import { type RowVisitor, walkRows } from "../walkRows.ts";
import type { KindContext, KindReader } from "./contract.ts";
import { measuredFeature, walkContext } from "./measuredFeature.ts";
import { tellZeroRows } from "./zeroRows.ts";

const EXTRAS = ["i", "j", "k", "b"] as const;
type Extra = (typeof EXTRAS)[number];

/** Rows of touches, growing. Optional numbers are NaN where a row has none; a column that no row has is empty. */
export class Touches {
  readonly x = Growing.numbers();
  readonly y = Growing.numbers();
  readonly z = Growing.numbers();
  readonly line = Growing.lines();
  readonly extras: Readonly<Record<Extra, Growing>> = {
    i: Growing.numbers(),
    j: Growing.numbers(),
    k: Growing.numbers(),
    b: Growing.numbers(),
  };
  temperatureSum = 0;
  temperatures = 0;

  add(x: number, y: number, z: number, line: number): void {
    this.x.push(x);
    this.y.push(y);
    this.z.push(z);
    this.line.push(line);
  }
  /** A further number of the row that was added last. */
  addExtra(name: Extra, value: number): void {
    this.extras[name].fill(Number.NaN, this.x.length - 1);
    this.extras[name].push(value);
  }
  expect(count: number): void {
    for (const column of [this.x, this.y, this.z, this.line]) column.expect(count);
  }
  addTemperature(value: number): void {
    this.temperatureSum += value;
    this.temperatures++;
  }
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
  Math.hypot(x.at(one) - x.at(other), y.at(one) - y.at(other), z.at(one) - z.at(other)) <= RUN_AGAIN_MM;

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
  const repeated = new RepeatedRows(table, context.comparesAll);
  walkRows(table, walkContext(context), {
    visit(cells, line) {
      const name = names(cells);
      if (name === "") return say("the feature is not named");
      return repeated.check(cells, line) ?? takeTouch(cells, line, columns, runs.at(name, line));
    },
    seen(cells, line) {
      const name = names(cells);
      if (name !== "") runs.at(name, line);
    },
    plain: plainTouches({ table, names, columns, runs, context }),
    before: (cells, line) => repeated.remember(cells, line),
    expect: (count) => runs.latest?.expect(count),
  });
  repeated.tell(context.notes);
}

function takeTouch(cells: readonly string[], line: number, columns: Columns, rows: Touches): Said | null {
  const cell = (column: NumberColumn): string => cells[column.index] ?? "";
  const { x, y, z, temperature } = columns;
  const px = x.read(cell(x));
  if (x.trouble) return x.trouble;
  const py = y.read(cell(y));
  if (y.trouble) return y.trouble;
  const pz = z.read(cell(z));
  if (z.trouble) return z.trouble;
  const extra: [Extra, number][] = [];
  for (const name of EXTRAS) {
    const column = columns[name];
    if (column === null || isBlank(cell(column))) continue;
    extra.push([name, column.read(cell(column))]);
    if (column.trouble) return column.trouble;
  }
  rows.add(px, py, pz, line);
  for (const [name, value] of extra) rows.addExtra(name, value);
  const value = temperature === null ? Number.NaN : temperature.read(cell(temperature));
  if (!Number.isNaN(value)) rows.addTemperature(value);
  return null;
}

/** The same for rows that hold plain numbers and a name. */
function plainTouches({ table, names, columns, runs }: TableReading): NonNullable<RowVisitor["plain"]> {
  const order = [...table.columns.found]
    .filter(([name]) => COLUMNS[name] !== null)
    .map(([, { index }]) => index)
    .sort((one, other) => one - other);
  const width = order.length;
  const place = (column: NumberColumn): number => order.indexOf(column.index);
  const { x, y, z, temperature } = columns;
  const [atX, atY, atZ] = [place(x), place(y), place(z)];
  const extras = EXTRAS.flatMap((name) => {
    const column = columns[name];
    return column === null ? [] : [{ name, column, at: place(column) }];
  });
  const nameIndex = table.columns.found.get(table.kind.nameColumn ?? "feature")?.index;
  let [written, name] = ["", nameIndex === undefined ? names([]) : ""];
  return (numbers, count, line, cell) => {
    if (nameIndex !== undefined && cell !== written) {
      const cells: string[] = [];
      cells[nameIndex] = cell;
      [written, name] = [cell, names(cells)];
    }
    const rows = runs.at(name, line);
    rows.x.pushEach(numbers, atX, width, count, x.inside);
    rows.y.pushEach(numbers, atY, width, count, y.inside);
    rows.z.pushEach(numbers, atZ, width, count, z.inside);
    rows.line.pushRun(line, count);
    for (const { name, column, at } of extras) {
      rows.extras[name].fill(Number.NaN, rows.x.length - count);
      rows.extras[name].pushEach(numbers, at, width, count, column.inside);
    }
    if (temperature === null) return;
    for (let row = 0; row < count; row++) {
      const value = numbers[row * width + place(temperature)]!;
      rows.addTemperature(temperature.inside === null ? value : temperature.inside(value));
    }
  };
}

function featureOf({ name, rows, closure }: Measured<Touches>, context: KindContext): MeasuredFeature {
  const plan = featurePlan(context.settings.plan, name);
  const places = placesOf(rows);
  tellZeroRows(name, places, (at) => rows.line.at(at), context.notes);
  tellStartingOver(name, rows, context.notes);
  const closureMm =
    closure === null || closure.x.length === 0 ? null : pointClosureMm(places, placesOf(closure), plan);
  if (closure !== null)
    for (const line of closure.line.values())
      context.count.takeBack(
        line,
        say("a repeat of {name} to see whether anything moved: it counts as closure", { name }),
      );
  const feature = measuredFeature(name, readingsOf(name, rows, context), context);
  const temperatureC = rows.temperatures > 0 ? rows.temperatureSum / rows.temperatures : feature.temperatureC;
  return { ...feature, temperatureC, ...(closureMm === null ? {} : { closureMm }) };
}

/** Touches that come again in the same order from the first place on: a programme that ran twice into one log. */
function tellStartingOver(name: string, rows: Touches, notes: Notebook): void {
  const x = rows.x.values();
  const near = (one: number, other: number): boolean =>
    Math.abs((x[one] ?? 0) - (x[other] ?? 0)) <= RUN_AGAIN_MM && nearlySamePlace(rows, one, other);
  if (near(0, 1) || near(1, 2)) return;
  for (let at = 3; at + 2 < rows.x.length; at++) {
    if (!near(0, at) || !near(1, at + 1) || !near(2, at + 2)) continue;
    notes.notice(
      "warning",
      "starts-over",
      "from here on the places of {name} come again in the order from line {first} on: all rows count; if something was moved between, keep the rows of one run, or say closure: {name} in the plan and name the later rows {name}-closure",
      { name: quotable(name), first: rows.line.at(0) },
      { line: rows.line.at(at), feature: name },
    );
    return;
  }
}

const placesOf = ({ x, y, z }: Touches) => ({ x: x.values(), y: y.values(), z: z.values() });

function readingsOf(name: string, rows: Touches, context: KindContext): Readings {
  const normals = normalsOf(name, rows, context);
  const b = rows.extras.b;
  const withB = b.length === rows.x.length && b.values().every((value) => !Number.isNaN(value));
  if (!withB && b.length > 0)
    context.notes.notice(
      "warning",
      "b-incomplete",
      "some rows of {name} have no B, so none is used",
      { name },
      { feature: name },
    );
  return {
    ...placesOf(rows),
    ...normals,
    ...(withB ? { b: b.values() } : {}),
    line: rows.line.values(),
  };
}

/** Unit normals when every row has one; else none, and it is said why. */
function normalsOf(name: string, rows: Touches, { notes }: KindContext): Pick<Readings, "i" | "j" | "k"> {
  const count = rows.x.length;
  const { extras } = rows;
  if (!anyWhole(rows)) return {};
  const [i, j, k] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  let odd = 0;
  for (let at = 0; at < count; at++) {
    const [vi, vj, vk] = [extras.i.at(at), extras.j.at(at), extras.k.at(at)];
    const length = Math.hypot(vi, vj, vk);
    if (!(length > 0)) {
      notes.notice(
        "warning",
        "no-normal",
        "the touch of {name} has no direction in i j k, so the directions of this feature are not used",
        { name },
        { line: rows.line.at(at), feature: name },
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

function anyWhole({ extras: { i, j, k } }: Touches): boolean {
  const most = Math.min(i.length, j.length, k.length);
  for (let at = 0; at < most; at++) if (!Number.isNaN(i.at(at) + j.at(at) + k.at(at))) return true;
  return false;
}
