import { dot, scale, subtract, type Vec3 } from "../../math/vector.ts";
import { say } from "../../model/say.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { axisVector, largestAxis } from "../fitting/lineFrame.ts";
import { evaluation } from "../judging/evaluation.ts";
import { propagate } from "../propagate.ts";
import { uncertaintyOfLength } from "../uncertainty.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = () => ({});

/**
 * Eccentricity: distance of a circle's centre from the axis of the sweep, or of a touched circle from the log's zero, mm,
 * square to the axis. Throws nothing for data.
 */
export const eccentricity: CharacteristicKind<typeof inputs> = {
  kind: "eccentricity",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["circle"],
  to: [],
  toRequired: false,
  evaluate(_, { of }) {
    const axis = axisOf(of);
    const measured = propagate([of], (at) => acrossAxis(at(of).center, axis));
    return evaluation({
      value: Math.hypot(...measured.value),
      uncertainty: uncertaintyOfLength(measured),
      points: of.count,
      method:
        of.measured?.sweep === undefined
          ? say("distance of the least-squares centre from the log's zero, square to the axis", {})
          : say("distance of the least-squares centre from the axis of the sweep", {}),
      shrinks: { byPoints: true, spanMm: null },
    });
  },
};

/** The stated normal, else the axis of the frame nearest the circle's own: its small tilt must not lever the zero. */
const axisOf = ({ plan, geometry }: FittedFeature): Vec3 => {
  if (plan?.normal) return scale(plan.normal, 1 / Math.hypot(...plan.normal));
  return axisVector((["x", "y", "z"] as const)[largestAxis(geometry.direction ?? [0, 0, 1])]);
};
const acrossAxis = (place: Vec3, axis: Vec3): Vec3 => subtract(place, scale(axis, dot(place, axis)));
