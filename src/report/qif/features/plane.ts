import type { FeatureShape } from "./contract.ts";
import { directionOf, formOf, LEAST_SQUARES, nominalDirection, placeOf, triple } from "./parts.ts";

export const plane: FeatureShape = {
  fits: ["plane"],
  element: "Plane",
  touched: true,
  aspects(facts) {
    const [place, direction, normal] = [placeOf(facts), directionOf(facts), nominalDirection(facts)];
    if (place === null || direction === null || normal === null) return null;
    return {
      definition: [],
      nominal: [triple("Location", place), triple("Normal", normal)],
      measurement: [LEAST_SQUARES, triple("Location", place), triple("Normal", direction), formOf(facts)],
    };
  },
};
