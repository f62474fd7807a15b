import { angularityZone } from "../../math/zones/orientationZone.ts";
import { once } from "../../model/once.ts";
import { angle } from "../../model/plan/fields.ts";
import { say } from "../../model/say.ts";
import { toDegrees } from "../decide.ts";
import { datumChoice, faceZone } from "../judging/orientation.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ angle: angle(), datum: datumChoice() }));

/**
 * Angularity of a face (ISO 1101): least distance of two parallel planes at the stated angle to the datum plane that hold
 * all points, searched about the fitted direction, mm. Throws nothing for data.
 */
export const angularity: CharacteristicKind<typeof inputs> = {
  kind: "angularity",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["plane"],
  to: ["plane"],
  toRequired: true,
  evaluate: (entry, operands, context) =>
    faceZone(operands, context, {
      datum: entry.inputs.datum ?? "least-squares",
      freedoms: 1,
      method: say("two parallel planes at {angle} to the datum that hold all points (ISO 1101)", {
        angle: { deg: toDegrees(entry.inputs.angle), as: "stated" },
      }),
      zone: (of, normal) =>
        angularityZone(of.points, {
          datum: normal,
          about: of.geometry.direction!,
          angle: entry.inputs.angle,
        }),
    }),
};
