import type { FittedFeature, Geometry } from "../../fittedFeature.ts";
import { propagate } from "../../propagate.ts";
import { expanded, uncertaintyOfLength, uncertaintyOfSigned } from "../../uncertainty.ts";

/**
 * Expanded uncertainty of a signed quantity of one feature (mm, or mm per mm), propagated from the scatter of its
 * readings. Null when no scatter is known or the quantity has no value nearby.
 */
export function doubtOf(
  feature: FittedFeature,
  quantity: (geometry: Geometry) => number | null,
): number | null {
  if (quantity(feature.geometry) === null) return null;
  const found = uncertaintyOfSigned(propagate([feature], (at) => [quantity(at(feature)) ?? Number.NaN]));
  return found === null ? null : finite(expanded(found));
}

/** The same for the length of a vector, wide enough near zero to hold a length of zero. */
export function doubtOfLength(
  feature: FittedFeature,
  vector: (geometry: Geometry) => readonly number[],
): number | null {
  const found = uncertaintyOfLength(propagate([feature], (at) => vector(at(feature))));
  return found === null ? null : finite(expanded(found));
}
const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);
