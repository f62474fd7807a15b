import type { Points3 } from "../../math/points.ts";
import type { MeasuredFeature, MeasurementSet, State, TipState } from "../../model/measurement.ts";
import type { FeaturePlan, Plan } from "../../model/plan/plan.ts";
import { type Said, say } from "../../model/say.ts";
import type { FitResult } from "../features/contract.ts";
import { fitKind } from "../features/index.ts";
import type { FeatureResult, FittedFeature, UnfittedFeature } from "../fittedFeature.ts";
import { instrumentOf, instrumentPlan, readingUncertainty } from "./instruments.ts";
import { readingScale } from "./readingScale.ts";

/** Features by name and state; see `AnalysisContext.feature`. */
export interface FeatureLookup {
  feature(name: string, state?: State): FeatureResult;
  /** Whether a feature, or each one it is built from, was measured in this state. */
  has(name: string, state: State): boolean;
}

/**
 * Fits each feature of the plan to what was measured of it, when it is first asked for. Trouble in the data becomes an
 * `UnfittedFeature` that says why.
 */
export function fitFeatures(set: MeasurementSet, plan: Plan): FeatureLookup {
  const measured = new Map<string, MeasuredFeature>();
  // The later of two in the same state counts; merging has listed the earlier as superseded.
  for (const feature of set.features) measured.set(key(feature.name, feature.state), feature);
  const done = new Map<string, FeatureResult>();
  const planOf = (name: string): FeaturePlan => {
    const entry = Object.hasOwn(plan.features, name) ? plan.features[name] : undefined;
    if (entry === undefined) throw new RangeError(`no feature ${name} in the plan`);
    return entry;
  };
  const has = (name: string, state: State): boolean => {
    const { through } = planOf(name);
    return through.length > 0 ? through.every((part) => has(part, state)) : measured.has(key(name, state));
  };
  const inState = (name: string, state: State): FeatureResult => {
    const entry = planOf(name);
    if (entry.through.length > 0) return fitThrough(entry, state, lookup.feature);
    const found = measured.get(key(name, state));
    return found === undefined ? missing(entry, state) : fitMeasured(found, entry, plan);
  };
  const lookup: FeatureLookup = {
    has,
    feature(name, state) {
      const wanted = state ?? (has(name, "as-left") || !has(name, "as-found") ? "as-left" : "as-found");
      // Parts of a built feature may be of different states when none is asked for.
      const mixed = state === undefined && planOf(name).through.length > 0;
      const id = `${key(name, wanted)}${mixed ? " mixed" : ""}`;
      const known = done.get(id);
      if (known !== undefined) return known;
      const result = mixed ? fitThrough(planOf(name), undefined, lookup.feature) : inState(name, wanted);
      done.set(id, result);
      return result;
    },
  };
  return lookup;
}

const key = (name: string, state: State): string => `${state} ${name}`;

function missing(plan: FeaturePlan, state: State): UnfittedFeature {
  const text = say(
    state === "as-found" ? "{feature} was not measured as found." : "{feature} was not measured.",
    { feature: plan.name },
  );
  return { ok: false, name: plan.name, fit: plan.fit, why: "missing", state: null, count: 0, text };
}

function fitThrough(
  plan: FeaturePlan,
  state: State | undefined,
  feature: FeatureLookup["feature"],
): FeatureResult {
  const parts = plan.through.map((name) => feature(name, state));
  const bad = parts.find((part) => !part.ok);
  if (bad !== undefined && !bad.ok)
    return {
      ...bad,
      name: plan.name,
      fit: plan.fit,
      text: say("{feature} needs {part}. {reason}", {
        feature: plan.name,
        part: bad.name,
        reason: bad.text,
      }),
    };
  const through = parts.filter((part) => part.ok);
  const input = { points: NO_POINTS, touches: null, plan, ballRadius: 0, through };
  const fit = fitKind(plan.fit).fitTo(input);
  const shared = through.find((part) => part.state === "as-left")?.state ?? "as-found";
  if (!fit.ok) return trouble(plan, shared, through.length, say(fit.text));
  const single = through.filter((part) => fitKind(part.fit).singleSurface && part.tipUnknown);
  return describe(plan, fit.value, {
    state: shared,
    measured: null,
    instrument: null,
    through,
    statedMm: null,
    tipProblem: single[0]?.tipProblem ?? null,
  });
}
const NO_POINTS: Points3 = { x: new Float64Array(), y: new Float64Array(), z: new Float64Array() };

