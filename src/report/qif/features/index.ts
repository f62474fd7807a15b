import { circle } from "./circle.ts";
import type { FeatureAspects, FeatureFacts, FeatureShape } from "./contract.ts";
import { cylinder } from "./cylinder.ts";
import { axis, line } from "./line.ts";
import { otherShape } from "./otherShape.ts";
import { plane } from "./plane.ts";
import { point } from "./point.ts";
import { sphere } from "./sphere.ts";

export const featureShapes: readonly FeatureShape[] = [
  plane,
  line,
  axis,
  circle,
  cylinder,
  sphere,
  point,
  otherShape,
];

const NOTHING: FeatureAspects = { definition: [], nominal: [], measurement: [] };
/** The shape that a feature is written as, with its aspects: its own, or the general one where too little is known. */
export function shapeOf(facts: FeatureFacts): {
  readonly shape: FeatureShape;
  readonly aspects: FeatureAspects;
} {
  const own = featureShapes.find(({ fits }) => fits.includes(facts.fit));
  const aspects = own?.aspects(facts) ?? null;
  if (own !== undefined && aspects !== null) return { shape: own, aspects };
  return { shape: otherShape, aspects: otherShape.aspects(facts) ?? NOTHING };
}
