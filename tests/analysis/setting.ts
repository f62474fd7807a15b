// Plans and measured sets for the tests of the analysis: plans as text, points as places.
import { expect } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { fitFeatures } from "../../src/analysis/fitting/fitFeatures.ts";
import { judgeCharacteristic } from "../../src/analysis/judgeCharacteristic.ts";
import { planKinds } from "../../src/analysis/planKinds.ts";
import { points3 } from "../../src/math/points.ts";
import type { Vec3 } from "../../src/math/vector.ts";
import type {
  LogRecord,
  MeasuredFeature,
  MeasurementSet,
  SignOffReading,
  SweepKind,
} from "../../src/model/measurement.ts";
import type { Plan } from "../../src/model/plan/plan.ts";
import { readPlan } from "../../src/model/plan/readPlan.ts";
import type { Said } from "../../src/model/say.ts";
import type { ReportCharacteristic, SetupReport } from "../../src/model/setupReport.ts";

export const ISSUED = "2026-11-25T07:00:00Z";

/** A plan from its YAML without the first lines, which are the same in each test. */
export function planOf(body: string, decision = "rule: guarded"): Plan {
  const text = `plinth: 1\nname: trial\ntitle: Trial\ndecision: {${decision}}\n${body}`;
  const read = readPlan({ text, name: "trial.yaml", sha256: "0".repeat(64), kinds: planKinds });
  if (!read.ok) expect.fail(read.problems.map((problem) => problem.text).join("\n"));
  return read.plan;
}

export const log = (name = "trial.csv", header: Record<string, string> = {}): LogRecord => ({
  name,
  sha256: "1".repeat(64),
  kind: "probe",
  rows: 0,
  used: 0,
  excluded: [],
  decisions: [],
  header,
  time: null,
  text: "",
});

/** A touched feature; lines of the log count from 10. */
export function touched(
  name: string,
  places: readonly Vec3[],
  more: Partial<MeasuredFeature> = {},
): MeasuredFeature {
  return {
    name,
    state: "as-left",
    log: 0,
    readings: { ...points3(places), line: Int32Array.from(places, (_, i) => i + 10) },
    tip: { points: "surface", radiusMm: null },
    instrument: "probe",
    clamping: null,
    bolt: null,
    frame: null,
    temperatureC: null,
    ...more,
  };
}
/** Outward touch directions for the readings of a feature. */
export function withTouches(feature: MeasuredFeature, directions: readonly Vec3[]): MeasuredFeature {
  const { x, y, z } = points3(directions);
  return { ...feature, readings: { ...feature.readings, i: x, j: y, k: z } };
}
/** A rim sweep as ingest makes it: points at radius R + reading (boss) or R - reading (bore). */
export function rimSweep(
  name: string,
  readings: readonly number[],
  {
    radius = 100,
    bore = false,
    headerSagMm = null as number | null,
    more = {} as Partial<MeasuredFeature>,
  } = {},
): MeasuredFeature {
  const station = readings.map((_, i) => (2 * Math.PI * i) / readings.length);
  const places = readings.map((reading, i): Vec3 => {
    const r = bore ? radius - reading : radius + reading;
    return [r * Math.cos(station[i]!), r * Math.sin(station[i]!), 0];
  });
  return swept(name, "rim-sweep", places, readings, { station, radius, headerSagMm, more });
}
export function swept(
  name: string,
  kind: SweepKind,
  places: readonly Vec3[],
  readings: readonly number[],
  {
    station = null as readonly number[] | null,
    radius = null as number | null,
    headerSagMm = null as number | null,
    more = {} as Partial<MeasuredFeature>,
  } = {},
): MeasuredFeature {
  return touched(name, places, {
    sweep: {
      kind,
      reading: Float64Array.from(readings),
      ...(station ? { station: Float64Array.from(station) } : {}),
      headerSagMm,
      radiusMm: radius,
    },
    ...more,
  });
}
/** A traverse along y with heights in z. */
export const traverse = (name: string, positions: readonly number[], heights: readonly number[], more = {}) =>
  swept(
    name,
    "traverse",
    positions.map((y, i): Vec3 => [0, y, heights[i]!]),
    heights,
    { station: positions, more },
  );

export const setOf = (
  features: readonly MeasuredFeature[],
  more: Partial<MeasurementSet> & { readonly signOffs?: readonly SignOffReading[] } = {},
): MeasurementSet => ({
  logs: [log()],
  features,
  signOffs: [],
  setup: { job: "J-1", operation: "10" },
  findings: [],
  ...more,
});

export const report = (
  plan: Plan,
  features: readonly MeasuredFeature[],
  more: Partial<MeasurementSet> = {},
): SetupReport<Said> => analyse({ set: setOf(features, more), plan, issued: ISSUED });

/** One characteristic of the report. */
export function characteristic(made: SetupReport<Said>, id: string): ReportCharacteristic<Said> {
  const found = made.characteristics.find((entry) => entry.id === id);
  if (found === undefined) expect.fail(`no characteristic ${id}`);
  return found;
}
/** The only characteristic of a plan, measured by features. */
export const judged = (
  body: string,
  features: readonly MeasuredFeature[],
  decision?: string,
): ReportCharacteristic<Said> => {
  const made = report(planOf(body, decision), features);
  return made.characteristics[0] ?? expect.fail("the plan has no characteristic");
};

/** The first characteristic of a plan without the rest of the report, for simulations. */
export function onlyCharacteristic(
  plan: Plan,
  features: readonly MeasuredFeature[],
): ReportCharacteristic<Said> {
  const set = setOf(features);
  const lookup = fitFeatures(set, plan);
  const context = { plan, set, issued: ISSUED, history: [], feature: lookup.feature };
  const [entry] = plan.characteristics;
  if (entry === undefined) expect.fail("the plan has no characteristic");
  return judgeCharacteristic(entry, { context, lookup, withAll: null, health: [] });
}

export const range = (count: number): number[] => [...Array(count).keys()];
/** A grid of places with heights from a function. */
export const grid = (count: number, step: number, height: (x: number, y: number) => number): Vec3[] =>
  range(count).flatMap((i) =>
    range(count).map((j): Vec3 => {
      const [x, y] = [(i - (count - 1) / 2) * step, (j - (count - 1) / 2) * step];
      return [x, y, height(x, y)];
    }),
  );
/** A ring of places about a centre in a plane of constant z. */
export const ring = (count: number, radius: (angle: number) => number, center: Vec3 = [0, 0, 0]): Vec3[] =>
  range(count).map((i): Vec3 => {
    const angle = (2 * Math.PI * i) / count;
    const r = radius(angle);
    return [center[0] + r * Math.cos(angle), center[1] + r * Math.sin(angle), center[2]];
  });
export const PROBE = "instruments: {probe: {uncertainty: 0.001 mm}}\n";
