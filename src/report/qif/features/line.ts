import type { XmlElement } from "../xml.ts";
import type { FeatureFacts, FeatureShape } from "./contract.ts";
import { directionOf, formOf, LEAST_SQUARES, nominalDirection, placeOf, triple } from "./parts.ts";

export const line: FeatureShape = {
  fits: ["line"],
  element: "Line",
  touched: true,
  aspects: (facts) => along(facts, [LEAST_SQUARES]),
};
/** An axis through the centres of other features; the standard has lines, and no axis of its own. */
export const axis: FeatureShape = {
  fits: ["axis"],
  element: "Line",
  touched: false,
  aspects: (facts) => along(facts, []),
};

function along(facts: FeatureFacts, algorithm: readonly XmlElement[]) {
  const [place, direction, nominal] = [placeOf(facts), directionOf(facts), nominalDirection(facts)];
  if (place === null || direction === null || nominal === null) return null;
  return {
    definition: [],
    nominal: [triple("Location", place), triple("Direction", nominal)],
    measurement: [...algorithm, triple("Location", place), triple("Direction", direction), formOf(facts)],
  };
}
