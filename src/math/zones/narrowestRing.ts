import type { Points2 } from "../points.ts";
import type { Vec2 } from "../vector.ts";
import type { Descent } from "./descend.ts";
import { surroundMargin } from "./hull2.ts";
import { descendRing } from "./ringDescent.ts";

const MOST_CELLS = 150_000;

/** A square of centres with the points that can be farthest or nearest for some centre in it. */
interface Cell {
  readonly x: number;
  readonly y: number;
  readonly half: number;
  readonly far: Int32Array;
  readonly near: Int32Array;
}
/** Around a local optimum no centre within `radius` gives a ring narrower by more than the tolerance. */
interface Known {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/**
 * The narrowest ring over all centres of a disc by branch and bound, started from the local optimum `found`. For a centre c + d
 * the far point keeps at least r - u . d (distance is convex) and the near point at most s - v . d + d^2 / 2s, so that in a disc
 * of radius h about c the ring is at least r - s - |u - v| h - h^2 / 2s wide; it also changes by no more than 2h.
 * `proved` is false when the cells run out first, or when the optimum lies outside the disc.
 */
export function narrowestRing(
  points: Points2,
  size: number,
  found: Descent<Vec2>,
  disc: { readonly center: Vec2; readonly reach: number },
): { best: Descent<Vec2>; proved: boolean } {
  const inDisc = ([x, y]: Vec2): boolean => Math.hypot(x - disc.center[0], y - disc.center[1]) <= disc.reach;
  const tolerance = 1e-11 * size;
  let best = found;
  const known: Known[] = [remember(points, found, tolerance)];
  const everyone = Int32Array.from(points.x, (_, i) => i);
  const stack: Cell[] = [
    { x: disc.center[0], y: disc.center[1], half: disc.reach, far: everyone, near: everyone },
  ];
  for (let cells = 0; stack.length > 0; cells++) {
    if (cells > MOST_CELLS) return { best, proved: false };
    const cell = stack.pop()!;
    const reach = cell.half * Math.SQRT2;
    if (Math.hypot(cell.x - disc.center[0], cell.y - disc.center[1]) - reach > disc.reach) continue;
    if (known.some(({ x, y, radius }) => Math.hypot(x - cell.x, y - cell.y) + reach <= radius)) continue;
    const seen = look(points, cell, reach);
    if (seen.width < best.value - tolerance / 2) {
      const centerInside = inDisc([cell.x, cell.y]);
      const deeper = centerInside ? descendRing(points, size, [cell.x, cell.y]) : null;
      // Downhill leads out of the disc: the ring goes on narrowing towards a strip, and no optimum inside is the least.
      if (deeper ? !inDisc(deeper.position) : cell.half < 1e-6 * size) return { best, proved: false };
      if (deeper && deeper.value < best.value) best = deeper;
      if (deeper) known.push(remember(points, deeper, tolerance));
    }
    if (seen.least < best.value - tolerance) stack.push(...split(cell, seen.far, seen.near));
  }
  return { best, proved: inDisc(best.position) };
}

function look({ x, y }: Points2, cell: Cell, reach: number) {
  const distance = (i: number): number => Math.hypot(x[i]! - cell.x, y[i]! - cell.y);
  const farDistances = Float64Array.from(cell.far, distance);
  const nearDistances = Float64Array.from(cell.near, distance);
  let [top, bottom] = [0, 0];
  for (let k = 1; k < farDistances.length; k++) if (farDistances[k]! > farDistances[top]!) top = k;
  for (let k = 1; k < nearDistances.length; k++) if (nearDistances[k]! < nearDistances[bottom]!) bottom = k;
  const [r, s] = [farDistances[top]!, nearDistances[bottom]!];
  const [i, j] = [cell.far[top]!, cell.near[bottom]!];
  const turn =
    s > 0
      ? Math.hypot((x[i]! - cell.x) / r - (x[j]! - cell.x) / s, (y[i]! - cell.y) / r - (y[j]! - cell.y) / s)
      : 2;
  const bend = s > 0 ? (reach * reach) / (2 * s) : Number.POSITIVE_INFINITY;
  const least = r - s - Math.min(2 * reach, turn * reach + bend);
  return {
    width: r - s,
    least,
    far: cell.far.filter((_, k) => farDistances[k]! >= r - 2 * reach),
    near: cell.near.filter((_, k) => nearDistances[k]! <= s + 2 * reach),
  };
}

/**
 * The supports raise the ring's width by at least `margin` per unit step, less the bend d^2 / 2s of the inner ones: within
 * 2 x margin x s nothing is narrower; and with weights that balance, it cannot fall by more than d^2 / 2s at all.
 */
function remember({ x, y }: Points2, found: Descent<Vec2>, tolerance: number): Known {
  const [cx, cy] = found.position;
  const away = (i: number): Vec2 => {
    const [dx, dy] = [x[i]! - cx, y[i]! - cy];
    const distance = Math.hypot(dx, dy);
    return [dx / distance, dy / distance];
  };
  const differences = found.upper.flatMap((a) =>
    found.lower.map((b): Vec2 => {
      const [u, v] = [away(a.index), away(b.index)];
      return [v[0] - u[0], v[1] - u[1]];
    }),
  );
  const margin = surroundMargin({
    x: Float64Array.from(differences, ([dx]) => dx),
    y: Float64Array.from(differences, ([, dy]) => dy),
  });
  const inner = Math.min(...found.lower.map(({ index }) => Math.hypot(x[index]! - cx, y[index]! - cy)));
  const radius = Math.max(2 * margin * inner, found.limited ? 0 : Math.sqrt(2 * inner * tolerance));
  return { x: cx, y: cy, radius: Number.isFinite(radius) ? radius : 0 };
}

function split(cell: Cell, far: Int32Array, near: Int32Array): Cell[] {
  const half = cell.half / 2;
  const signs = [
    [-1, -1],
    [1, -1],
    [-1, 1],
    [1, 1],
  ] as const;
  return signs.map(([sx, sy]) => ({ x: cell.x + sx * half, y: cell.y + sy * half, half, far, near }));
}
