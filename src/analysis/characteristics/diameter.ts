import { crowding } from "../../math/crowding.ts";
import { once } from "../../model/once.ts";
import { choice, optional } from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { formOf } from "../fitting/formOf.ts";
import { evaluation, noValue } from "../judging/evaluation.ts";
import { noZone } from "../judging/formValue.ts";
import { tipForSize } from "../judging/reasons.ts";
import { atReference } from "../judging/temperature.ts";
import { propagate } from "../propagate.ts";
import { uncertaintyOfSigned } from "../uncertainty.ts";
import type { CharacteristicKind, Evaluation, Operands } from "./contract.ts";

const inputs = once(() => ({ size: optional(choice(["least-squares", "inscribed", "circumscribed"])) }));

/**
 * Diameter of a circle, cylinder or sphere, mm: of the least-squares fit, or of the largest inscribed or smallest
 * circumscribed round. A rim sweep shows no size: its radius is what the plan says. Throws nothing for data.
 */
export const diameter: CharacteristicKind<typeof inputs> = {
  kind: "diameter",
  inputs,
  limit: "signed",
  limitDimension: "length",
  of: ["circle", "cylinder", "sphere"],
  to: [],
  toRequired: false,
  evaluate(entry, operands, context) {
    const { of } = operands;
    if (of.measured?.sweep !== undefined) return noValue(operands, SWEPT);
    if (of.geometry.radius === null) return noValue(operands, noZone(of.name, "No diameter is given."));
    const size = entry.inputs.size ?? "least-squares";
    return size === "least-squares" ? leastSquares(operands, context) : extreme(operands, context, size);
  },
};

const SWEPT = {
  text: say("A rim sweep shows where the round is and not how large: its radius is what the plan says.", {}),
  remedy: say("Touch the round with a probe, or measure it across.", {}),
};

function leastSquares({ of }: Operands, context: AnalysisContext): Evaluation {
  const measured = propagate([of], (at) => [2 * (at(of).radius ?? 0)]);
  return sized(of, context, {
    value: measured.value[0]!,
    uncertaintyFrom: (extra) => uncertaintyOfSigned(measured, extra),
    method: say("least-squares diameter", {}),
    byPoints: true,
  });
}

function extreme(
  operands: Operands,
  context: AnalysisContext,
  size: "inscribed" | "circumscribed",
): Evaluation {
  const { of } = operands;
  const form = formOf(of);
  const found = form.ok ? form.value[size] : null;
  if (found === null)
    return noValue(operands, noZone(of.name, form.ok ? "This fit has no such size." : form.text));
  const reading = of.scale.statedMm ?? of.scale.sigmaMm;
  // Of noisy touches on a good round the innermost, or outermost, holds: the size is off by chance, the more the more touches.
  const side = { sign: size === "inscribed" ? -1 : 1, weights: found.weights } as const;
  const radius = crowding(found.radii(), side, reading ?? 0);
  return sized(of, context, {
    value: found.size.diameter,
    uncertaintyFrom: (extra) =>
      uncertaintyOfSigned(
        {
          value: [found.size.diameter],
          sources: [{ covariance: [[4 * radius.variance]], degreesOfFreedom: Number.POSITIVE_INFINITY }],
          known: reading !== null,
        },
        extra,
        2 * radius.bias,
      ),
    method:
      size === "inscribed"
        ? say("diameter of the largest inscribed round", {})
        : say("diameter of the smallest circumscribed round", {}),
    byPoints: false,
  });
}

interface Sized {
  readonly value: number;
  uncertaintyFrom(extra: readonly number[]): Evaluation["uncertainty"];
  readonly method: Said;
  readonly byPoints: boolean;
}
function sized(
  of: FittedFeature,
  context: AnalysisContext,
  { value, uncertaintyFrom, method, byPoints }: Sized,
): Evaluation {
  const reference = atReference(value, [of], context);
  return evaluation({
    value: reference.value,
    uncertainty: uncertaintyFrom(reference.extra),
    points: of.count,
    method,
    undecided: tipForSize([of]),
    remarks: reference.remarks,
    shrinks: { byPoints, spanMm: null },
  });
}
