import { chiSquareQuantile } from "../math/chiSquareQuantile.ts";
import { type Crowd, crowding } from "../math/crowding.ts";
import { principal } from "../math/spread.ts";
import { coverageFactor, TWO_SIGMA } from "../math/studentT.ts";
import type { Propagated, Source } from "./propagate.ts";

/** Uncertainty of a value: `coverage` times `standard` holds the true value with a probability of about 95 %. */
export interface Uncertainty {
  /** In the value's unit. */
  readonly standard: number;
  /** Infinite where stated uncertainties govern. */
  readonly degreesOfFreedom: number;
  readonly coverage: number;
}

/** Half width of the interval that holds the true value, in the value's unit. */
export const expanded = ({ standard, coverage }: Uncertainty): number => standard * coverage;

/**
 * Uncertainty of a signed value: root of the sum of the sources' variances and of `extra` (standard uncertainties of other
 * causes, value's unit), degrees of freedom by Welch and Satterthwaite, coverage factor t at 95.45 %. `bias` is how far the
 * value lies off on the average although it stands uncorrected: the interval is wider by it. Null when a source is not
 * known. Source: JCGM 100:2008, 5.1.2, G.4 and F.2.4.5.
 * @example uncertaintyOfSigned(propagate([bore], (at) => [at(bore).center[0]]))
 */
export function uncertaintyOfSigned(
  { sources, known }: Propagated,
  extra: readonly number[] = [],
  bias = 0,
): Uncertainty | null {
  if (!known) return null;
  const variances = sources.map(({ covariance }) => covariance[0]![0]!);
  const degreesOfFreedom = effectiveDegrees(variances, sources, extra);
  const coverage = coverageFactor(degreesOfFreedom);
  return { standard: rootOf(variances, extra) + bias / coverage, degreesOfFreedom, coverage };
}

const rootOf = (variances: readonly number[], extra: readonly number[]): number =>
  Math.sqrt([...variances, ...extra.map((u) => u * u)].reduce((total, part) => total + Math.max(0, part), 0));

/** Welch-Satterthwaite: u^4 / sum(u_i^4 / dof_i); infinite when all sources are. */
function effectiveDegrees(
  variances: readonly number[],
  sources: readonly Source[],
  extra: readonly number[],
): number {
  const total = rootOf(variances, extra) ** 2;
  let weight = 0;
  sources.forEach(({ degreesOfFreedom }, i) => {
    if (Number.isFinite(degreesOfFreedom)) weight += variances[i]! ** 2 / degreesOfFreedom;
  });
  return weight > 0 && total > 0 ? total ** 2 / weight : Number.POSITIVE_INFINITY;
}

/**
 * Uncertainty of the length of a vector, a value that cannot be negative. Far from zero it is that of the component along
 * the vector. Near zero the direction means nothing and chance alone makes a length: there it is wide enough to hold a
 * true length of zero as often as the coverage says, in two or three dimensions. `ends`: the value is the largest of so many
 * lengths. Null when a source is not known.
 * Source: own, from the distribution of a sum of squares (F. E. Satterthwaite 1946) and JCGM 100:2008, F.2.4.
 * @example uncertaintyOfLength(propagate([bore, rim], (at) => subtract(at(bore).center, at(rim).center)))
 */
export function uncertaintyOfLength(
  { value, sources, known }: Propagated,
  { extra = [], ends = 1 }: { readonly extra?: readonly number[]; readonly ends?: number } = {},
): Uncertainty | null {
  if (!known) return null;
  const size = Math.hypot(...value);
  const total = value.map((_, a) =>
    value.map((__, b) => sources.reduce((t, s) => t + s.covariance[a]![b]!, 0)),
  );
  const traces = sources.map(({ covariance }) => covariance.reduce((t, row, a) => t + row[a]!, 0));
  const degreesOfFreedom = effectiveDegrees(traces, sources, extra);
  const k = coverageFactor(degreesOfFreedom);
  const { largest, zeroRadius } = nearZero(total, extra, ends);
  const along = size > 0 ? alongVector(total, value, extra) : largest;
  return blend({
    value: size,
    far: along,
    near: largest,
    zeroBound: (zeroRadius * k) / 2,
    degreesOfFreedom,
    k,
  });
}

function alongVector(
  total: readonly (readonly number[])[],
  value: readonly number[],
  extra: readonly number[],
): number {
  const size = Math.hypot(...value);
  let variance = 0;
  value.forEach((a, i) => {
    value.forEach((b, j) => {
      variance += ((a / size) * total[i]![j]! * b) / size;
    });
  });
  return rootOf([variance], extra);
}

/** Largest standard deviation in any direction, and the radius that holds pure chance with the probability of k = 2. */
function nearZero(total: number[][], extra: readonly number[], ends: number) {
  const added = rootOf([], extra) ** 2;
  const squares =
    total.length === 1
      ? [total[0]![0]!]
      : [...principal(total, total.length).squares].map((s) => Math.max(0, s));
  const variances = squares.map((s) => s + (s > 1e-9 * Math.max(...squares) ? added : 0));
  const [sum, sumOfSquares] = [
    variances.reduce((t, s) => t + s, 0),
    variances.reduce((t, s) => t + s * s, 0),
  ];
  const largest = Math.sqrt(Math.max(0, ...variances));
  if (!(sum > 0)) return { largest: Math.sqrt(added), zeroRadius: 2 * Math.sqrt(added) };
  const scale = sumOfSquares / sum;
  return { largest, zeroRadius: Math.sqrt(scale * chiSquareQuantile(TWO_SIGMA ** (1 / ends), sum / scale)) };
}

