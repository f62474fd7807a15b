import { LongSum } from "./doubleDouble.ts";
import { mean, sumOfSquaresAboutMean } from "./statistics.ts";

export interface AnalysisOfVariance {
  readonly betweenSquares: number;
  readonly betweenDof: number;
  readonly betweenMeanSquare: number;
  readonly withinSquares: number;
  readonly withinDof: number;
  readonly withinMeanSquare: number;
  /** Between over within mean square; infinite where the groups have no scatter of their own. */
  readonly ratio: number;
  /** Square root of the within mean square: the repeatability. */
  readonly withinDeviation: number;
}

/**
 * One-way analysis of variance: is the difference between groups (seatings, sides) more than the scatter within?
 * Values are taken about the mean of the first group before squaring, so that common leading digits do not
 * matter beyond what the doubles themselves have lost.
 * Throws RangeError with fewer than two groups, an empty group, or no more values than groups.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.4.3.
 */
export function analyseVariance(groups: readonly ArrayLike<number>[]): AnalysisOfVariance {
  const count = groups.reduce((total, group) => total + group.length, 0);
  if (groups.length < 2 || groups.some((group) => group.length === 0) || count <= groups.length)
    throw new RangeError("analysis of variance needs two groups and more values than groups");
  const origin = mean(groups[0]!);
  const shifted = groups.map((group) => Float64Array.from(group, (value) => value - origin));
  const grand = mean(shifted.flatMap((group) => Array.from(group)));
  const between = new LongSum();
  const within = new LongSum();
  for (const group of shifted) {
    const part = mean(group) - grand;
    between.addProduct(part * group.length, part);
    within.add(sumOfSquaresAboutMean(group));
  }
  const betweenDof = groups.length - 1;
  const withinDof = count - groups.length;
  const betweenMeanSquare = between.value() / betweenDof;
  const withinMeanSquare = within.value() / withinDof;
  return {
    betweenSquares: between.value(),
    betweenDof,
    betweenMeanSquare,
    withinSquares: within.value(),
    withinDof,
    withinMeanSquare,
    ratio: betweenMeanSquare / withinMeanSquare,
    withinDeviation: Math.sqrt(withinMeanSquare),
  };
}
