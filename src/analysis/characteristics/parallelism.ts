import { parallelZone } from "../../math/zones/orientationZone.ts";
import { once } from "../../model/once.ts";
import { optional, positiveLength } from "../../model/plan/fields.ts";
import { say } from "../../model/say.ts";
import { acrossPart, alongPart, axisZone, datumChoice, faceZone } from "../judging/orientation.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ datum: datumChoice(), length: optional(positiveLength()) }));
const AXES = ["axis", "cylinder", "line"];

/**
 * Parallelism (ISO 1101), mm. Of a face to a plane: largest less smallest distance of its points from the datum plane. Of an
 * axis: diameter of the cylinder along the datum axis, or distance of the two planes parallel to the datum plane, that hold
 * it over its measured length, or over `length`. Throws nothing for data.
 */
export const parallelism: CharacteristicKind<typeof inputs> = {
  kind: "parallelism",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["plane", ...AXES],
  to: ["plane", ...AXES],
  toRequired: true,
  evaluate(entry, operands, context) {
    const datum = entry.inputs.datum ?? "least-squares";
    const planeDatum = operands.to?.extent === null;
    if (operands.of.extent === null)
      return faceZone(operands, context, {
        datum,
        freedoms: 0,
        method: say("largest less smallest distance from the datum plane (ISO 1101)", {}),
        zone: (of, normal) => parallelZone(of.points, { datum: normal }),
      });
    return axisZone(operands, context, {
      datum,
      lengthMm: entry.inputs.length ?? null,
      method: planeDatum
        ? say("distance of two planes parallel to the datum that hold the axis (ISO 1101)", {})
        : say("diameter of the cylinder along the datum axis that holds the axis (ISO 1101)", {}),
      part: planeDatum ? alongPart : acrossPart,
    });
  },
};
