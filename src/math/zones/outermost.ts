import { type Points2, type Points3, rangeOf } from "../points.ts";
import { basis, type Vec2, type Vec3 } from "../vector.ts";
import type { Descent } from "./descend.ts";
import type { Support } from "./support.ts";

/** Sets of no more points are taken whole. */
export const FEW = 2000;
/** Cells along each side of the grid in which points are compared. */
const GRID = 40;
const SECTORS = 720;
/** Sectors and bands of a cylinder: coarser, for they make cells together. */
const CYLINDER = { sectors: 72, bands: 10 };

/** In each cell the point with the largest and the one with the smallest number. */
export class CellExtremes {
  readonly #low: Int32Array;
  readonly #high: Int32Array;
  readonly #lowest: Float64Array;
  readonly #highest: Float64Array;

  constructor(cells: number) {
    this.#low = new Int32Array(cells).fill(-1);
    this.#high = new Int32Array(cells).fill(-1);
    this.#lowest = new Float64Array(cells).fill(Number.POSITIVE_INFINITY);
    this.#highest = new Float64Array(cells).fill(Number.NEGATIVE_INFINITY);
  }
  put(cell: number, index: number, value: number): void {
    const lowest = this.#lowest;
    const highest = this.#highest;
    if (value < lowest[cell]!) {
      lowest[cell] = value;
      this.#low[cell] = index;
    }
    if (value > highest[cell]!) {
      highest[cell] = value;
      this.#high[cell] = index;
    }
  }
  /** Rising, each index once, together with those that were chosen before. */
  indices(before: Int32Array = new Int32Array()): Int32Array {
    const all = new Set<number>(before);
    for (const index of this.#low) if (index >= 0) all.add(index);
    for (const index of this.#high) if (index >= 0) all.add(index);
    return Int32Array.from(all).sort();
  }
}

/**
 * Few of many points that are likely to hold a zone of planes near `normal`: in each cell of a grid across it the highest and
 * the lowest, the highest and lowest of all among them. Points are `center` plus at most `size` in each direction.
 */
export function outermostAlong(
  { x, y, z }: Points3,
  box: { readonly center: Vec3; readonly size: number },
  normal: Vec3,
  before: Int32Array = new Int32Array(),
): Int32Array {
  const { u, v, w } = basis(normal);
  const [ux, uy, uz] = u;
  const [vx, vy, vz] = v;
  const [wx, wy, wz] = w;
  const [cx, cy, cz] = box.center;
  const scale = GRID / (2 * box.size);
  const found = new CellExtremes(GRID * GRID);
  for (let i = 0; i < x.length; i++) {
    const a = x[i]! - cx;
    const b = y[i]! - cy;
    const c = z[i]! - cz;
    const column = cellOf((a * ux + b * uy + c * uz) * scale);
    const row = cellOf((a * vx + b * vy + c * vz) * scale);
    found.put(row * GRID + column, i, a * wx + b * wy + c * wz);
  }
  return found.indices(before);
}
const cellOf = (place: number): number => Math.min(GRID - 1, Math.max(0, (place + GRID / 2) | 0));

/** The same for rings about `center`: the points seen from there in sectors, in each the farthest and the nearest. */
export function outermostAround(
  { x, y }: Points2,
  center: Vec2,
  before: Int32Array = new Int32Array(),
): Int32Array {
  const n = x.length;
  let [sx, sy] = [0, 0];
  for (let i = 0; i < n; i++) {
    sx += x[i]! - center[0];
    sy += y[i]! - center[1];
  }
  // Angles from the direction to the middle of an arc, so that a short arc fills all sectors.
  const angles = new Float64Array(n);
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < n; i++) {
    const a = x[i]! - center[0];
    const b = y[i]! - center[1];
    const angle = Math.atan2(sx * b - sy * a, sx * a + sy * b);
    angles[i] = angle;
    if (angle < low) low = angle;
    if (angle > high) high = angle;
  }
  const scale = high > low ? SECTORS / (high - low) : 0;
  const found = new CellExtremes(SECTORS);
  for (let i = 0; i < n; i++) {
    const sector = Math.min(SECTORS - 1, Math.floor((angles[i]! - low) * scale));
    found.put(sector, i, (x[i]! - center[0]) ** 2 + (y[i]! - center[1]) ** 2);
  }
  return found.indices(before);
}

/** The same for cylinders about an axis: in each cell of sectors and bands along it the farthest and the nearest. */
export function outermostAbout(
  { x, y, z }: Points3,
  { place, direction }: { readonly place: Vec3; readonly direction: Vec3 },
  before: Int32Array = new Int32Array(),
): Int32Array {
  const { u, v, w } = basis(direction);
  const n = x.length;
  const heights = new Float64Array(n);
  for (let i = 0; i < n; i++) heights[i] = x[i]! * w[0] + y[i]! * w[1] + z[i]! * w[2];
  const { low, high } = rangeOf(heights);
  const perBand = high > low ? CYLINDER.bands / (high - low) : 0;
  const perSector = CYLINDER.sectors / (2 * Math.PI);
  const found = new CellExtremes(CYLINDER.sectors * CYLINDER.bands);
  for (let i = 0; i < n; i++) {
    const a = x[i]! - place[0];
    const b = y[i]! - place[1];
    const c = z[i]! - place[2];
    const p = a * u[0] + b * u[1] + c * u[2];
    const q = a * v[0] + b * v[1] + c * v[2];
    const sector = Math.min(CYLINDER.sectors - 1, Math.floor((Math.atan2(q, p) + Math.PI) * perSector));
    const band = Math.min(CYLINDER.bands - 1, Math.floor((heights[i]! - low) * perBand));
    found.put(band * CYLINDER.sectors + sector, i, p * p + q * q);
  }
  return found.indices(before);
}

/** The points with these indices. */
export const those = ({ x, y }: Points2, some: ArrayLike<number>): Points2 => ({
  x: Float64Array.from(some, (i) => x[i]!),
  y: Float64Array.from(some, (i) => y[i]!),
});

/** Supports among some of the points by their index among all. */
export const among = (supports: readonly Support[], some: ArrayLike<number>): Support[] =>
  supports.map(({ index, weight }) => ({ index: some[index]!, weight }));

/** A descent over some of the points, with its supports by their index among all. */
export const renumbered = <Position>(found: Descent<Position>, some: Int32Array): Descent<Position> => ({
  ...found,
  upper: among(found.upper, some),
  lower: among(found.lower, some),
});
