import { decimal } from "../value.ts";
import type { FeatureShape } from "./contract.ts";
import {
  axisOf,
  directionOf,
  formOf,
  LEAST_SQUARES,
  nominalDiameterOf,
  nominalDirection,
  placeOf,
  sideOf,
} from "./parts.ts";

export const cylinder: FeatureShape = {
  fits: ["cylinder"],
  element: "Cylinder",
  touched: true,
  aspects(facts) {
    const [place, direction, normal] = [placeOf(facts), directionOf(facts), nominalDirection(facts)];
    const diameter = nominalDiameterOf(facts);
    if (place === null || direction === null || normal === null || diameter === null) return null;
    return {
      definition: [sideOf(facts), decimal("Diameter", diameter)],
      nominal: [axisOf(place, normal)],
      measurement: [
        LEAST_SQUARES,
        axisOf(place, direction),
        decimal("Diameter", facts.record?.diameter),
        formOf(facts),
      ],
    };
  },
};
