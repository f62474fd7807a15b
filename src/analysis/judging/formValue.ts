import { choice, optional } from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { Evaluation, Operands } from "../characteristics/contract.ts";
import type { AnalysisContext } from "../context.ts";
import { formOf } from "../fitting/formOf.ts";
import { uncertaintyOfForm, zoneOfChance } from "../uncertainty.ts";
import { evaluation, noValue, travelTerm } from "./evaluation.ts";
import { tooFewPoints } from "./reasons.ts";

/** `zone: minimum` (default) or `least-squares`. */
export const zoneChoice = () => optional(choice(["minimum", "least-squares"]));

export interface FormWords {
  readonly zone: "minimum" | "least-squares";
  /** Tilts or shifts over which the zone is made least. */
  readonly freedoms: number;
  readonly minimum: Said;
  readonly leastSquares: Said;
}

/** Form of one feature as its fit gives it: the minimum zone, or the spread about the fit when asked for. */
export function formValue(operands: Operands, context: AnalysisContext, words: FormWords): Evaluation {
  const { of } = operands;
  const form = formOf(of);
  if (!form.ok || form.value.zone === null)
    return noValue(operands, noZone(of.name, form.ok ? null : form.text));
  const { zone, places } = form.value;
  const minimum = words.zone === "minimum";
  const value = minimum ? zone.minimum : zone.leastSquares;
  const support = minimum && zone.support ? zone.support : ENDS;
  return evaluation({
    value,
    uncertainty: uncertaintyOfForm({
      value,
      upper: support.flatMap(({ weight }) => (weight > 0 ? [weight] : [])),
      lower: support.flatMap(({ weight }) => (weight < 0 ? [-weight] : [])),
      places: () => places(words.zone),
      readingMm: of.scale.statedMm,
      points: of.count,
      freedoms: words.freedoms,
      extra: travelTerm(context),
    }),
    points: of.count,
    method: minimum ? words.minimum : words.leastSquares,
    undecided: tooFewPoints(of, context),
    remarks: [
      ...chanceRemark(value, of.scale.statedMm, of.count, words.freedoms),
      ...proofRemark(minimum, zone.proof),
    ],
  });
}

/** A spread hangs on its two ends. */
const ENDS = [{ weight: 1 }, { weight: -1 }];

/** Says when the readings' own uncertainty would make as large a form on a perfect feature. */
export function chanceRemark(
  value: number,
  readingMm: number | null,
  points: number,
  freedoms: number,
): readonly Said[] {
  if (readingMm === null) return [];
  const chance = readingMm * zoneOfChance(points, freedoms);
  if (value > chance || chance === 0) return [];
  return [
    say("Up to {chance} would be read on a perfect feature from the uncertainty of {count} readings alone.", {
      chance: { mm: chance, as: "uncertainty" },
      count: points,
    }),
  ];
}

const proofRemark = (minimum: boolean, proof: "global" | "local" | "none"): readonly Said[] => {
  if (!minimum || proof === "global") return [];
  return [
    proof === "local"
      ? say("The zone is the least among all small changes of the position found.", {})
      : say("The spread about the fit is an upper bound of the minimum zone.", {}),
  ];
};

export const noZone = (feature: string, reason: string | null) => ({
  text: say("The form of {feature} cannot be told. {reason}", {
    feature,
    reason: say(reason ?? "There are no touches."),
  }),
  remedy: say("Touch {feature} again in more and better spread places.", { feature }),
});
