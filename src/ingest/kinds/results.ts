import type { MeasuredFeature } from "../../model/measurement.ts";
import { type Said, say } from "../../model/say.ts";
import type { RawTable } from "../adapters/contract.ts";
import { featureNames } from "../featureNames.ts";
import { isBlank } from "../logText.ts";
import { isRefusal, type Refusal } from "../notebook.ts";
import { type NumberColumn, numberColumn } from "../numberColumn.ts";
import { Runs } from "../runs.ts";
import { walkRows } from "../walkRows.ts";
import type { KindContext, KindReader } from "./contract.ts";
import { measuredFeature, walkContext } from "./measuredFeature.ts";

/** Results of one name. */
class Results {
  readonly result: Result[] = [];
  readonly line: number[] = [];
}
interface Result {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly diameter: number | null;
  readonly line: number;
}

/** Diameters and centres without touches: usable for offsets, never for form. */
export const results: KindReader = {
  kind: "results",
  read(raw, context) {
    const runs = new Runs(
      () => new Results(),
      () => false,
    );
    for (const table of raw.tables) {
      const trouble = readTable(table, runs, context);
      if (trouble !== null) return trouble;
    }
    const measured = runs.settle(context.settings.plan, context.notes);
    if (isRefusal(measured)) return measured;
    const features: MeasuredFeature[] = [];
    for (const { name, rows } of measured) {
      const [first, second] = rows.result;
      if (first === undefined) continue;
      if (second !== undefined)
        return context.notes.refuse(
          "feature-twice",
          "{name} has two results in one log; keep the one that counts or give them names of their own",
          { name },
          { line: second.line, feature: name },
        );
      features.push(featureOf(name, first, context));
    }
    if (features.length > 0)
      context.notes.notice(
        "note",
        "results-only",
        "the log holds results without their touches, which serve for places and offsets and say nothing about form",
      );
    return { features, signOffs: [], firstTime: null };
  },
};

function readTable(table: RawTable, runs: Runs<Results>, context: KindContext): Refusal | null {
  const names = featureNames(table, context);
  if (isRefusal(names)) return names;
  const columns: NumberColumn[] = [];
  for (const name of ["x", "y", "z", "diameter"] as const) {
    const column = numberColumn(table, name, context);
    if (isRefusal(column)) return column;
    if (column !== null) columns.push(column);
  }
  const visit = (cells: readonly string[], line: number): Said | null => {
    const name = names(cells);
    if (name === "") return say("the feature is not named");
    const result = resultOf(cells, line, columns);
    if ("template" in result) return result;
    const rows = runs.at(name, line);
    rows.result.push(result);
    rows.line.push(line);
    return null;
  };
  walkRows(table, walkContext(context), { visit });
  if (!table.columns.found.has("z")) context.notes.decide("z", "0", "the results have no z");
  return null;
}

function resultOf(cells: readonly string[], line: number, columns: readonly NumberColumn[]): Result | Said {
  const values: Partial<Record<string, number>> = {};
  for (const column of columns) {
    const cell = cells[column.index] ?? "";
    // A centre may come without a diameter, such as that of a web or a corner.
    if (column.name === "diameter" && isBlank(cell)) continue;
    const value = column.read(cell);
    if (column.trouble) return column.trouble;
    values[column.name] = value;
  }
  return {
    x: values.x ?? 0,
    y: values.y ?? 0,
    z: values.z ?? 0,
    diameter: values.diameter ?? null,
    line,
  };
}

function featureOf(name: string, result: Result, context: KindContext): MeasuredFeature {
  const readings = {
    x: Float64Array.of(result.x),
    y: Float64Array.of(result.y),
    z: Float64Array.of(result.z),
    line: Int32Array.of(result.line),
  };
  return { ...measuredFeature(name, readings, context), result: { diameterMm: result.diameter } };
}
