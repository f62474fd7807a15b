import type { Points2 } from "../points.ts";

/**
 * Indices of the corners of the convex hull, anticlockwise, without points on its edges and without repeats.
 * Two indices for points on one line, one where all coincide. Source: A. M. Andrew 1979 (monotone chain).
 */
export function hull2(points: Points2): number[] {
  const { x, y } = points;
  const order = Uint32Array.from(x, (_, i) => i).sort((a, b) => x[a]! - x[b]! || y[a]! - y[b]!);
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
