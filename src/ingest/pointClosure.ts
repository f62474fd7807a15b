import type { FeaturePlan } from "../model/plan/plan.ts";

type Columns = Readonly<Record<"x" | "y" | "z", Float64Array>>;
type Vector = readonly [number, number, number];

/**
 * How far a feature seems to have moved between its first touches and its repeat, in mm: each repeated touch is
 * compared with the nearest first one. Planes and lines: the mean difference along the plan's normal, or along the
 * axis in which the touches spread least; last minus first. Rounds and points: the length of the mean difference.
 */
export function pointClosureMm(first: Columns, repeat: Columns, plan: FeaturePlan | null): number {
  const sum: [number, number, number] = [0, 0, 0];
  for (let at = 0; at < repeat.x.length; at++) {
    const point: Vector = [repeat.x[at] ?? 0, repeat.y[at] ?? 0, repeat.z[at] ?? 0];
    const near = nearest(first, point);
    for (const axis of [0, 1, 2] as const) sum[axis] += (point[axis] - near[axis]) / repeat.x.length;
  }
  const round = plan !== null && plan.fit !== "plane" && plan.fit !== "line";
  if (round) return Math.hypot(...sum);
  const normal = plan?.normal ?? thinnest(first);
  const size = Math.hypot(...normal);
  return (sum[0] * normal[0] + sum[1] * normal[1] + sum[2] * normal[2]) / size;
}

function nearest(first: Columns, [x, y, z]: Vector): Vector {
  let best: Vector = [x, y, z];
  let least = Number.POSITIVE_INFINITY;
  for (let at = 0; at < first.x.length; at++) {
    const candidate: Vector = [first.x[at] ?? 0, first.y[at] ?? 0, first.z[at] ?? 0];
    const distance = Math.hypot(candidate[0] - x, candidate[1] - y, candidate[2] - z);
    if (distance >= least) continue;
    least = distance;
    best = candidate;
  }
  return best;
}

function thinnest(points: Columns): Vector {
  const spread = (values: Float64Array): number => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const value of values) {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
    return high - low;
  };
  const [x, y, z] = [spread(points.x), spread(points.y), spread(points.z)];
  if (z <= x && z <= y) return [0, 0, 1];
  return y <= x ? [0, 1, 0] : [1, 0, 0];
}
