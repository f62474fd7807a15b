import { cross, dot, length, scale, type Vec3 } from "../../math/vector.ts";
import { say } from "../../model/say.ts";
import { evaluation, pointsOf } from "../judging/evaluation.ts";
import { propagate } from "../propagate.ts";
import { uncertaintyOfLength } from "../uncertainty.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = () => ({});
const DIRECTED = ["plane", "line", "circle", "cylinder", "axis"];

/**
 * Angle between two directions, 0 to 90 degrees (radians inside): normals of planes and circles, axes of the others, their
 * sense not counted. Throws nothing for data.
 */
export const angle: CharacteristicKind<typeof inputs> = {
  kind: "angle",
  inputs,
  limit: "either",
  limitDimension: "angle",
  of: DIRECTED,
  to: DIRECTED,
  toRequired: true,
  evaluate(_, { of, to }) {
    const datum = to ?? of;
    // Turned to the same side once, so that the angle stays smooth where it passes a right one.
    const same = dot(of.geometry.direction!, datum.geometry.direction!) < 0 ? -1 : 1;
    const measured = propagate([of, datum], (at) =>
      turnBetween(at(of).direction!, scale(at(datum).direction!, same)),
    );
    return evaluation({
      value: length(measured.value as Vec3),
      unit: "deg",
      uncertainty: uncertaintyOfLength(measured),
      points: pointsOf(of) + pointsOf(datum),
      method: say("angle between the directions of {of} and {to}", { of: of.name, to: datum.name }),
      shrinks: { byPoints: true, spanMm: null },
    });
  },
};

/** The turn from one direction to the other: axis times angle, smooth also where it is nil. */
function turnBetween(first: Vec3, second: Vec3): Vec3 {
  const axis = cross(first, second);
  const size = length(axis);
  const turn = Math.atan2(size, dot(first, second));
  return size < 1e-12 ? axis : scale(axis, turn / size);
}
