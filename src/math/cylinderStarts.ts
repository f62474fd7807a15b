import { leastSquares } from "./leastSquares.ts";
import { dropped, type Points3, toFrame } from "./points.ts";
import { momentStart, roundProblem, squaresAt } from "./round.ts";
import { principal } from "./spread.ts";
import { add, basis, scale, unit, type Vec3 } from "./vector.ts";

/** A cylinder to start from: axis through (a, b, 0) along the direction, in the frame `basis(direction)`. */
export interface CylinderStart {
  readonly direction: Vec3;
  readonly a: number;
  readonly b: number;
  readonly radius: number;
}

/**
 * Axes worth trying for points centred on their mean: the given one, the principal directions, a narrow cone about
 * the longest, the direction of least curvature of the patch, and the best of a half sphere of directions laid out in the principal frame (so
 * that turning the part turns the answer with it).
 */
export function cylinderStarts(
  points: Points3,
  axes: readonly [Vec3, Vec3, Vec3],
  hint: Vec3 | null,
): CylinderStart[] {
  const always = [hint, ...axes, flattest(points, axes)].filter((axis) => axis !== null);
  const starts = always.map((axis) => startAlong(points, axis)).filter((start) => start !== null);
  return [...starts, ...bestOfCone(points, axes), ...bestOfHalfSphere(points, axes)].map(
    ({ squares: _, ...start }) => start,
  );
}

type Judged = CylinderStart & { readonly squares: number };

function startAlong(points: Points3, direction: Vec3): Judged | null {
  const { x, y } = dropped(points, [0, 0, 0], direction);
  const round = momentStart([x, y]);
  if (!round?.every(Number.isFinite)) return null;
  const squares = squaresAt(roundProblem([x, y]), round);
  return { direction, a: round[0]!, b: round[1]!, radius: round[2]!, squares };
}

/** A few touches on a slender cylinder tilt the longest direction by about its thickness over its length. */
function bestOfCone(points: Points3, axes: readonly [Vec3, Vec3, Vec3]): Judged[] {
  const { x, y, z } = toFrame(points, [0, 0, 0], axes[0]);
  const across = x.reduce((total, u, i) => total + u * u + y[i]! * y[i]!, 0);
  const slender = Math.sqrt(across / z.reduce((total, w) => total + w * w, 0));
  const judged: Judged[] = [];
  for (const tilt of [0.4 * slender, 0.8 * slender, 1.4 * slender])
    for (let k = 0; k < 12; k++) {
      const turn = (Math.PI * k) / 6;
      const start = startAlong(points, combine(axes, [1, tilt * Math.cos(turn), tilt * Math.sin(turn)]));
      if (start) judged.push(start);
    }
  return judged.sort((p, q) => p.squares - q.squares).slice(0, 4);
}

const RINGS = 9;

function bestOfHalfSphere(points: Points3, axes: readonly [Vec3, Vec3, Vec3]): Judged[] {
  const judged: Judged[] = [];
  for (let ring = 0; ring < RINGS; ring++) {
    const height = (ring + 0.5) / RINGS;
    const across = Math.sqrt(1 - height * height);
    const count = Math.max(4, Math.round(2 * Math.PI * across * RINGS * 0.7));
    for (let k = 0; k < count; k++) {
      const turn = (2 * Math.PI * (k + 0.5)) / count;
      const direction = combine(axes, [across * Math.cos(turn), across * Math.sin(turn), height]);
      const start = startAlong(points, direction);
      if (start) judged.push(start);
    }
  }
  judged.sort((p, q) => p.squares - q.squares);
  return farApart(judged, 6);
}

/** The first `count` whose axes stand at least 15 degrees from those taken before. */
function farApart(sorted: readonly Judged[], count: number): Judged[] {
  const taken: Judged[] = [];
  for (const next of sorted) {
    const [x, y, z] = next.direction;
    const near = taken.some(
      ({ direction: d }) => Math.abs(d[0] * x + d[1] * y + d[2] * z) > Math.cos(Math.PI / 12),
    );
    if (!near) taken.push(next);
    if (taken.length === count) break;
  }
  return taken;
}

function combine(axes: readonly [Vec3, Vec3, Vec3], parts: Vec3): Vec3 {
  return unit(add(scale(axes[0], parts[0]), add(scale(axes[1], parts[1]), scale(axes[2], parts[2]))));
}

/** Direction in which a quadric over the patch's plane bends least: the axis of a patch seen from outside. */
function flattest(points: Points3, axes: readonly [Vec3, Vec3, Vec3]): Vec3 | null {
  const { x, y, z } = toFrame(points, [0, 0, 0], axes[2]);
  if (x.length < 7) return null;
  const columns = [
    x.map(() => 1),
    x,
    y,
    x.map((u) => (u * u) / 2),
    x.map((u, i) => u * y[i]!),
    y.map((v) => (v * v) / 2),
  ];
  const quadric = leastSquares(columns, z, { refine: false });
  if (!quadric.ok) return null;
  const [, , , uu = 0, uv = 0, vv = 0] = quadric.coefficients;
  // Squared, so that the direction of least bend comes last whichever way the patch is bowed.
  const bend = [
    [uu * uu + uv * uv, uv * (uu + vv)],
    [uv * (uu + vv), vv * vv + uv * uv],
  ];
  const [, along] = principal(bend, 2).axes;
  const { u, v } = basis(axes[2]);
  return unit(add(scale(u, along![0]!), scale(v, along![1]!)));
}
