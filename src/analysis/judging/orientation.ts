import type { Outcome } from "../../math/outcome.ts";
import { dot, scale, subtract, type Vec3 } from "../../math/vector.ts";
import type { OrientationZone } from "../../math/zones/orientationZone.ts";
import { choice, optional } from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { Evaluation, Operands } from "../characteristics/contract.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { type DatumKind, datumOf } from "../fitting/datum.ts";
import { heightsAlong } from "../fitting/places.ts";
import { propagate, propagateKinked } from "../propagate.ts";
import { uncertaintyOfForm, uncertaintyOfLength } from "../uncertainty.ts";
import { evaluation, measuredLength, noValue, pointsOf, travelTerm } from "./evaluation.ts";
import { chanceRemark, noZone } from "./formValue.ts";
import { extrapolated, tipForPlace, tooFewPoints } from "./reasons.ts";

/** `datum: least-squares` (default) or `tangent`. */
export const datumChoice = () => optional(choice(["least-squares", "tangent"]));

export interface FaceZone {
  readonly datum: DatumKind;
  /** Turns over which the zone is made least. */
  readonly freedoms: number;
  readonly method: Said;
  /** The zone for a direction of the datum's normal. */
  zone(of: FittedFeature, normal: Vec3): Outcome<OrientationZone>;
}

/**
 * Orientation zone of a face against a datum plane. Its uncertainty is that of the points that hold the zone and of the
 * datum's slopes, the zone being computed anew for turns of the datum by its own scatter.
 */
export function faceZone(operands: Operands, context: AnalysisContext, words: FaceZone): Evaluation {
  const { of } = operands;
  const { feature: datum, remarks } = datumOf(operands.to ?? of, words.datum);
  const found = words.zone(of, datum.geometry.direction!);
  if (!found.ok) return noValue(operands, noZone(of.name, found.text));
  const turned = propagateKinked([datum], (at) => {
    const zone = words.zone(of, at(datum).direction!);
    return zone.ok ? zone.width : found.width;
  });
  return evaluation({
    value: found.width,
    uncertainty: uncertaintyOfForm({
      value: found.width,
      upper: found.upper.map(({ weight }) => weight),
      lower: found.lower.map(({ weight }) => weight),
      readingMm: of.scale.statedMm,
      points: of.count,
      freedoms: words.freedoms,
      places: () => heightsAlong(of.points, of.geometry.center, found.normal),
      datum: turned,
      extra: travelTerm(context),
    }),
    points: of.count,
    method: words.method,
    undecided: tooFewPoints(of, context),
    remarks: [...remarks, ...chanceRemark(found.width, of.scale.statedMm, of.count, words.freedoms)],
  });
}

export interface AxisZone {
  readonly datum: DatumKind;
  /** Length over which the zone is taken, mm; null for the measured length. */
  readonly lengthMm: number | null;
  readonly method: Said;
  /** What counts of the axis's vector over its length, for a direction of the datum. */
  part(span: Vec3, datum: Vec3): readonly number[];
}

/** Orientation zone of a straight axis: the part of its vector, over a length, that the datum does not allow. */
export function axisZone(operands: Operands, context: AnalysisContext, words: AxisZone): Evaluation {
  const { of } = operands;
  const { feature: datum, remarks } = datumOf(operands.to ?? of, words.datum);
  const spanMm = measuredLength(of);
  const lengthMm = words.lengthMm ?? spanMm;
  const measured = propagate([of, datum], (at) =>
    words.part(scale(at(of).direction!, lengthMm), at(datum).direction!),
  );
  return evaluation({
    value: Math.hypot(...measured.value),
    uncertainty: uncertaintyOfLength(measured, {
      extra: spanMm > 0 ? travelTerm(context, lengthMm / spanMm) : [],
    }),
    points: pointsOf(of),
    method: words.method,
    undecided: [...extrapolated(of, lengthMm, spanMm), ...(of.derived === null ? [] : tipForPlace([of]))],
    remarks: [
      ...remarks,
      say("Taken over {length}; measured over {measured}.", {
        length: { mm: lengthMm, as: "stated" },
        measured: { mm: spanMm, digits: 3 },
      }),
    ],
    shrinks: { byPoints: true, spanMm },
  });
}

/** The part of a vector along a direction, and the part square to it. */
export const alongPart = (span: Vec3, direction: Vec3): readonly number[] => [dot(span, direction)];
export const acrossPart = (span: Vec3, direction: Vec3): readonly number[] =>
  subtract(span, scale(direction, dot(span, direction)));
