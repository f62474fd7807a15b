import type {
  ExcludedRow,
  MeasuredFeature,
  MeasurementSet,
  Readings,
  Sweep,
} from "../../model/measurement.ts";
import type { Exclusion, Plan } from "../../model/plan/plan.ts";
import { type Said, say } from "../../model/say.ts";

export interface WithoutExclusions {
  readonly set: MeasurementSet;
  /** Entries of the plan that named no reading. */
  readonly unused: readonly Exclusion[];
}

/**
 * The set without the readings that the plan leaves out on purpose. Each log lists what was left out with the plan's
 * reason. A feature that loses every reading is no longer measured.
 */
export function withoutExclusions(set: MeasurementSet, plan: Plan): WithoutExclusions {
  if (plan.exclude.length === 0) return { set, unused: [] };
  const left = set.logs.map((): ExcludedRow<Said>[] => []);
  const used = new Set<Exclusion>();
  const features = set.features.flatMap((feature) => {
    const logName = set.logs[feature.log]?.name ?? null;
    const here = plan.exclude.filter(
      (entry) =>
        (entry.log === null || entry.log === logName) &&
        (entry.feature === null || entry.feature === feature.name),
    );
    const gone = here.filter((entry) => feature.readings.line.includes(entry.line));
    for (const entry of gone) {
      used.add(entry);
      left[feature.log]?.push({
        line: entry.line,
        reason: say("left out by the plan: {reason}", { reason: entry.reason }),
      });
    }
    return gone.length === 0 ? [feature] : without(feature, new Set(gone.map(({ line }) => line)));
  });
  const logs = set.logs.map((log, i) => {
    const rows = left[i] ?? [];
    return { ...log, used: log.used - rows.length, excluded: [...log.excluded, ...rows] };
  });
  // Reading a log leaves out what its plan names, and what is no reading needs no entry.
  const leftOut = (entry: Exclusion): boolean =>
    set.logs.some(
      (log) =>
        (entry.log === null || entry.log === log.name) && log.excluded.some((row) => row.line === entry.line),
    );
  return {
    set: { ...set, features, logs },
    unused: plan.exclude.filter((entry) => !used.has(entry) && !leftOut(entry)),
  };
}

function without(feature: MeasuredFeature, lines: ReadonlySet<number>): readonly MeasuredFeature[] {
  const keep = [...feature.readings.line.keys()].filter((i) => !lines.has(feature.readings.line[i]!));
  if (keep.length === 0) return [];
  const sweep = feature.sweep === undefined ? {} : { sweep: sweepOf(feature.sweep, keep) };
  return [{ ...feature, readings: readingsOf(feature.readings, keep), ...sweep }];
}

const columnOf = (column: Float64Array, keep: readonly number[]): Float64Array =>
  Float64Array.from(keep, (i) => column[i]!);

function readingsOf(readings: Readings, keep: readonly number[]): Readings {
  const { x, y, z, i, j, k, b, line } = readings;
  const optional = { i, j, k, b };
  const kept: Partial<Record<"i" | "j" | "k" | "b", Float64Array>> = {};
  for (const name of ["i", "j", "k", "b"] as const) {
    const column = optional[name];
    if (column !== undefined) kept[name] = columnOf(column, keep);
  }
  return {
    x: columnOf(x, keep),
    y: columnOf(y, keep),
    z: columnOf(z, keep),
    ...kept,
    line: Int32Array.from(keep, (index) => line[index]!),
  };
}

function sweepOf(sweep: Sweep, keep: readonly number[]): Sweep {
  const station = sweep.station === undefined ? {} : { station: columnOf(sweep.station, keep) };
  return { ...sweep, reading: columnOf(sweep.reading, keep), ...station };
}
