import { once } from "../../model/once.ts";
import { say } from "../../model/say.ts";
import { formValue, zoneChoice } from "../judging/formValue.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ zone: zoneChoice() }));

/**
 * Straightness of a line (ISO 12780 sense): least distance of two parallel lines that hold all points in the plane of
 * travel and height, mm. `zone: least-squares` gives the spread about the fitted line. Throws nothing for data.
 */
export const straightness: CharacteristicKind<typeof inputs> = {
  kind: "straightness",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["line"],
  to: [],
  toRequired: false,
  evaluate: (entry, operands, context) =>
    formValue(operands, context, {
      zone: entry.inputs.zone ?? "minimum",
      freedoms: 1,
      minimum: say("minimum zone of two parallel lines in the plane of travel and height", {}),
      leastSquares: say("spread about the least-squares line", {}),
    }),
};
