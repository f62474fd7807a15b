import { once } from "../../model/once.ts";
import { say } from "../../model/say.ts";
import { formValue, zoneChoice } from "../judging/formValue.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ zone: zoneChoice() }));

/**
 * Cylindricity (ISO 12180): least radial distance of two coaxial cylinders that hold all points, mm; the axis is searched
 * near the fitted one. `zone: least-squares` gives the spread about the fitted cylinder. Throws nothing for data.
 */
export const cylindricity: CharacteristicKind<typeof inputs> = {
  kind: "cylindricity",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["cylinder"],
  to: [],
  toRequired: false,
  evaluate: (entry, operands, context) =>
    formValue(operands, context, {
      zone: entry.inputs.zone ?? "minimum",
      freedoms: 4,
      minimum: say("minimum zone of two coaxial cylinders (ISO 12180)", {}),
      leastSquares: say("spread about the least-squares cylinder", {}),
    }),
};
