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

/**
 * As `propagate`, for one quantity that may have a kink where it is called (mm or radians): the width of a zone is least
 * where face and datum agree, so that its derivative there is zero although every turn of the datum widens it. The fit is
 * moved by its own scatter along independent directions (the columns of the Cholesky factor of its covariance), both ways,
 * and the larger change counts: then the share does not jump where the quantity comes to the kink.
 * Source: JCGM 100:2008, 5.1.3 note 2 (changes by the uncertainty itself in place of derivatives); the larger of both: own.
 * @example propagateKinked([datum], (at) => width(at(datum).direction))
 */
export function propagateKinked(
  features: readonly FittedFeature[],
  quantity: (at: GeometryOf) => number,
): Propagated {
  const value = quantity(changed(null, null));
  const sources: Source[] = [];
  let known = true;
  for (const feature of measuredFeatures(features)) {
    const { at, covariance } = feature.parameters;
    const { sigmaMm, degreesOfFreedom } = feature.scale;
    // Where the scatter is nil or not known, a small step tells whether the feature matters at all.
    const scatter = sigmaMm !== null && sigmaMm > 0 ? sigmaMm : 1e-4;
    const changes = choleskyColumns(covariance).map((column) => {
      const moved = (by: number) => quantity(changed(feature, at(column.map((entry) => by * entry))));
      return Math.max(Math.abs(moved(scatter) - value), Math.abs(moved(-scatter) - value)) / scatter;
    });
    const perUnit = changes.reduce((total, change) => total + change * change, 0);
    if (perUnit === 0) continue;
    if (sigmaMm === null) known = false;
    else sources.push({ covariance: [[perUnit * sigmaMm * sigmaMm]], degreesOfFreedom });
  }
  return { value: [value], sources, known };
}

/** Columns of a lower triangular L with L L^T = matrix; a direction without scatter gives a column of zeros. */
function choleskyColumns(matrix: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const rest = matrix.map((row) => [...row]);
  return matrix.map((_, j) => {
    const pivot = rest[j]![j]!;
    // What rounding leaves of a parameter that hangs wholly on those before it is no scatter.
    if (!(pivot > 1e-12 * matrix[j]![j]!)) return matrix.map(() => 0);
    const column = rest.map((row, i) => (i < j ? 0 : row[j]! / Math.sqrt(pivot)));
    rest.forEach((row, i) => {
      column.forEach((entry, k) => {
        row[k]! -= column[i]! * entry;
      });
    });
    return column;
  });
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
