import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { type NoResult, noResult } from "./outcome.ts";
import { centroid, dotProduct, type Points3, sum } from "./points.ts";
import type { Vec3 } from "./vector.ts";

/**
 * Points whose spread in a direction is below this part of their largest spread are taken as having none: a part
 * of a million is below any probe, and above what rounding leaves of exact lines and planes.
 */
export const NO_SPREAD = 1e-6;

/** Mean, principal directions and spreads of points. */
export interface Spread {
  readonly center: Vec3;
  /** Sums of squares about the mean along `axes`, largest first. */
  readonly squares: readonly [number, number, number];
  /** Orthonormal. */
  readonly axes: readonly [Vec3, Vec3, Vec3];
  /** Largest distance from the mean. */
  readonly extent: number;
}

/** Why the points cannot be fitted at all: unreadable, or fewer different ones than `least`. Null when they can. */
export function refusal(columns: readonly Float64Array[], least: number, feature: string): NoResult | null {
  const count = columns[0]!.length;
  if (columns.some((column) => column.length !== count)) throw new RangeError("columns must have one length");
  if (!columns.every(allFinite)) return noResult("not-finite", "A coordinate is not a finite number.");
  const different = countDifferent(columns, least);
  if (different >= least) return null;
  const sentence = `${feature} needs at least ${least} different points, here are ${different}.`;
  return noResult("too-few-points", sentence);
}

/** A finite number less itself is 0, anything else is not. */
export function allFinite(column: Float64Array): boolean {
  for (let i = 0; i < column.length; i++) {
    const value = column[i]!;
    if (value - value !== 0) return false;
  }
  return true;
}

/** The column less a number. */
function less(column: Float64Array, value: number): Float64Array {
  const out = new Float64Array(column.length);
  for (let i = 0; i < out.length; i++) out[i] = column[i]! - value;
  return out;
}

/** Number of different points, counted up to `enough`. */
function countDifferent(columns: readonly Float64Array[], enough: number): number {
  const seen: number[] = [];
  for (let i = 0; i < columns[0]!.length && seen.length < enough; i++)
    if (!seen.some((k) => columns.every((column) => column[k] === column[i]))) seen.push(i);
  return seen.length;
}

/** Principal spreads of points: two passes, centred on a compensated mean. */
export function spread(points: Points3): Spread {
  const center = centroid(points);
  const { moments, extent } = secondMoments(points, center);
  const { squares, axes } = principal(moments, 3);
  return {
    center,
    squares: [squares[0]!, squares[1]!, squares[2]!],
    axes: [toVector(axes[0]!), toVector(axes[1]!), toVector(axes[2]!)],
    extent,
  };
}

const toVector = (a: readonly number[]): Vec3 => [a[0]!, a[1]!, a[2]!];

function secondMoments({ x, y, z }: Points3, [cx, cy, cz]: Vec3): { moments: number[][]; extent: number } {
  let [xx, xy, xz, yy, yz, zz, far] = [0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const a = x[i]! - cx;
    const b = y[i]! - cy;
    const c = z[i]! - cz;
    xx += a * a;
    xy += a * b;
    xz += a * c;
    yy += b * b;
    yz += b * c;
    zz += c * c;
    const squared = a * a + b * b + c * c;
    if (squared > far) far = squared;
  }
  const moments = [
    [xx, xy, xz],
    [xy, yy, yz],
    [xz, yz, zz],
  ];
  return { moments, extent: Math.sqrt(far) };
}

/** Eigenvalues, largest first and not below 0, and unit eigenvectors of a symmetric matrix. */
export function principal(moments: number[][], size: number): { squares: number[]; axes: number[][] } {
  const largest = Math.max(...moments.flat().map(Math.abs));
  if (largest === 0) return { squares: moments.map(() => 0), axes: Matrix.eye(size).to2DArray() };
  const scaledMoments = new Matrix(moments).div(largest);
  const found = new EigenvalueDecomposition(scaledMoments, { assumeSymmetric: true });
  const values = found.realEigenvalues;
  const order = values.map((_, k) => k).sort((a, b) => values[b]! - values[a]!);
  return {
    squares: order.map((k) => Math.max(0, values[k]! * largest)),
    axes: order.map((k) => found.eigenvectorMatrix.getColumn(k)),
  };
}

/** Mean of each column, and the columns less their mean. */
export function centeredColumns(columns: readonly Float64Array[]): { mean: number[]; parts: Float64Array[] } {
  const mean = columns.map((column) => sum(column) / column.length);
  return { mean, parts: columns.map((column, j) => less(column, mean[j]!)) };
}

/** Sums of products of every two columns. */
export function momentsOf(columns: readonly Float64Array[]): number[][] {
  return columns.map((a) => columns.map((b) => dotProduct(a, b)));
}
