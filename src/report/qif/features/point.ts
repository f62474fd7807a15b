import type { FeatureShape } from "./contract.ts";
import { placeOf, triple } from "./parts.ts";

export const point: FeatureShape = {
  fits: ["point"],
  element: "Point",
  touched: true,
  aspects(facts) {
    const place = placeOf(facts);
    if (place === null) return null;
    return {
      definition: [],
      nominal: [triple("Location", place)],
      measurement: [triple("Location", place)],
    };
  },
};
