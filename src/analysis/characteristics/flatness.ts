import { once } from "../../model/once.ts";
import { say } from "../../model/say.ts";
import { formValue, zoneChoice } from "../judging/formValue.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ zone: zoneChoice() }));

/**
 * Flatness of a plane (ISO 1101): least distance of two parallel planes that hold all points, mm. `zone: least-squares`
 * gives the spread about the fitted plane. Throws nothing for data.
 */
export const flatness: CharacteristicKind<typeof inputs> = {
  kind: "flatness",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["plane"],
  to: [],
  toRequired: false,
  evaluate: (entry, operands, context) =>
    formValue(operands, context, {
      zone: entry.inputs.zone ?? "minimum",
      freedoms: 2,
      minimum: say("minimum zone of two parallel planes (ISO 1101)", {}),
      leastSquares: say("spread about the least-squares plane", {}),
    }),
};
