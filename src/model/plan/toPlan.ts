import type * as v from "valibot";
import type { CharacteristicPlanKind } from "./fields.ts";
import type {
  CharacteristicPlan,
  FeaturePlan,
  InstrumentPlan,
  Limits,
  LogsPlan,
  MachinePlan,
  Plan,
  PlanSource,
} from "./plan.ts";
import type { featureEntry, instrument, logs, machine } from "./planSchema.ts";
import type { Entry, KindEntry, Sections } from "./sections.ts";

/** The checked parts as the pipeline sees them. Throws TypeError when a part is unchecked: that is our bug. */
export function toPlan(
  sections: Sections,
  limits: ReadonlyMap<KindEntry<CharacteristicPlanKind>, Limits>,
  source: PlanSource,
): Plan {
  const simple = checked(sections.simple);
  const name = simple.name ?? source.name.replace(/\.ya?ml$/i, "");
  const guarded = simple.decision.rule === "guarded";
  return {
    name,
    title: simple.title ?? name,
    show: simple.show?.show ?? "mm",
    showAlso: simple.show?.also ?? null,
    language: simple.language ?? "en",
    decision: { rule: simple.decision.rule, guard: guarded ? (simple.decision.guard ?? 1) : 0 },
    machine: toMachine(simple.machine),
    instruments: named(sections.instruments, (_, value) => toInstrument(value)),
    logs: toLogs(simple.logs),
    features: named(sections.features, toFeature),
    characteristics: sections.characteristics.map((entry) => toCharacteristic(entry, limits.get(entry))),
    advice: sections.advice.map((entry) => {
      const { kind, ...inputs } = checked(entry.value);
      return { kind: String(kind), inputs };
    }),
    signOffs: sections.signOffs.map((entry) => {
      const { id, ask, unit, min, max } = checked(entry.value);
      return { id, ask: ask ?? id, unit: unit ?? null, lower: min ?? null, upper: max ?? null };
    }),
    points: { ...simple.points },
    part: {
      temperatureC: simple.part?.temperature ?? null,
      expansionPerK: simple.part?.expansion ?? null,
    },
    closure: listOf(simple.closure),
    closureLimitMm: simple["closure-limit"] ?? null,
    crossSumLimitMm: simple["cross-sum-limit"] ?? null,
    exclude: sections.exclude.map((entry) => {
      const { log, feature, line, reason } = checked(entry.value);
      return { log: log ?? null, feature: feature ?? null, line, reason };
    }),
    match: listOf(simple.match),
    source,
  };
}

function checked<T>(value: T | null): T {
  if (value === null) throw new TypeError("a part of the plan was not checked");
  return value;
}
const listOf = (value: string | readonly string[] | undefined): readonly string[] =>
  value === undefined ? [] : typeof value === "string" ? [value] : value;

/** Without prototype: a feature named `constructor` in a log is only there when the plan has it. */
function named<T, R>(
  entries: ReadonlyMap<string, Entry<T>>,
  make: (name: string, value: T) => R,
): Readonly<Record<string, R>> {
  const result: Record<string, R> = Object.create(null);
  for (const [name, entry] of entries) result[name] = make(name, checked(entry.value));
  return result;
}

function toMachine(value: v.InferOutput<ReturnType<typeof machine>> | undefined): MachinePlan {
  const { x, y, z } = value?.travel ?? {};
  return {
    name: value?.name ?? null,
    bSense: value?.["b-sense"] ?? null,
    travel: { ...(x && { x }), ...(y && { y }), ...(z && { z }) },
    straightnessMm: value?.straightness ?? null,
  };
}

const toInstrument = (value: v.InferOutput<ReturnType<typeof instrument>>): InstrumentPlan => ({
  uncertaintyMm: value.uncertainty ?? null,
  resolutionMm: value.resolution ?? null,
  repeatMm: value.repeat ?? null,
  maxErrorMm: value["max-error"] ?? null,
  calibrationDue: value["calibration-due"] ?? null,
  where: value.where ?? null,
});

const DECIMALS = { ".": ".", point: ".", ",": ",", comma: "," } as const;
const SEPARATORS = { ",": ",", comma: ",", ";": ";", semicolon: ";", "\t": "\t", tab: "\t" } as const;
function toLogs(value: v.InferOutput<ReturnType<typeof logs>> | undefined): LogsPlan {
  return {
    unit: value?.unit ?? null,
    instrument: value?.instrument ?? null,
    columns: { ...value?.columns },
    skipRows: value?.["skip-rows"] ?? 0,
    constant: { ...value?.constant },
    keep: Object.fromEntries(
      Object.entries(value?.keep ?? {}).map(([column, values]) => [column, [values].flat().map(String)]),
    ),
    order: (value?.order ?? []).map(({ sweep, position, angle, x, y }) => ({
      sweep,
      position: position ?? null,
      angle: angle ?? null,
      x: x ?? null,
      y: y ?? null,
    })),
    frame: value?.frame ?? null,
    sign: value?.sign ?? null,
    decimal: value?.decimal === undefined ? null : DECIMALS[value.decimal],
    separator: value?.separator === undefined ? null : SEPARATORS[value.separator],
    points: value?.points ?? null,
    tipDiameterMm: value?.["tip-diameter"] ?? null,
    leverAngleRad: value?.["lever-angle"] ?? null,
  };
}

const toFeature = (name: string, value: v.InferOutput<ReturnType<typeof featureEntry>>): FeaturePlan => ({
  name,
  fit: value.fit,
  normal: value.normal ?? null,
  surface: value.surface ?? null,
  from: value.from ?? null,
  radiusMm: value.radius ?? null,
  along: value.along ?? null,
  height: value.height ?? null,
  through: value.through ?? [],
  instrument: value.instrument ?? null,
  points: value.points ?? null,
  tipDiameterMm: value["tip-diameter"] ?? null,
});

/** Keys of the limit stay with the kind's inputs only where the kind itself asks for one of that name. */
function toCharacteristic(
  { kind, value }: KindEntry<CharacteristicPlanKind>,
  limits: Limits | undefined,
): CharacteristicPlan {
  const all = checked(value);
  const inputs: Record<string, unknown> = {};
  for (const key of Object.keys(kind.inputs())) if (all[key] !== undefined) inputs[key] = all[key];
  return {
    id: String(all.id),
    kind: kind.kind,
    of: String(all.of),
    to: all.to === undefined ? null : String(all.to),
    limits: limits ?? { nominal: null, lower: null, upper: null },
    inputs,
  };
}
