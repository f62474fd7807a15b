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
  return { ...dropped(points, origin, direction), z: placesAlong(points, origin, basis(direction).w) };
}
/** The x and y of `toFrame`: the points dropped on the plane through `origin` square to `direction`. */
export function dropped(points: Points3, origin: Vec3, direction: Vec3): Points2 {
  const { u, v } = basis(direction);
  return { x: placesAlong(points, origin, u), y: placesAlong(points, origin, v) };
}
/** Place of each point along a unit vector, 0 at `origin`. */
export function placesAlong({ x, y, z }: Points3, origin: Vec3, along: Vec3): Float64Array {
  const [ox, oy, oz] = origin;
  const [wx, wy, wz] = along;
  const out = new Float64Array(x.length);
  for (let i = 0; i < out.length; i++) out[i] = (x[i]! - ox) * wx + (y[i]! - oy) * wy + (z[i]! - oz) * wz;
  return out;
}
/** Numbers of a column about `middle`, in units of `size`. */
export function standardised(column: Float64Array, middle: number, size: number): Float64Array {
  const out = new Float64Array(column.length);
  for (let i = 0; i < out.length; i++) out[i] = (column[i]! - middle) / size;
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