const trouble = (plan: FeaturePlan, state: State, count: number, text: Said): UnfittedFeature => ({
  ok: false,
  name: plan.name,
  fit: plan.fit,
  why: "trouble",
  state,
  count,
  text,
});

function fitMeasured(measured: MeasuredFeature, entry: FeaturePlan, plan: Plan): FeatureResult {
  const tip = tipOf(measured.tip, entry);
  const { x, y, z, i, j, k } = measured.readings;
  const touches = i && j && k ? { x: i, y: j, z: k } : null;
  const input = {
    points: { x, y, z },
    touches,
    plan: entry,
    ballRadius: tip.problem === null && tip.radiusMm !== null ? tip.radiusMm : 0,
    through: [],
  };
  const instrument = instrumentOf(measured, plan);
  const described = instrumentPlan(instrument, plan);
  const context = {
    state: measured.state,
    measured,
    instrument,
    through: [],
    statedMm: described === null ? null : readingUncertainty(described),
    tipProblem: tip.problem,
  };
  if (measured.result !== undefined) return describe(entry, fromResult(measured, entry), context);
  const fit = fitKind(entry.fit).fitTo(input);
  if (!fit.ok) return trouble(entry, measured.state, x.length, say(fit.text));
  if ((fit.value.geometry.radius ?? 1) <= 0)
    return trouble(
      entry,
      measured.state,
      x.length,
      say("The ball is larger than what was touched: check tip-diameter and surface."),
    );
  return describe(entry, fit.value, context);
}

interface Setting {
  readonly state: State;
  readonly measured: MeasuredFeature | null;
  readonly instrument: string | null;
  readonly through: readonly FittedFeature[];
  readonly statedMm: number | null;
  readonly tipProblem: Said | null;
}

function describe(plan: FeaturePlan, fit: FitResult, setting: Setting): FittedFeature {
  const tipProblem = setting.tipProblem ?? fit.tipProblem;
  return {
    ok: true,
    name: plan.name,
    fit: plan.fit,
    state: setting.state,
    plan,
    measured: setting.measured,
    points: fit.points,
    count: fit.points.x.length,
    geometry: fit.geometry,
    residuals: fit.residuals,
    rmsMm: fit.rmsMm,
    quality: {
      degreesOfFreedom: fit.degreesOfFreedom,
      scatter: fit.scatterMm,
      condition: fit.condition,
      iterations: fit.iterations,
    },
    scale: readingScale(setting.statedMm, fit.scatterMm, fit.degreesOfFreedom),
    parameters: fit.parameters,
    extent: fit.extent,
    through: setting.through,
    derived: fit.derived,
    tipUnknown: tipProblem !== null,
    tipProblem,
    instrument: setting.instrument,
  };
}

/** What the log says about the tip, completed by the plan; a problem where neither settles it. */
function tipOf(tip: TipState, plan: FeaturePlan): { radiusMm: number | null; problem: Said | null } {
  const points = tip.points === "unknown" ? plan.points : tip.points;
  const radiusMm = tip.radiusMm ?? (plan.tipDiameterMm === null ? null : plan.tipDiameterMm / 2);
  if (points === "surface") return { radiusMm: null, problem: null };
  if (points === null)
    return {
      radiusMm: null,
      problem: say("It is not stated whether the log gives surface points or ball centres.", {}),
    };
  if (radiusMm === null)
    return { radiusMm, problem: say("The log gives ball centres and the tip's diameter is not stated.", {}) };
  return { radiusMm, problem: null };
}

/** A centre and perhaps a diameter that a table of results gives without its touches. */
function fromResult(measured: MeasuredFeature, plan: FeaturePlan): FitResult {
  const { x, y, z } = measured.readings;
  const points = { x, y, z };
  const center = [x[0]!, y[0]!, z[0]!] as const;
  const direction = plan.normal;
  const diameter = measured.result?.diameterMm ?? null;
  const radius = diameter === null ? null : diameter / 2;
  const at = ([dx = 0, dy = 0, dz = 0, dRadius = 0]: readonly number[]) => ({
    center: [center[0] + dx, center[1] + dy, center[2] + dz] as const,
    direction,
    radius: radius === null ? null : radius + dRadius,
  });
  return {
    geometry: { center, direction, radius },
    points,
    residuals: new Float64Array(x.length),
    rmsMm: 0,
    degreesOfFreedom: 0,
    scatterMm: null,
    condition: null,
    iterations: 0,
    parameters: { covariance: [0, 1, 2, 3].map((i) => [0, 1, 2, 3].map((j) => (i === j ? 1 : 0))), at },
    extent: null,
    tipProblem: null,
    derived: null,
  };
}
