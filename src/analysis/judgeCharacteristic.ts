import type { CharacteristicPlan } from "../model/plan/plan.ts";
import { type Said, type SaidValue, say } from "../model/say.ts";
import type { ReportCharacteristic, Unit } from "../model/setupReport.ts";
import type {
  CharacteristicEntry,
  CharacteristicKind,
  Evaluation,
  UndecidedReason,
} from "./characteristics/contract.ts";
import { characteristicKinds } from "./characteristics/index.ts";
import type { AnalysisContext } from "./context.ts";
import { decide, type Judgement, saidResult, toDegrees } from "./decide.ts";
import type { FeatureResult, FittedFeature } from "./fittedFeature.ts";
import type { FeatureLookup } from "./fitting/fitFeatures.ts";
import { instrumentPlan } from "./fitting/instruments.ts";
import type { HealthResult } from "./health/contract.ts";
import { measuredFeatures } from "./propagate.ts";
import { waysToDecide } from "./toDecide.ts";
import { expanded } from "./uncertainty.ts";

export interface JudgeSetting {
  readonly context: AnalysisContext;
  readonly lookup: FeatureLookup;
  /** Features fitted with the readings that the plan leaves out; null when it leaves out none. */
  readonly withAll: FeatureLookup | null;
  readonly health: readonly HealthResult[];
}

const kinds = new Map(characteristicKinds.map((kind) => [kind.kind, kind]));

/** One characteristic of the plan, computed and judged. Throws RangeError for a kind that is not on the shelf. */
export function judgeCharacteristic(
  entry: CharacteristicPlan,
  setting: JudgeSetting,
): ReportCharacteristic<Said> {
  const kind = kinds.get(entry.kind);
  if (kind === undefined) throw new RangeError(`no characteristic ${entry.kind}`);
  const { context, lookup } = setting;
  const of = context.feature(entry.of);
  const to = entry.to === null ? null : context.feature(entry.to);
  const bad = !of.ok ? of : to !== null && !to.ok ? to : null;
  if (bad !== null || !of.ok) return unmeasured(entry, kind, bad ?? of);
  const evaluated = kind.evaluate(
    entry as CharacteristicEntry<never>,
    { of, to: to?.ok ? to : null },
    context,
  );
  const features = to?.ok ? [of, to] : [of];
  const reasons = [
    ...evaluated.undecided,
    ...setting.health.flatMap(reasonFrom(features)),
    ...unstated(features, setting),
  ];
  const doubted = doubtful(features, setting);
  const judged = decide({
    value: evaluated.value,
    uncertainty: evaluated.uncertainty,
    limits: entry.limits,
    decision: context.plan.decision,
    unit: evaluated.unit,
    reasons: reasons.map(({ text }) => text),
  });
  return {
    ...described(entry, evaluated, judged),
    asFound: asFoundValue(entry, kind, setting, of),
    state: of.state,
    toDecide:
      judged.verdict === "undecided"
        ? remedies({ reasons, evaluated, entry, context, features, doubted })
        : [],
    remarks: [
      ...doubted.map((name) => say("A doubtful reading of {feature} is in this value.", { feature: name })),
      ...evaluated.remarks,
      ...reasons.slice(1).map(({ text }) => text),
      ...circumstances(features, context),
      ...enough(evaluated, entry),
      ...withExcluded(entry, kind, setting, { lookup, value: evaluated.value }),
    ],
  };
}

const inUnit = (inside: number | null, unit: Unit): number | null =>
  inside === null ? null : unit === "deg" ? toDegrees(inside) : inside;

function described(entry: CharacteristicPlan, evaluated: Evaluation, judged: Judgement) {
  const { unit, uncertainty } = evaluated;
  return {
    id: entry.id,
    kind: entry.kind,
    of: entry.of,
    to: entry.to,
    value: inUnit(evaluated.value, unit),
    unit,
    uncertainty:
      uncertainty === null || evaluated.value === null ? null : inUnit(expanded(uncertainty), unit),
    coverage: uncertainty === null || evaluated.value === null ? null : uncertainty.coverage,
    limits: { lower: inUnit(entry.limits.lower, unit), upper: inUnit(entry.limits.upper, unit) },
    nominal: inUnit(entry.limits.nominal, unit),
    verdict: judged.verdict,
    because: judged.because,
    points: evaluated.points,
    method: evaluated.method,
    conformance: judged.conformance,
  };
}

