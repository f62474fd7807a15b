import { variance } from "../../../math/covariance.ts";
import { coverageFactor } from "../../../math/studentT.ts";
import type { FittedFeature, Geometry } from "../../fittedFeature.ts";

/** A standard uncertainty with the degrees of freedom behind it. */
export interface Doubt {
  readonly standard: number;
  readonly degreesOfFreedom: number;
}

/**
 * Standard uncertainty of a quantity of one fitted feature, propagated from the scatter of one reading through the fit
 * (JCGM 100:2008, 5.2). Derivatives are central differences with steps of a thousandth of each parameter's own standard
 * deviation. Null when no scatter is known or the quantity has no value nearby.
 */
export function doubtOf(
  feature: FittedFeature,
  quantity: (geometry: Geometry) => number | null,
): Doubt | null {
  const { sigmaMm, degreesOfFreedom } = feature.scale;
  if (sigmaMm === null) return null;
  const { covariance, at } = feature.parameters;
  const gradient: number[] = [];
  for (let i = 0; i < covariance.length; i++) {
    const step = 1e-3 * Math.sqrt(covariance[i]?.[i] ?? 0);
    if (!(step > 0)) {
      gradient.push(0);
      continue;
    }
    const delta = (size: number): number[] => covariance.map((_, k) => (k === i ? size : 0));
    const [above, below] = [quantity(at(delta(step))), quantity(at(delta(-step)))];
    if (above === null || below === null) return null;
    gradient.push((above - below) / (2 * step));
  }
  return { standard: sigmaMm * Math.sqrt(Math.max(0, variance(covariance, gradient))), degreesOfFreedom };
}

/**
 * Doubts of independent parts with their factors, added in quadrature; degrees of freedom by Welch and Satterthwaite
 * (JCGM 100:2008, G.4). Null when one of them is not known.
 */
export function combined(
  parts: readonly { readonly doubt: Doubt | null; readonly factor: number }[],
): Doubt | null {
  let square = 0;
  let fourth = 0;
  for (const { doubt, factor } of parts) {
    if (doubt === null) return null;
    const part = (doubt.standard * factor) ** 2;
    square += part;
    fourth += part ** 2 / doubt.degreesOfFreedom;
  }
  return {
    standard: Math.sqrt(square),
    degreesOfFreedom: fourth > 0 ? square ** 2 / fourth : Number.POSITIVE_INFINITY,
  };
}

/** Expanded uncertainty: k = 2, or Student's t where the seen scatter of few readings governs. */
export function expanded(doubt: Doubt | null): number | null {
  if (doubt === null || !(doubt.degreesOfFreedom > 0)) return null;
  return doubt.standard * coverageFactor(doubt.degreesOfFreedom);
}
