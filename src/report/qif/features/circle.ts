import { decimal } from "../value.ts";
import type { FeatureShape } from "./contract.ts";
import {
  directionOf,
  formOf,
  LEAST_SQUARES,
  nominalDiameterOf,
  nominalDirection,
  placeOf,
  sideOf,
  triple,
} from "./parts.ts";

export const circle: FeatureShape = {
  fits: ["circle"],
  element: "Circle",
  touched: true,
  aspects(facts) {
    const [place, direction, normal] = [placeOf(facts), directionOf(facts), nominalDirection(facts)];
    const diameter = nominalDiameterOf(facts);
    if (place === null || direction === null || normal === null || diameter === null) return null;
    return {
      definition: [sideOf(facts), decimal("Diameter", diameter)],
      nominal: [triple("Location", place), triple("Normal", normal)],
      measurement: [
        LEAST_SQUARES,
        triple("Location", place),
        triple("Normal", direction),
        decimal("Diameter", facts.record?.diameter),
        formOf(facts),
      ],
    };
  },
};