interface Blend {
  readonly value: number;
  /** Standard uncertainty far from zero and near it. */
  readonly far: number;
  readonly near: number;
  /** What chance alone stays under with the probability of the coverage. */
  readonly zeroBound: number;
  readonly degreesOfFreedom: number;
  readonly k: number;
}
/** Up to the bound of chance the interval reaches down to zero; from twice the bound on it is the ordinary one. */
function blend({ value, far, near, zeroBound, degreesOfFreedom, k }: Blend): Uncertainty {
  // A hair more than the value, so that zero lies inside also after rounding.
  const within = Math.max(k * near, Math.min(value * (1 + 1e-9), zeroBound));
  const share = zeroBound > 0 ? Math.min(1, Math.max(0, value / zeroBound - 1)) : 1;
  const half = within + (k * far - within) * share;
  const standard = near + (far - near) * share;
  return { standard, degreesOfFreedom, coverage: standard > 0 ? half / standard : k };
}

/** How a form value hangs on the readings. */
export interface FormHold {
  readonly value: number;
  /** Derivative of the value by each point that holds a side of the zone, signs left out; each side's sum to one. */
  readonly upper: readonly number[];
  readonly lower: readonly number[];
  /** Place of each point across the zone, mm: points beside those that hold it may lie as near its sides. */
  readonly places: () => Float64Array;
  /** Stated standard uncertainty of one reading, mm; the seen scatter contains the form itself. */
  readonly readingMm: number | null;
  readonly points: number;
  /** Tilts or shifts over which the zone was made least: 2 for a plane or circle, 1 for a line, 4 for a cylinder, 0 for none. */
  readonly freedoms: number;
  /** Values of like zones of which this is the largest, mm; absent for one alone. */
  readonly among?: Float64Array;
  /** What the datum adds; null without one. */
  readonly datum?: Propagated | null;
  readonly extra?: readonly number[];
}

/**
 * Uncertainty of a form or zone value. Where the form is large against the readings' uncertainty it is that of the points
 * that hold the zone, and what chance adds where several points lie as near a side: of equally high ones the highest
 * reading counts. Where it is small, chance alone makes a zone of several standard uncertainties although the true
 * form is nil: there the interval reaches down to zero. Null without a stated uncertainty or with an unknown datum.
 * Source: own; derivatives of a linear programme by its dual weights, range of normal readings by simulation.
 * @example uncertaintyOfForm({value: 0.01, upper: [0.5, 0.5], lower: [0.5, 0.5], places: () => heights, readingMm: 0.001, points: 25, freedoms: 2})
 */
export function uncertaintyOfForm(hold: FormHold): Uncertainty | null {
  const { value, upper, lower, readingMm, points, freedoms, extra = [], datum = null } = hold;
  if (readingMm === null || (datum !== null && !datum.known)) return null;
  const own =
    [...upper, ...lower].reduce((total, weight) => total + weight * weight, 0) * readingMm * readingMm;
  const sources = datum === null ? [] : datum.sources;
  const variances = sources.map(({ covariance }) => covariance[0]![0]!);
  const degreesOfFreedom = effectiveDegrees([...variances, own], sources, extra);
  const k = coverageFactor(degreesOfFreedom);
  const crowd = crowdOf(hold, readingMm);
  const far = rootOf([...variances, crowd.variance], extra) + crowd.bias / k;
  const chance = readingMm * zoneOfChance(points, freedoms);
  const zeroBound = Math.max(Math.hypot(chance, 2 * rootOf(variances, extra)), k * far);
  const near = rootOf([...variances, own], extra);
  return blend({ value, far, near, zeroBound, degreesOfFreedom, k });
}

/** Both sides of a zone, and the choice of the widest of several, crowd by themselves. */
function crowdOf({ upper, lower, among, ...hold }: FormHold, readingMm: number): Crowd {
  const places = hold.places();
  const sides = [
    crowding(places, { sign: 1, weights: upper }, readingMm),
    crowding(places, { sign: -1, weights: lower }, readingMm),
  ];
  const bias = sides.reduce((total, side) => total + side.bias, 0);
  const variance = sides.reduce((total, side) => total + side.variance, 0);
  if (among === undefined) return { bias, variance };
  const widest = crowding(among, { sign: 1, weights: [1] }, Math.sqrt(variance));
  return { bias: bias + widest.bias, variance: widest.variance };
}

/**
 * The zone, in standard uncertainties of one reading, under which the zone of a perfect feature stays in 95 % of cases:
 * the range of so many normal numbers, less what making it least takes away. Fitted to simulation, 4 to 400 points,
 * within 8 %.
 */
export function zoneOfChance(points: number, freedoms: number): number {
  if (points <= freedoms + 1) return 0;
  const size = Math.log(points);
  const range = 2.331 + 1.038 * size - 0.0465 * size * size;
  return Math.max(0, range - 0.33 * freedoms * (1 + 3.5 / points));
}
