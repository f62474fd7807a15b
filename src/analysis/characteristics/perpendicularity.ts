import { perpendicularityZone } from "../../math/zones/orientationZone.ts";
import { once } from "../../model/once.ts";
import { optional, positiveLength } from "../../model/plan/fields.ts";
import { say } from "../../model/say.ts";
import { acrossPart, axisZone, datumChoice, faceZone } from "../judging/orientation.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ datum: datumChoice(), length: optional(positiveLength()) }));

/**
 * Perpendicularity (ISO 1101), mm. Of a face: least distance of two parallel planes square to the datum plane that hold all
 * points, searched about the fitted direction. Of a cylinder or axis: diameter of the smallest cylinder square to the datum
 * plane that holds the fitted axis over its measured length, or over `length`. Throws nothing for data.
 */
export const perpendicularity: CharacteristicKind<typeof inputs> = {
  kind: "perpendicularity",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["plane", "cylinder", "axis"],
  to: ["plane"],
  toRequired: true,
  evaluate(entry, operands, context) {
    const datum = entry.inputs.datum ?? "least-squares";
    if (operands.of.extent === null)
      return faceZone(operands, context, {
        datum,
        freedoms: 1,
        method: say("two parallel planes square to the datum that hold all points (ISO 1101)", {}),
        zone: (of, normal) =>
          perpendicularityZone(of.points, { datum: normal, about: of.geometry.direction! }),
      });
    return axisZone(operands, context, {
      datum,
      lengthMm: entry.inputs.length ?? null,
      method: say("diameter of the cylinder square to the datum that holds the fitted axis (ISO 1101)", {}),
      part: acrossPart,
    });
  },
};
