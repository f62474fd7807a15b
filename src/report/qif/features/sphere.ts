import { decimal } from "../value.ts";
import type { FeatureShape } from "./contract.ts";
import { formOf, LEAST_SQUARES, nominalDiameterOf, placeOf, sideOf, triple } from "./parts.ts";

export const sphere: FeatureShape = {
  fits: ["sphere"],
  element: "Sphere",
  touched: true,
  aspects(facts) {
    const [place, diameter] = [placeOf(facts), nominalDiameterOf(facts)];
    if (place === null || diameter === null) return null;
    return {
      definition: [sideOf(facts), decimal("Diameter", diameter)],
      nominal: [triple("Location", place)],
      measurement: [
        LEAST_SQUARES,
        triple("Location", place),
        decimal("Diameter", facts.record?.diameter),
        formOf(facts),
      ],
    };
  },
};