function unmeasured(
  entry: CharacteristicPlan,
  kind: CharacteristicKind,
  bad: FeatureResult,
): ReportCharacteristic<Said> {
  const unit: Unit = kind.limitDimension === "angle" ? "deg" : "mm";
  const text = bad.ok ? say("not computed", {}) : bad.text;
  const missing = !bad.ok && bad.why === "missing";
  return {
    id: entry.id,
    kind: entry.kind,
    of: entry.of,
    to: entry.to,
    value: null,
    unit,
    uncertainty: null,
    coverage: null,
    limits: { lower: inUnit(entry.limits.lower, unit), upper: inUnit(entry.limits.upper, unit) },
    nominal: inUnit(entry.limits.nominal, unit),
    verdict: missing ? "missing" : "undecided",
    because: text,
    asFound: null,
    state: bad.state,
    points: bad.count,
    method: say("not computed", {}),
    conformance: null,
    toDecide: [
      missing
        ? say("Measure {feature}.", { feature: bad.name })
        : say("Touch {feature} again in more and better spread places.", { feature: bad.name }),
    ],
    remarks: [],
  };
}

/** A check that stops verdicts on one of these features, as a reason. */
const reasonFrom =
  (features: readonly FittedFeature[]) =>
  ({ finding, undecides }: HealthResult): readonly UndecidedReason[] => {
    const names = [...features, ...measuredFeatures(features)].map(({ name }) => name);
    if (undecides !== "all" && !undecides.some((name) => names.includes(name))) return [];
    return [{ text: finding.text, remedy: finding.hint ?? say("Measure again.", {}) }];
  };

/** Features among these with a reading that is to be touched again first. */
function doubtful(features: readonly FittedFeature[], { health }: JudgeSetting): readonly string[] {
  const doubted = new Set(
    health.flatMap(({ again, finding }) => (again === undefined ? [] : [finding.feature])),
  );
  return measuredFeatures(features).flatMap(({ name }) => (doubted.has(name) ? [name] : []));
}

/** Under a guard band somebody must have stated how sure a reading is. */
function unstated(features: readonly FittedFeature[], { context }: JudgeSetting): readonly UndecidedReason[] {
  if (context.plan.decision.rule !== "guarded") return [];
  const silent = measuredFeatures(features).filter(({ scale }) => scale.statedMm === null);
  return silent.slice(0, 1).map((feature) => ({
    text:
      feature.instrument === null
        ? say("No uncertainty is stated for the readings of {feature}, and the rule asks for a guard band.", {
            feature: feature.name,
          })
        : say("No uncertainty is stated for {gauge}, and the rule asks for a guard band.", {
            gauge: feature.instrument,
          }),
    remedy: say("State the gauge in the log or plan, and its uncertainty under instruments in the plan.", {}),
  }));
}

function asFoundValue(
  entry: CharacteristicPlan,
  kind: CharacteristicKind,
  { context, lookup }: JudgeSetting,
  main: FittedFeature,
): number | null {
  if (main.state === "as-found" || !lookup.has(entry.of, "as-found")) return null;
  const of = context.feature(entry.of, "as-found");
  const to = entry.to === null ? null : stateOr(entry.to, context, lookup);
  if (!of.ok || (to !== null && !to.ok)) return null;
  const evaluated = kind.evaluate(entry as CharacteristicEntry<never>, { of, to }, context);
  return inUnit(evaluated.value, evaluated.unit);
}
const stateOr = (name: string, context: AnalysisContext, lookup: FeatureLookup): FeatureResult =>
  lookup.has(name, "as-found") ? context.feature(name, "as-found") : context.feature(name);

interface ToRemedy {
  readonly reasons: readonly UndecidedReason[];
  readonly evaluated: Evaluation;
  readonly entry: CharacteristicPlan;
  readonly context: AnalysisContext;
  readonly features: readonly FittedFeature[];
  /** Features with a doubtful reading: a way that is worked out with it would mislead. */
  readonly doubted: readonly string[];
}

