import type { MeasuredFeature } from "../../model/measurement.ts";
import { type Said, say } from "../../model/say.ts";
import type { RawTable } from "../adapters/contract.ts";
import { closingReading } from "../closingReading.ts";
import { featureNames, type NameOf } from "../featureNames.ts";
import { headerLine } from "../headerSettings.ts";
import { isBlank, trimmed } from "../logText.ts";
import { isRefusal, type Refusal } from "../notebook.ts";
import { type NumberColumn, numberColumn } from "../numberColumn.ts";
import { RepeatedRows } from "../repeatedRows.ts";
import { type Measured, Runs } from "../runs.ts";
import { correctedReading, type ReadingCorrection, sweepPoints } from "../sweepGeometry.ts";
import { type RowShape, type Stations, sweepShape } from "../sweepShape.ts";
import { walkRows } from "../walkRows.ts";
import type { KindContext, KindReader } from "./contract.ts";
import { measuredFeature, walkContext } from "./measuredFeature.ts";

/** Stations and readings of one sweep, growing; a station that a row does not have is NaN. */
export class Stationed {
  readonly position: number[] = [];
  readonly angle: number[] = [];
  readonly x: number[] = [];
  readonly y: number[] = [];
  readonly reading: number[] = [];
  readonly line: number[] = [];
  shape: RowShape | null = null;
}
type Columns = Readonly<Record<"reading", NumberColumn>> &
  Readonly<Record<"position" | "angle" | "x" | "y" | "radius", NumberColumn | null>>;

/** Indicator sweeps: `sweep reading` and where each reading was taken. */
export const sweep: KindReader = {
  kind: "sweep",
  read(raw, context) {
    const runs = new Runs(() => new Stationed(), sameStation);
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
    const features: MeasuredFeature[] = [];
    for (const entry of measured) {
      if (entry.rows.reading.length === 0) continue;
      const feature = featureOf(entry, context);
      if (isRefusal(feature)) return feature;
      features.push(feature);
    }
    if (features.length > 0) tellSign(context);
    return { features, signOffs: [], firstTime };
  },
};

const sameStation = ({ position, angle, x, y }: Stationed, one: number, other: number): boolean =>
  [position, angle, x, y].every((values) => Object.is(values[one], values[other]));

function columnsOf(table: RawTable, context: KindContext): Columns | Refusal {
  const read: Partial<Record<keyof Columns, NumberColumn | null>> = {};
  for (const name of ["reading", "position", "angle", "x", "y", "radius"] as const) {
    const column = numberColumn(table, name, context);
    if (isRefusal(column)) return column;
    read[name] = column;
  }
  const { reading, position = null, angle = null, x = null, y = null, radius = null } = read;
  if (!reading) throw new RangeError("a table of a sweep has no readings");
  return { reading, position, angle, x, y, radius };
}

interface TableReading {
  readonly table: RawTable;
  readonly names: NameOf;
  readonly columns: Columns;
  readonly runs: Runs<Stationed>;
  readonly context: KindContext;
}

function readTable({ table, names, columns, runs, context }: TableReading): void {
  const repeated = new RepeatedRows(table, context.comparesAll);
  const word = (cells: readonly string[], name: "from" | "surface" | "along" | "height"): string => {
    const index = table.columns.found.get(name)?.index;
    return index === undefined ? "" : trimmed(cells[index] ?? "").toLowerCase();
  };
  walkRows(table, walkContext(context), {
    visit(cells, line) {
      const name = names(cells);
      if (name === "") return say("the sweep is not named");
      const rows = runs.at(name, line);
      const trouble = repeated.check(cells, line) ?? takeReading(cells, line, columns, rows);
      rows.shape ??= {
        from: word(cells, "from"),
        surface: word(cells, "surface"),
        along: word(cells, "along"),
        height: word(cells, "height"),
        radiusMm: optional(columns.radius, cells),
      };
      return trouble;
    },
    seen(cells, line) {
      const name = names(cells);
      if (name !== "") runs.at(name, line);
    },
  });
}

function optional(column: NumberColumn | null, cells: readonly string[]): number | null {
  const text = column === null ? "" : (cells[column.index] ?? "");
  if (column === null || isBlank(text)) return null;
  const value = column.read(text);
  return column.trouble ? null : value;
}

function takeReading(cells: readonly string[], line: number, columns: Columns, rows: Stationed): Said | null {
  const { reading } = columns;
  const value = reading.read(cells[reading.index] ?? "");
  if (reading.trouble) return reading.trouble;
  const stations: number[] = [];
  for (const column of [columns.position, columns.angle, columns.x, columns.y]) {
    const text = column === null ? "" : (cells[column.index] ?? "");
    const blank = column === null || isBlank(text);
    const station = blank ? Number.NaN : column.read(text);
    if (!blank && column.trouble) return column.trouble;
    stations.push(station);
  }
  const [position = Number.NaN, angle = Number.NaN, x = Number.NaN, y = Number.NaN] = stations;
  if (Number.isNaN(position) && Number.isNaN(angle) && Number.isNaN(x + y))
    return say("the place of the reading is not given");
  rows.position.push(position);
  rows.angle.push(angle);
  rows.x.push(x);
  rows.y.push(y);
  rows.reading.push(value);
  rows.line.push(line);
  return null;
}

