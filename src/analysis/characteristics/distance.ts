import { centroid } from "../../math/points.ts";
import { dot, subtract, type Vec3 } from "../../math/vector.ts";
import { once } from "../../model/once.ts";
import { axis, optional } from "../../model/plan/fields.ts";
import { say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature, Geometry } from "../fittedFeature.ts";
import { type DatumKind, datumOf } from "../fitting/datum.ts";
import { axisIndex } from "../fitting/lineFrame.ts";
import { evaluation, noValue, pointsOf } from "../judging/evaluation.ts";
import { datumChoice } from "../judging/orientation.ts";
import { tipForPlace } from "../judging/reasons.ts";
import { atReference } from "../judging/temperature.ts";
import { type GeometryOf, propagate } from "../propagate.ts";
import { uncertaintyOfLength, uncertaintyOfSigned } from "../uncertainty.ts";
import type { CharacteristicKind, Evaluation, Operands } from "./contract.ts";

const inputs = once(() => ({ along: optional(axis()), datum: datumChoice() }));
const PLACED = ["point", "circle", "plane", "sphere"];

/**
 * Distance of a feature from another (this less that), mm. To a plane: along the datum's outward normal, of a plane the mean
 * over its points. Between centres: in space, or with `along` signed along that axis; without `to`, along the axis from the
 * log's zero. Throws nothing for data.
 */
export const distance: CharacteristicKind<typeof inputs> = {
  kind: "distance",
  inputs,
  limit: "signed",
  limitDimension: "length",
  of: PLACED,
  to: PLACED,
  toRequired: false,
  evaluate(entry, operands, context) {
    const { along } = entry.inputs;
    const index = along === undefined ? null : axisIndex(along);
    const { to } = operands;
    if (to === null) return fromZero(operands, index);
    if (to.fit === "plane")
      return fromPlane(operands, context, { index, datum: entry.inputs.datum ?? "least-squares" });
    return fromCenter(operands, context, index);
  },
};

type AxisIndex = 0 | 1 | 2;

function fromZero(operands: Operands, index: AxisIndex | null): Evaluation {
  const { of } = operands;
  if (index === null)
    return noValue(operands, {
      text: say("The plan does not say from where the distance of {feature} counts.", { feature: of.name }),
      remedy: say("State to or along.", {}),
    });
  const measured = propagate([of], (at) => [at(of).center[index]]);
  return evaluation({
    value: measured.value[0]!,
    uncertainty: uncertaintyOfSigned(measured),
    points: pointsOf(of),
    method: say("place of the centre along {axis} from the log's zero", { axis: "XYZ"[index]! }),
    undecided: tipForPlace([of]),
    shrinks: { byPoints: true, spanMm: null },
  });
}

/** Along the datum's normal, or along an axis of the frame to where it meets the datum plane. */
function fromPlane(
  operands: Operands,
  context: AnalysisContext,
  { index, datum }: { index: AxisIndex | null; datum: DatumKind },
): Evaluation {
  const { of } = operands;
  const { feature: to, remarks } = datumOf(operands.to!, datum);
  const middle = placeOf(of);
  const measured = propagate([of, to], (at) => [heightOver(at(to), middle(at), index)]);
  return signed(context, {
    measured,
    features: [of, to],
    method:
      of.fit === "plane"
        ? say("mean distance of the points from the datum plane", {})
        : say("distance of the centre from the datum plane", {}),
    remarks,
  });
}

/** The place that stands for a feature: its centre. The mean of a plane's points is its centre moved with its fit. */
function placeOf(of: FittedFeature): (at: GeometryOf) => Vec3 {
  const mean = of.fit === "plane" ? centroid(of.points) : of.geometry.center;
  const shift = subtract(mean, of.geometry.center);
  return (at) => {
    const { center } = at(of);
    return [center[0] + shift[0], center[1] + shift[1], center[2] + shift[2]];
  };
}

function heightOver({ center, direction }: Geometry, place: Vec3, index: AxisIndex | null): number {
  const height = dot(subtract(place, center), direction!);
  return index === null ? height : height / direction![index];
}

function fromCenter(operands: Operands, context: AnalysisContext, index: AxisIndex | null): Evaluation {
  const { of } = operands;
  const to = operands.to!;
  if (of.fit === "plane") {
    const measured = propagate([of, to], (at) => [-heightOver(at(of), at(to).center, index)]);
    return signed(context, {
      measured,
      features: [of, to],
      method: say("distance of the plane from the centre", {}),
    });
  }
  if (index !== null) {
    const measured = propagate([of, to], (at) => [at(of).center[index] - at(to).center[index]]);
    const method = say("centre less centre along {axis}", { axis: "XYZ"[index]! });
    return signed(context, { measured, features: [of, to], method });
  }
  const measured = propagate([of, to], (at) => subtract(at(of).center, at(to).center));
  const reference = atReference(Math.hypot(...measured.value), [of, to], context);
  return evaluation({
    value: reference.value,
    uncertainty: uncertaintyOfLength(measured, { extra: reference.extra }),
    points: pointsOf(of) + pointsOf(to),
    method: say("distance between centres in space", {}),
    undecided: tipForPlace([of, to]),
    remarks: reference.remarks,
    shrinks: { byPoints: true, spanMm: null },
  });
}

interface Signed {
  readonly measured: ReturnType<typeof propagate>;
  readonly features: readonly FittedFeature[];
  readonly method: Evaluation["method"];
  readonly remarks?: Evaluation["remarks"];
}
function signed(context: AnalysisContext, { measured, features, method, remarks = [] }: Signed): Evaluation {
  const reference = atReference(measured.value[0]!, features, context);
  return evaluation({
    value: reference.value,
    uncertainty: uncertaintyOfSigned(measured, reference.extra),
    points: features.reduce((total, feature) => total + pointsOf(feature), 0),
    method,
    undecided: tipForPlace(features),
    remarks: [...remarks, ...reference.remarks],
    shrinks: { byPoints: true, spanMm: null },
  });
}
