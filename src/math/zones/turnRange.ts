import { certify } from "./certify.ts";
import { minimax } from "./minimax.ts";
import type { Support } from "./support.ts";

/** Heights lift[i] + x[i] cos(angle) + y[i] sin(angle) of points seen along a turning direction. */
export interface Turning {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly lift: Float64Array;
}
/** A locally least range of the heights, the angle where it is, and the points that hold it. */
export interface TurnRange {
  readonly angle: number;
  readonly largest: number;
  readonly smallest: number;
  readonly upper: readonly Support[];
  readonly lower: readonly Support[];
  /** Slope left over at the angle by the weights: zero up to rounding at a true minimum. */
  readonly gain: number;
}

interface Seen {
  readonly largest: number;
  readonly smallest: number;
  /** Slope of the range by the outermost pair. */
  readonly slope: number;
}
const rangeOf = ({ largest, smallest }: Seen): number => largest - smallest;

function look(points: Turning, angle: number): Seen {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  let [top, bottom] = [0, 0];
  let [largest, smallest] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let i = 0; i < points.x.length; i++) {
    const height = points.lift[i]! + (points.x[i]! * cos + points.y[i]! * sin);
    if (height > largest) {
      largest = height;
      top = i;
    }
    if (height < smallest) {
      smallest = height;
      bottom = i;
    }
  }
  const slopeOf = (i: number): number => points.y[i]! * cos - points.x[i]! * sin;
  return { largest, smallest, slope: slopeOf(top) - slopeOf(bottom) };
}

/**
 * The local minimum of the range of heights that lies downhill of the angle `start` (radians). The range is the largest of
 * the pairs' cosines, so the sign of the outermost pair's slope tells the way; the minimum is bracketed by doubling steps and
 * closed in by halving to the last bit. `size`: largest distance of the points from the turning axis.
 */
export function turnRange(points: Turning, start: number, size: number): TurnRange {
  const first = look(points, start);
  const way = first.slope > 0 ? -1 : 1;
  let near = { angle: start, seen: first };
  let far = near;
  // A place beyond the minimum shows by its slope, or by lying higher where a step has jumped over the minimum.
  const beyond = (seen: Seen): boolean => seen.slope * way >= 0 || rangeOf(seen) > rangeOf(near.seen);
  // The heights repeat after a full turn, so the way cannot lead downhill for longer.
  for (let step = 1e-9; step < 4 * Math.PI; step *= 2) {
    const angle = start + way * step;
    far = { angle, seen: look(points, angle) };
    if (beyond(far.seen)) break;
    near = far;
  }
  for (let round = 0; round < 80; round++) {
    const angle = (near.angle + far.angle) / 2;
    if (angle === near.angle || angle === far.angle) break;
    const middle = { angle, seen: look(points, angle) };
    if (beyond(middle.seen)) far = middle;
    else near = middle;
  }
  const { angle, seen } = rangeOf(far.seen) < rangeOf(near.seen) ? far : near;
  const held = supportsAt(points, angle, size);
  return { angle, largest: seen.largest, smallest: seen.smallest, ...held, gain: held.gain / (size || 1) };
}

/** Supports and weights at an angle: the same range with the turn replaced by its tangent. */
function supportsAt(points: Turning, angle: number, size: number) {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const values = points.x.map((x, i) => points.lift[i]! + (x * cos + points.y[i]! * sin));
  const gradients = points.x.map((x, i) => points.y[i]! * cos - x * sin);
  const family = { values, gradients, size: 1 };
  const best = certify(family, "range", 1e-11 * size) ?? minimax(family, new Float64Array([1e-3]), "range");
  let residual = 0;
  for (const { index, weight } of best.upper) residual += weight * gradients[index]!;
  for (const { index, weight } of best.lower) residual -= weight * gradients[index]!;
  return { upper: best.upper, lower: best.lower, gain: Math.abs(residual) };
}
