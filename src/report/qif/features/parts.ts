import { isPlace, type Triple, tripleText } from "../attributes.ts";
import { decimal, isKnown } from "../value.ts";
import { element, type XmlElement } from "../xml.ts";
import type { FeatureFacts } from "./contract.ts";

/** Where a fitted feature is; null when the fit gave nothing. */
export function placeOf({ record }: FeatureFacts): Triple | null {
  return isPlace(record?.center) ? record.center : null;
}
export function directionOf({ record }: FeatureFacts): Triple | null {
  return isPlace(record?.direction) ? record.direction : null;
}
const AXES = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] } as const;
/** The direction that the plan states, else the measured one, as a unit vector. */
export function nominalDirection(facts: FeatureFacts): Triple | null {
  const { normal = null, along = null } = facts.plan ?? {};
  if (facts.fit === "line" && along !== null) return AXES[along];
  if (!isPlace(normal)) return directionOf(facts);
  const size = Math.hypot(...normal);
  return size > 0 ? [normal[0] / size, normal[1] / size, normal[2] / size] : directionOf(facts);
}
/** The diameter aimed at; where nobody states one, the measured. */
export function nominalDiameterOf(facts: FeatureFacts): number | null {
  const diameter = facts.nominalDiameter ?? facts.record?.diameter;
  return isKnown(diameter) ? diameter : null;
}

export const triple = (name: string, value: Triple): XmlElement => element(name, tripleText(value));
export const axisOf = (point: Triple, direction: Triple): XmlElement =>
  element("Axis", [triple("AxisPoint", point), triple("Direction", direction)]);

/** Orthogonal-distance least squares, as all fits of points are. */
export const LEAST_SQUARES = element("SubstituteFeatureAlgorithm", [
  element("SubstituteFeatureAlgorithmEnum", "LEASTSQUARES"),
]);
export const formOf = ({ record }: FeatureFacts): XmlElement | null => decimal("Form", record?.zone?.minimum);

const SIDES = { bore: "INTERNAL", boss: "EXTERNAL" } as const;
/** Which side of the material a round is; the third word is the standard's only one for `not stated`. */
export function sideOf({ plan }: FeatureFacts): XmlElement {
  const surface = plan?.surface ?? null;
  return element("InternalExternal", surface === null ? "NOT_APPLICABLE" : SIDES[surface]);
}