function remedies(given: ToRemedy): readonly Said[] {
  const { reasons, evaluated, entry, context, features, doubted } = given;
  const again = doubted.map((feature) =>
    say("First clean the doubtful place of {feature} and touch it again.", { feature }),
  );
  if (reasons.length > 0) {
    const seen = new Map(reasons.map(({ remedy }) => [remedy.text, remedy]));
    return [...again, ...seen.values()];
  }
  if (again.length > 0) return again;
  const { value, uncertainty, points, shrinks } = evaluated;
  if (value === null || uncertainty === null) return [];
  const scales = measuredFeatures(features).map(({ scale }) => scale);
  // A better gauge helps where the gauge's uncertainty governs, not where form or dirt does.
  const byGauge = scales.every(
    ({ statedMm, degreesOfFreedom }) => statedMm !== null && degreesOfFreedom === Number.POSITIVE_INFINITY,
  );
  const readingMm = byGauge ? Math.max(...scales.map(({ sigmaMm }) => sigmaMm ?? 0)) : null;
  return waysToDecide({
    value,
    limits: entry.limits,
    uncertainty,
    decision: context.plan.decision,
    points,
    readingMm,
    shrinks,
  }).map(({ text }) => text);
}

/** The words that a header may say; anything else is quoted as it is. */
const CLAMPINGS = ["snug", "torqued", "clamped", "free"];
const clampingWord = (word: string): SaidValue => (CLAMPINGS.includes(word) ? say(word) : word);

/** What must be known beside the value: how it was clamped, which bolt, with what kind of gauge. */
function circumstances(features: readonly FittedFeature[], { plan }: AnalysisContext): readonly Said[] {
  const remarks = measuredFeatures(features).flatMap(({ name, measured, instrument }) => {
    const where = instrumentPlan(instrument, plan)?.where ?? null;
    return [
      ...(measured?.clamping
        ? [
            say("{feature} was measured {clamping}.", {
              feature: name,
              clamping: clampingWord(measured.clamping),
            }),
          ]
        : []),
      ...(measured?.bolt
        ? [say("{feature} was measured after bolt {bolt}.", { feature: name, bolt: measured.bolt })]
        : []),
      ...(where === "on-machine"
        ? [
            say("{feature} was measured on the machine: errors of its own axes do not show.", {
              feature: name,
            }),
          ]
        : []),
      ...(where === "independent"
        ? [say("{feature} was measured with an independent gauge.", { feature: name })]
        : []),
    ];
  });
  return remarks;
}

/** A tolerance should be this many times the uncertainty interval before the gauge is out of question (N to 1 rule). */
const WANTED_RATIO = 4;

/**
 * What uncertainty the tolerance needs, where the present one is too large for it. A one-sided limit on a value that cannot
 * be negative counts from zero. Source: ASME B89.7.3.1-2001 (N to 1 decision rule).
 */
function enough({ value, uncertainty, unit }: Evaluation, { limits }: CharacteristicPlan): readonly Said[] {
  if (uncertainty === null || value === null || limits.upper === null) return [];
  const width = limits.upper - (limits.lower ?? 0);
  const half = expanded(uncertainty);
  if (!(half > 0) || !(width > 0) || width / (2 * half) >= WANTED_RATIO) return [];
  const needed = width / (2 * WANTED_RATIO);
  return [
    say(
      "The tolerance is {ratio} times the uncertainty interval; {wanted} to 1 would need an expanded uncertainty of {needed}.",
      {
        ratio: { value: width / (2 * half), unit: "", digits: 1 },
        wanted: WANTED_RATIO,
        needed:
          unit === "mm" ? { mm: needed, as: "uncertainty" } : { deg: toDegrees(needed), as: "uncertainty" },
      },
    ),
  ];
}

/** The value with the readings that the plan leaves out, so that both stand on the page. */
function withExcluded(
  entry: CharacteristicPlan,
  kind: CharacteristicKind,
  { context, withAll }: JudgeSetting,
  { lookup, value }: { lookup: FeatureLookup; value: number | null },
): readonly Said[] {
  if (withAll === null) return [];
  const [of, to] = [withAll.feature(entry.of), entry.to === null ? null : withAll.feature(entry.to)];
  const changed = [entry.of, ...(entry.to === null ? [] : [entry.to])].some(
    (name) => lookup.feature(name).count !== withAll.feature(name).count,
  );
  if (!changed || !of.ok || (to !== null && !to.ok)) return [];
  const all = kind.evaluate(
    entry as CharacteristicEntry<never>,
    { of, to },
    { ...context, feature: withAll.feature },
  );
  if (all.value === null || all.value === value) return [];
  return [
    say("With the readings that the plan leaves out it would be {value}.", {
      value: saidResult({ ...all, limits: entry.limits }),
    }),
  ];
}
