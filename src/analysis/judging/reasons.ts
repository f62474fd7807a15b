import { type SaidValue, say } from "../../model/say.ts";
import type { UndecidedReason } from "../characteristics/contract.ts";
import type { AnalysisContext } from "../context.ts";
import { fitKind } from "../features/index.ts";
import type { FittedFeature } from "../fittedFeature.ts";

/** Fewest points for a form verdict on a fit: the plan's number, else the fit's own; null where the fit has no form. */
export function formPointsFor(feature: Pick<FittedFeature, "fit">, context: AnalysisContext): number | null {
  return context.plan.points[feature.fit] ?? fitKind(feature.fit).formPoints;
}

/** Too few points for a form, an orientation zone of a plane or a harmonic; empty when there are enough. */
export function tooFewPoints(
  feature: FittedFeature,
  context: AnalysisContext,
  { count = feature.count, wanted = formPointsFor(feature, context), noun = feature.name as SaidValue } = {},
): readonly UndecidedReason[] {
  if (wanted === null || count >= wanted) return [];
  return [
    {
      text: say("{count} points on {feature} are too few to say: at least {wanted} are needed.", {
        count,
        feature: noun,
        wanted,
      }),
      remedy: say(
        "Touch {feature} in at least {wanted} places, {more} more than now, spread over all of it.",
        {
          feature: noun,
          wanted,
          more: wanted - count,
        },
      ),
    },
  ];
}

/** A size needs the tip taken off. */
export function tipForSize(features: readonly FittedFeature[]): readonly UndecidedReason[] {
  return features.filter(({ tipUnknown }) => tipUnknown).map(tipReason);
}
/** The place of a single surface needs the tip taken off; the centre of a round does not. */
export function tipForPlace(features: readonly FittedFeature[]): readonly UndecidedReason[] {
  return tipForSize(features.filter(({ fit }) => fitKind(fit).singleSurface));
}
function tipReason(feature: FittedFeature): UndecidedReason {
  return {
    text: say("The tip is not taken off {feature}. {problem}", {
      feature: feature.name,
      problem: feature.tipProblem ?? "",
    }),
    remedy: say(
      "State in the log's header points: surface, or points: ball-center with tip-diameter, and in the plan which side the material is on.",
      {},
    ),
  };
}

/** A zone over more than what was measured. */
export function extrapolated(
  feature: FittedFeature,
  lengthMm: number,
  measuredMm: number,
): readonly UndecidedReason[] {
  if (lengthMm <= measuredMm * (1 + 1e-9)) return [];
  return [
    {
      text: say("{feature} was measured over {measured}; {length} is beyond that.", {
        feature: feature.name,
        measured: { mm: measuredMm, digits: 3 },
        length: { mm: lengthMm, as: "stated" },
      }),
      remedy: say("Measure {feature} over at least {length}.", {
        feature: feature.name,
        length: { mm: lengthMm, as: "stated" },
      }),
    },
  ];
}
