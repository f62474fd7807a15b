import type { Outcome } from "../outcome.ts";
import type { Points2 } from "../points.ts";
import type { Vec2 } from "../vector.ts";
import { admit, centred2, refuse } from "./admission.ts";
import { hull2 } from "./hull2.ts";
import { among, those } from "./outermost.ts";
import type { Proof, Support } from "./support.ts";
import { turnRange } from "./turnRange.ts";

/** Two parallel lines in a plane that hold all points, as close together as they get. */
export interface LineZone {
  readonly width: number;
  /** Unit direction of the lines, on the side of `about`. */
  readonly direction: Vec2;
  /** Unit normal, the direction turned by a quarter anticlockwise. */
  readonly normal: Vec2;
  /** A point of the line midway between the two. */
  readonly center: Vec2;
  /** Points on the side the normal points to; weights sum to one. */
  readonly upper: readonly Support[];
  readonly lower: readonly Support[];
  /** `global`: no strip of any direction is narrower. */
  readonly proof: Proof;
  /** Set when a strip of another direction is narrower than the one about the given direction. */
  readonly narrower: { readonly width: number; readonly direction: Vec2 } | null;
}

/**
 * Minimum-zone straightness in a plane (ISO 12780 sense): least distance of two parallel lines that hold all points, x being
 * the place along the line and y the height, true distances square to the lines. The strip is the local optimum downhill of
 * the direction `about` (the fitted line); the width over all directions is computed exactly from the edges of the convex
 * hull (H. Freeman, R. Shapira 1975) and reported in `narrower` when less. Throws RangeError when `about` has length zero.
 */
export function zoneLine(points: Points2, options: { readonly about: Vec2 }): Outcome<LineZone> {
  const trouble = admit([points.x, points.y], 2);
  if (trouble) return trouble;
  const length = Math.hypot(...options.about);
  if (!(length > 0)) throw new RangeError("a vector of length zero has no direction");
  const set = centred2(points);
  if (!(set.size > 0))
    return refuse("degenerate-points", "all points coincide, which leaves the line free to turn");
  // Only corners of the hull can hold two lines.
  const corners = hull2(set.points);
  const { x, y } = those(set.points, corners);
  const start = Math.atan2(options.about[1], options.about[0]) + Math.PI / 2;
  const found = turnRange({ x, y, lift: new Float64Array(x.length) }, start, set.size);
  const normal: Vec2 = [Math.cos(found.angle), Math.sin(found.angle)];
  const middle = (found.largest + found.smallest) / 2;
  const width = found.largest - found.smallest;
  const least = narrowestStrip(set.points, corners);
  const closer = least.width < width - 1e-12 * set.size;
  return {
    ok: true,
    width,
    direction: [normal[1], -normal[0]],
    normal,
    center: [set.center[0] + middle * normal[0], set.center[1] + middle * normal[1]],
    upper: among(found.upper, corners),
    lower: among(found.lower, corners),
    proof: closer ? "local" : "global",
    narrower: closer ? least : null,
  };
}

/** Width of the convex hull: the narrowest strip lies along one of its edges (rotating calipers). */
function narrowestStrip(points: Points2, corners: readonly number[]): { width: number; direction: Vec2 } {
  const { x, y } = points;
  const next = (k: number): number => (k + 1) % corners.length;
  let best: { width: number; direction: Vec2 } = { width: Number.POSITIVE_INFINITY, direction: [1, 0] };
  let opposite = 0;
  corners.forEach((a, k) => {
    const b = corners[next(k)]!;
    const [ex, ey] = [x[b]! - x[a]!, y[b]! - y[a]!];
    const edge = Math.hypot(ex, ey);
    const away = (c: number): number =>
      (ex * (y[corners[c]!]! - y[a]!) - ey * (x[corners[c]!]! - x[a]!)) / edge;
    if (k === 0)
      corners.forEach((_, c) => {
        if (away(c) > away(opposite)) opposite = c;
      });
    // Round the hull the distance from an edge rises to one summit, which only moves onward from edge to edge.
    for (let tries = 0; tries < corners.length && away(next(opposite)) >= away(opposite); tries++)
      opposite = next(opposite);
    if (away(opposite) < best.width) best = { width: away(opposite), direction: [ex / edge, ey / edge] };
  });
  return { ...best, width: widthAlong(points, corners, best.direction) };
}

function widthAlong({ x, y }: Points2, corners: readonly number[], [ex, ey]: Vec2): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const i of corners) {
    const height = ex * y[i]! - ey * x[i]!;
    low = Math.min(low, height);
    high = Math.max(high, height);
  }
  return high - low;
}
