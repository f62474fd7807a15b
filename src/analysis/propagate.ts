import type { FittedFeature, Geometry } from "./fittedFeature.ts";

/** What one source of scatter adds to the covariance of a quantity with several components. */
export interface Source {
  readonly covariance: readonly (readonly number[])[];
  readonly degreesOfFreedom: number;
}
/** A quantity computed from fitted features, with the covariance that each measured feature adds. */
export interface Propagated {
  readonly value: readonly number[];
  readonly sources: readonly Source[];
  /** False when a feature that matters has no known scatter: then the sources are not all there. */
  readonly known: boolean;
}
/** Gives the geometry of a feature, changed where the propagation is trying a change. */
export type GeometryOf = (feature: FittedFeature) => Geometry;

const identity = (feature: FittedFeature): string => `${feature.state} ${feature.name}`;

/** The measured features behind features, each once: an axis stands for those it goes through. */
export function measuredFeatures(features: readonly FittedFeature[]): readonly FittedFeature[] {
  const found = new Map<string, FittedFeature>();
  const visit = (feature: FittedFeature): void => {
    if (feature.derived === null) found.set(identity(feature), feature);
    else feature.through.forEach(visit);
  };
  features.forEach(visit);
  return [...found.values()];
}

/** Geometry of a feature when one measured feature has another geometry. */
function changed(source: FittedFeature | null, geometry: Geometry | null): GeometryOf {
  const at: GeometryOf = (feature) => {
    if (feature.derived !== null)
      return source === null ? feature.geometry : feature.derived(feature.through.map(at));
    return source !== null && geometry !== null && identity(feature) === identity(source)
      ? geometry
      : feature.geometry;
  };
  return at;
}

/**
 * Propagates the scatter of the readings through fits to a quantity with one or more components (mm or radians):
 * covariance = J C J^T s^2 for each measured feature, J by central differences on the parameters of its fit, C its
 * unscaled covariance and s the scatter of one reading. A feature that is used twice is one source, so that what is common
 * cancels or adds as it must. `quantity` must be smooth where it is called.
 * Source: JCGM 102:2011, 6.2 (several output quantities).
 * @example propagate([bore, rim], (at) => subtract(at(bore).center, at(rim).center))
 */
export function propagate(
  features: readonly FittedFeature[],
  quantity: (at: GeometryOf) => readonly number[],
): Propagated {
  const value = quantity(changed(null, null));
  const sources: Source[] = [];
  let known = true;
  for (const feature of measuredFeatures(features)) {
    const columns = derivatives(feature, quantity, value.length);
    if (columns.every((column) => column.every((entry) => entry === 0))) continue;
    const { sigmaMm, degreesOfFreedom } = feature.scale;
    if (sigmaMm === null) known = false;
    else
      sources.push({
        covariance: sandwich(columns, feature.parameters.covariance, sigmaMm, value.length),
        degreesOfFreedom,
      });
  }
  return { value, sources, known };
}

/** Derivatives of the components by each parameter of one feature's fit. */
function derivatives(
  feature: FittedFeature,
  quantity: (at: GeometryOf) => readonly number[],
  size: number,
): readonly (readonly number[])[] {
  const { covariance, at } = feature.parameters;
  return covariance.map((row, j) => {
    // A small part of the parameter's own scatter for a reading scatter of 1 mm: small against any curvature.
    const step = 1e-4 * Math.sqrt(row[j] ?? 0);
    if (!(step > 0)) return new Array<number>(size).fill(0);
    const moved = (by: number) =>
      quantity(changed(feature, at(covariance.map((_, k) => (k === j ? by : 0)))));
    const [ahead, behind] = [moved(step), moved(-step)];
    return ahead.map((entry, i) => (entry - behind[i]!) / (2 * step));
  });
}

function sandwich(
  columns: readonly (readonly number[])[],
  covariance: readonly (readonly number[])[],
  sigma: number,
  size: number,
): number[][] {
  const entry = (a: number, b: number): number => {
    let total = 0;
    columns.forEach((first, i) => {
      columns.forEach((second, j) => {
        total += first[a]! * covariance[i]![j]! * second[b]!;
      });
    });
    return total * sigma * sigma;
  };
  return Array.from({ length: size }, (_, a) => Array.from({ length: size }, (__, b) => entry(a, b)));
}
