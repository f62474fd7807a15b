import type { Points3 } from "../points.ts";
import { add, basis, dot, length, scale, subtract, unit, type Vec3 } from "../vector.ts";
import type { Descent } from "./descend.ts";
import { descendPlanes, provedSwing } from "./planeDescent.ts";

const MOST_CELLS = 60_000;

/** A triangle of directions with the points that can still be outermost inside it. */
interface Cell {
  readonly corners: readonly [Vec3, Vec3, Vec3];
  readonly high: Int32Array;
  readonly low: Int32Array;
}
/** A local optimum: near it nothing is narrower. `pull` = weighted upper less weighted lower points = width x normal. */
interface Known {
  readonly normal: Vec3;
  readonly cosine: number;
  readonly pull: Vec3;
}

/**
 * The narrowest pair of planes over all directions by branch and bound on the half sphere, started from the local optimum
 * `found`. A cell is dropped when a pair of points, or the supports of a known optimum, keep the width above the best less
 * 1e-10 of the size everywhere in it. `proved` is false when the cells run out first (sets nearly as round as a ball).
 */
export function narrowestPlanes(
  points: Points3,
  size: number,
  found: Descent<Vec3>,
): { best: Descent<Vec3>; proved: boolean } {
  let best = found;
  const known: Known[] = [remember(points, found)];
  const stack = halfSphere(found.position, points.x.length);
  for (let cells = 0; stack.length > 0; cells++) {
    if (cells > MOST_CELLS) return { best, proved: false };
    const cell = stack.pop()!;
    const middle = unit(add(add(cell.corners[0], cell.corners[1]), cell.corners[2]));
    const reach = Math.max(...cell.corners.map((corner) => length(subtract(corner, middle))));
    const { width, pair, high, low } = outermost(points, cell, middle, reach);
    if (width < best.value - 0.5e-10 * size) {
      const deeper = descendPlanes(points, size, middle);
      known.push(remember(points, deeper));
      if (deeper.value < best.value) best = deeper;
    }
    if (!dropped(cell.corners, pair, known, best.value - 1e-10 * size))
      stack.push(...split(cell.corners, high, low));
  }
  return { best, proved: true };
}

function remember(points: Points3, found: Descent<Vec3>): Known {
  const swing = provedSwing(points, found);
  let pull: Vec3 = [0, 0, 0];
  const at = (i: number): Vec3 => [points.x[i]!, points.y[i]!, points.z[i]!];
  for (const { index, weight } of found.upper) pull = add(pull, scale(at(index), weight));
  for (const { index, weight } of found.lower) pull = subtract(pull, scale(at(index), weight));
  const cosine = swing === Number.POSITIVE_INFINITY ? 0 : 1 / Math.hypot(1, swing);
  return { normal: found.position, cosine, pull };
}

function halfSphere(pole: Vec3, count: number): Cell[] {
  const first = basis(pole);
  // Turned so that the known optimum lies inside a cell rather than on the common corner of four.
  const { u, v, w } = basis(add(first.w, add(scale(first.u, 0.3), scale(first.v, 0.2))));
  const around = [u, v, scale(u, -1), scale(v, -1)];
  const everyone = Int32Array.from({ length: count }, (_, i) => i);
  return around.map((side, k) => ({
    corners: [w, side, around[(k + 1) % 4]!] as const,
    high: everyone,
    low: everyone,
  }));
}

/** Width along the middle direction, the pair that makes it, and who can be outermost anywhere in the cell. */
function outermost(points: Points3, cell: Cell, middle: Vec3, reach: number) {
  const along = (i: number): number =>
    points.x[i]! * middle[0] + points.y[i]! * middle[1] + points.z[i]! * middle[2];
  let [top, bottom] = [cell.high[0]!, cell.low[0]!];
  for (const i of cell.high) if (along(i) > along(top)) top = i;
  for (const i of cell.low) if (along(i) < along(bottom)) bottom = i;
  const gap = (a: number, b: number): number =>
    Math.hypot(points.x[a]! - points.x[b]!, points.y[a]! - points.y[b]!, points.z[a]! - points.z[b]!);
  const [highest, lowest] = [along(top), along(bottom)];
  const pair: Vec3 = [
    points.x[top]! - points.x[bottom]!,
    points.y[top]! - points.y[bottom]!,
    points.z[top]! - points.z[bottom]!,
  ];
  const high = cell.high.filter((i) => along(i) + gap(i, top) * reach >= highest);
  const low = cell.low.filter((i) => along(i) - gap(i, bottom) * reach <= lowest);
  return { width: highest - lowest, pair, high, low };
}

/** True when nothing in the cell can be narrower than `limit`. */
function dropped(corners: Cell["corners"], pair: Vec3, known: readonly Known[], limit: number): boolean {
  // A linear form that is at least `limit` >= 0 at the corners is so for every unit vector between them.
  const least = (form: Vec3): number => Math.min(...corners.map((corner) => dot(form, corner)));
  if (limit <= 0 || least(pair) >= limit) return true;
  return known.some(({ normal, cosine, pull }) => {
    const near = least(normal);
    return near >= cosine || least(pull) >= limit || least(scale(normal, -1)) >= cosine;
  });
}

function split(corners: Cell["corners"], high: Int32Array, low: Int32Array): Cell[] {
  const [a, b, c] = corners;
  const [ab, bc, ca] = [unit(add(a, b)), unit(add(b, c)), unit(add(c, a))];
  const children: Cell["corners"][] = [
    [a, ab, ca],
    [ab, b, bc],
    [ca, bc, c],
    [ab, bc, ca],
  ];
  return children.map((child) => ({ corners: child, high, low }));
}
