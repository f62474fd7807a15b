import { type Points2, rangeOf } from "../points.ts";
import { CellExtremes, FEW } from "./outermost.ts";

/**
 * Indices of the corners of the convex hull, anticlockwise, without points on its edges and without repeats.
 * Two indices for points on one line, one where all coincide. Source: A. M. Andrew 1979 (monotone chain); of many points
 * those are put aside first that lie within the hull of a few.
 */
export function hull2(points: Points2): number[] {
  const { x } = points;
  return hullOf(points, x.length <= FEW ? Uint32Array.from(x, (_, i) => i) : notInside(points));
}

function hullOf({ x, y }: Points2, some: Uint32Array): number[] {
  const order = some.sort((a, b) => x[a]! - x[b]! || y[a]! - y[b]!);
  const turn = (a: number, b: number, c: number): number =>
    (x[b]! - x[a]!) * (y[c]! - y[a]!) - (y[b]! - y[a]!) * (x[c]! - x[a]!);
  const chain = (from: Iterable<number>): number[] => {
    const kept: number[] = [];
    for (const i of from) {
      const last = kept.at(-1);
      if (last !== undefined && x[last] === x[i] && y[last] === y[i]) continue;
      while (kept.length > 1 && turn(kept.at(-2)!, kept.at(-1)!, i) <= 0) kept.pop();
      kept.push(i);
    }
    return kept;
  };
  const lower = chain(order);
  if (lower.length < 2) return lower;
  const upper = chain(order.reverse());
  return [...lower.slice(0, -1), ...upper.slice(0, -1)];
}

/** Slices of the width in which the lowest and the highest point are looked up. */
const SLICES = 1024;

/** The points that do not lie well within the hull of the lowest and highest of each slice: all corners are among them. */
function notInside(points: Points2): Uint32Array {
  const { x, y } = points;
  const { low: left, high: right } = rangeOf(x);
  const perSlice = SLICES / (right - left);
  if (!Number.isFinite(perSlice)) return Uint32Array.from(x, (_, i) => i);
  const sliceOf = (value: number): number => Math.min(SLICES - 1, Math.floor((value - left) * perSlice));
  const ends = new CellExtremes(SLICES);
  for (let i = 0; i < x.length; i++) ends.put(sliceOf(x[i]!), i, y[i]!);
  const few = ends.indices(Int32Array.of(x.indexOf(left), x.indexOf(right)));
  const corners = hullOf(points, Uint32Array.from(few));
  const turn = corners.findIndex((i) => x[i] === right);
  const nodes = Float64Array.from({ length: SLICES + 1 }, (_, k) => left + k / perSlice);
  const floor = heightsAt(nodes, points, corners.slice(0, turn + 1));
  const ceiling = heightsAt(nodes, points, [corners[0]!, ...corners.slice(turn).reverse()]);
  // Between two nodes the chord lies on the inner side of the hull, so that nothing outside it is put aside.
  const { low, high } = rangeOf(y);
  const slack = 1e-12 * Math.max(Math.abs(left), Math.abs(right), Math.abs(low), Math.abs(high));
  const kept = new Uint32Array(x.length);
  let count = 0;
  for (let i = 0; i < x.length; i++) {
    const slice = sliceOf(x[i]!);
    const part = (x[i]! - nodes[slice]!) * perSlice;
    const under = floor[slice]! + part * (floor[slice + 1]! - floor[slice]!);
    const over = ceiling[slice]! + part * (ceiling[slice + 1]! - ceiling[slice]!);
    if (!(y[i]! > under + slack && y[i]! < over - slack)) kept[count++] = i;
  }
  return kept.slice(0, count);
}

/** Heights at rising nodes of the line through corners of rising x, whose first and last may stand above others. */
function heightsAt(nodes: Float64Array, { x, y }: Points2, corners: readonly number[]): Float64Array {
  let k = 1;
  return nodes.map((node) => {
    while (k < corners.length - 1 && !(x[corners[k]!]! >= node && x[corners[k]!]! > x[corners[k - 1]!]!)) k++;
    const [from, to] = [corners[k - 1]!, corners[k]!];
    const run = x[to]! - x[from]!;
    return run > 0 ? y[from]! + ((node - x[from]!) / run) * (y[to]! - y[from]!) : y[from]!;
  });
}

/**
 * Distance from the origin to the edge of the convex hull of a few vectors, negative when the origin is outside:
 * how firmly the vectors surround it.
 */
export function surroundMargin(vectors: Points2): number {
  const corners = hull2(vectors);
  if (corners.length < 3) return 0;
  let margin = Number.POSITIVE_INFINITY;
  corners.forEach((a, k) => {
    const b = corners[(k + 1) % corners.length]!;
    const [ex, ey] = [vectors.x[b]! - vectors.x[a]!, vectors.y[b]! - vectors.y[a]!];
    const distance = (ey * vectors.x[a]! - ex * vectors.y[a]!) / Math.hypot(ex, ey);
    margin = Math.min(margin, distance);
  });
  return margin;
}