/** Which stations every reading of a sweep has; a question when there are none or several. */
function stationsOf(name: string, rows: Stationed, context: KindContext): Stations | Refusal {
  const whole = (values: readonly number[]): boolean => values.every((value) => !Number.isNaN(value));
  const kinds: Stations[] = [];
  if (whole(rows.position)) kinds.push("position");
  if (whole(rows.angle)) kinds.push("angle");
  if (whole(rows.x) && whole(rows.y)) kinds.push("map");
  const [only] = kinds;
  if (only !== undefined && kinds.length === 1) return only;
  const place = { line: rows.line[0] ?? 0, feature: name };
  return kinds.length === 0
    ? context.notes.refuse(
        "sweep-stations",
        "some readings of {name} have a position and others an angle; give all readings of a sweep the same kind of place",
        { name },
        place,
      )
    : context.notes.refuse(
        "sweep-stations",
        "the readings of {name} have more than one kind of place; leave only position, angle, or x and y in the log",
        { name },
        place,
      );
}

function featureOf(
  { name, rows, closure }: Measured<Stationed>,
  context: KindContext,
): MeasuredFeature | Refusal {
  const { settings, quantities, notes, count } = context;
  const stations = stationsOf(name, rows, context);
  if (isRefusal(stations)) return stations;
  const line = rows.line[0] ?? 0;
  const shape = sweepShape({ name, stations, row: rows.shape, line }, settings, quantities, notes);
  if (isRefusal(shape)) return shape;
  const sagMm = shape.kind === "rim-sweep" ? quantities.sagMm : null;
  const leverAngleRad = quantities.leverAngleRad ?? settings.logs?.leverAngleRad ?? null;
  const correction = { sign: settings.sign, leverAngleRad, sagMm };
  const closing = closingReading(name, stations, rows, closure);
  if (closing !== null) notes.decide(`closure of ${name}`, closing.words, closing.because);
  for (const taken of closing?.lines ?? [])
    count.takeBack(
      taken,
      say("a repeat of an earlier place of {name}: it counts as closure, not as a station", { name }),
    );
  const used = closing?.used ?? rows.reading.length;
  const station = Float64Array.from((stations === "angle" ? rows.angle : rows.position).slice(0, used));
  const corrected = (how: ReadingCorrection): Float64Array =>
    Float64Array.from({ length: used }, (_, at) =>
      correctedReading(rows.reading[at] ?? 0, station[at] ?? 0, shape, how),
    );
  const reading = corrected(correction);
  const places = { station, x: Float64Array.from(rows.x), y: Float64Array.from(rows.y) };
  const drooping = sagMm === null ? reading : corrected({ ...correction, sagMm: null });
  const points = sweepPoints(shape, sagMm, places, drooping);
  const readings = { ...points, line: Int32Array.from(rows.line.slice(0, used)) };
  const scale = correctedReading(1, 0, shape, { ...correction, sagMm: null });
  // An indicator touches the surface itself.
  const feature = measuredFeature(name, readings, context, { points: "surface", radiusMm: null });
  return {
    ...feature,
    instrument: settings.header.has("instrument")
      ? feature.instrument
      : (settings.header.get("indicator")?.value ?? feature.instrument),
    sweep: {
      kind: shape.kind,
      reading,
      ...(stations === "map" ? {} : { station }),
      headerSagMm: sagMm,
      radiusMm: shape.radiusMm,
    },
    ...(closing === null ? {} : { closureMm: closing.difference * scale }),
  };
}

function tellSign({ settings, quantities, notes }: KindContext): void {
  const line = settings.header.get("sign")?.line;
  const declared = line !== undefined ? headerLine(line) : "declared in the plan";
  notes.decide(
    "sign",
    settings.sign,
    settings.signDeclared ? declared : "not stated: plunger or lever pushed in is plus",
  );
  if (!settings.signDeclared)
    notes.notice(
      "note",
      "sign-not-proved",
      "the log does not say which way its readings count; plus was taken as the surface coming towards the indicator. Bump the axis towards the work and see which way the needle goes",
    );
  if (quantities.leverAngleRad !== null) return;
  const planned = settings.logs?.leverAngleRad ?? null;
  if (planned === null)
    notes.decide("lever-angle", "unknown", "readings of a lever that slants are too large, zero stays zero");
  else notes.decide("lever-angle", `${(planned * 180) / Math.PI} deg`, "declared in the plan");
}
