import type { Plan } from "../model/plan/plan.ts";
import { type Said, type SaidValue, say } from "../model/say.ts";
import type { ReportCorrection } from "../model/setupReport.ts";
import { faceSlopes } from "./advice/shared/slopes.ts";
import type { FittedFeature } from "./fittedFeature.ts";
import type { FeatureLookup } from "./fitting/fitFeatures.ts";
import { propagate } from "./propagate.ts";
import { quantityWords } from "./quantityWords.ts";

interface Quantity {
  readonly name: string;
  readonly unit: "mm" | "slope";
  readonly value: number;
  /** Standard uncertainty; null when not known. */
  readonly uncertainty: number | null;
}

/**
 * As found, correction and as left of each feature that was measured in both states: slopes of faces and of swept lines, centre
 * of rim sweeps. The ratio as left / as found tells how the correction went: near 0 good, near 1 nothing moved, near 2 the
 * wrong way. Common practice, no source.
 */
export function corrections(lookup: FeatureLookup, plan: Plan): readonly ReportCorrection<Said>[] {
  return Object.keys(plan.features).flatMap((name) => {
    if (!lookup.has(name, "as-found") || !lookup.has(name, "as-left")) return [];
    const before = lookup.feature(name, "as-found");
    const after = lookup.feature(name, "as-left");
    if (!before.ok || !after.ok) return [];
    const left = new Map(quantities(after).map((entry) => [entry.name, entry]));
    return quantities(before).flatMap((found) => {
      const now = left.get(found.name);
      return now === undefined ? [] : [correction(name, found, now)];
    });
  });
}

function quantities(feature: FittedFeature): Quantity[] {
  if (feature.measured?.sweep?.kind === "rim-sweep") {
    return (["x", "y"] as const).map((name, axis) =>
      quantity(feature, name, "mm", (at) => at(feature).center[axis] ?? 0),
    );
  }
  return (["slopeX", "slopeY"] as const).flatMap((name) =>
    faceSlopes(feature)[name] === null
      ? []
      : [quantity(feature, name, "slope", (at) => faceSlopes(feature, at(feature))[name] ?? 0)],
  );
}

function quantity(
  feature: FittedFeature,
  name: string,
  unit: Quantity["unit"],
  value: (at: Parameters<Parameters<typeof propagate>[1]>[0]) => number,
): Quantity {
  const { value: values, sources, known } = propagate([feature], (at) => [value(at)]);
  const variance = sources.reduce((sum, { covariance }) => sum + (covariance[0]?.[0] ?? 0), 0);
  return { name, unit, value: values[0] ?? 0, uncertainty: known ? Math.sqrt(variance) : null };
}

/** Half way to the next plain reading of the ratio. */
const GOOD = 0.25;
const UNMOVED = 0.75;
const WRONG = 1.25;

function correction(feature: string, found: Quantity, left: Quantity): ReportCorrection<Said> {
  const ratio = tooSmall(found) ? null : left.value / found.value;
  const judged = judge(ratio);
  const said = (value: number): SaidValue =>
    found.unit === "slope" ? { slope: value, signed: true } : { mm: value, signed: true };
  const values = {
    feature,
    quantity: quantityWords(found.name),
    found: said(found.value),
    left: said(left.value),
  };
  return {
    feature,
    quantity: found.name,
    unit: found.unit,
    asFound: found.value,
    asLeft: left.value,
    wanted: -found.value,
    made: left.value - found.value,
    ratio,
    judged,
    because: say(READINGS[judged], values),
  };
}

/** What was found is within its own uncertainty of nothing: a ratio to it says nothing. */
const tooSmall = ({ value, uncertainty }: Quantity): boolean =>
  Math.abs(value) <= 2 * (uncertainty ?? 0) || value === 0;

function judge(ratio: number | null): ReportCorrection["judged"] {
  if (ratio === null) return "too-small";
  if (ratio < -GOOD) return "too-far";
  if (ratio <= GOOD) return "good";
  if (ratio < UNMOVED) return "partly";
  return ratio <= WRONG ? "nothing-moved" : "wrong-way";
}

const READINGS: Readonly<Record<ReportCorrection["judged"], string>> = {
  good: "{feature}: {quantity} went from {found} to {left}: the correction was right.",
  partly: "{feature}: {quantity} went from {found} to {left}: the right way, but not far enough.",
  "nothing-moved":
    "{feature}: {quantity} was {found} and is {left}: nothing moved. Were the bolts loose, and was it the right face and register?",
  "wrong-way":
    "{feature}: {quantity} went from {found} to {left}: the correction went the wrong way. Check the sign.",
  "too-far": "{feature}: {quantity} went from {found} to {left}: the right way, but too far.",
  "too-small":
    "{feature}: {quantity} was {found} and is {left}: what was found is within its own uncertainty, so a ratio says nothing.",
};
