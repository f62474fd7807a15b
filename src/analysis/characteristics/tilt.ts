import { dot, subtract, type Vec3 } from "../../math/vector.ts";
import { once } from "../../model/once.ts";
import { axis, optional, positiveLength } from "../../model/plan/fields.ts";
import { say } from "../../model/say.ts";
import { extentAlong } from "../features/line.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { axisIndex, axisVector, heightOf, largestAxis } from "../fitting/lineFrame.ts";
import { evaluation, noValue, travelTerm } from "../judging/evaluation.ts";
import { propagate } from "../propagate.ts";
import { uncertaintyOfSigned } from "../uncertainty.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ along: axis(), per: optional(positiveLength()) }));

/**
 * Tilt of a plane or line: its rise in mm `per` a length along an axis of the frame (absent: over the measured span), signed.
 * The rise of a plane is along the largest component of its normal, that of a line along its height. Throws nothing for data.
 */
export const tilt: CharacteristicKind<typeof inputs> = {
  kind: "tilt",
  inputs,
  limit: "signed",
  limitDimension: "length",
  of: ["plane", "line"],
  to: [],
  toRequired: false,
  evaluate(entry, operands, context) {
    const { of } = operands;
    const { along } = entry.inputs;
    const rise = riseOf(of);
    if (rise === null || rise.axis === axisIndex(along)) return noValue(operands, noRise(of.name, along));
    const [low, high] = extentAlong(of.points, of.geometry.center, axisVector(along));
    const spanMm = high - low;
    if (spanMm === 0) return noValue(operands, noRise(of.name, along));
    const per = entry.inputs.per ?? spanMm;
    const measured = propagate([of], (at) => [per * rise.slope(at(of).direction!, axisIndex(along))]);
    const beyond = per > spanMm * (1 + 1e-9);
    return evaluation({
      value: measured.value[0]!,
      uncertainty: uncertaintyOfSigned(measured, travelTerm(context, per / spanMm)),
      points: of.count,
      method: say("rise along {rise} per {per} along {along}", {
        rise: "XYZ"[rise.axis]!,
        per: { mm: per, as: "stated" },
        along: along.toUpperCase(),
      }),
      remarks: beyond
        ? [say("Scaled up from a measured span of {span}.", { span: { mm: spanMm, digits: 2 } })]
        : [],
      shrinks: { byPoints: true, spanMm },
    });
  },
};

interface Rise {
  readonly axis: 0 | 1 | 2;
  slope(direction: Vec3, along: 0 | 1 | 2): number;
}

/** How a feature rises: a plane by its normal, a line by its direction; null for a line whose height nothing tells. */
function riseOf(of: FittedFeature): Rise | null {
  const direction = of.geometry.direction!;
  if (of.extent === null) {
    const axis = largestAxis(direction);
    return { axis, slope: (normal, along) => -normal[along] / normal[axis] };
  }
  const readings = of.measured?.readings;
  const touches =
    readings?.i && readings.j && readings.k ? { x: readings.i, y: readings.j, z: readings.k } : null;
  const height = heightOf(of.points, direction, of.plan, touches);
  if (height === null) return null;
  const axis = largestAxis(height);
  return { axis, slope: (line, along) => line[axis] / line[along] };
}

const noRise = (feature: string, along: string) => ({
  text: say("{feature} has no rise that could be told along {along}.", {
    feature,
    along: along.toUpperCase(),
  }),
  remedy: say("State along and height of {feature} in the plan.", { feature }),
});

/** Place of a point along a direction from a centre. */
export const placeAlong = (place: Vec3, center: Vec3, direction: Vec3): number =>
  dot(subtract(place, center), direction);
