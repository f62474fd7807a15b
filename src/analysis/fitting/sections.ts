import { type Points2, toFrame } from "../../math/points.ts";
import type { FittedFeature } from "../fittedFeature.ts";

/** One ring of touches of a cylinder, seen along the fitted axis. */
export interface Section {
  /** Mean height along the axis from the cylinder's `center`. */
  readonly height: number;
  readonly points: Points2;
  /** Numbers of the points among those of the feature. */
  readonly members: readonly number[];
}
/** Gaps between rings must be this much larger than gaps within them; a spiral has none that are. */
const CLEAR_GAP = 3;

/**
 * Rings of touches of a cylinder, found by the gaps in height along the fitted axis: the heights fall into rings where
 * their gaps, sorted, drop most steeply. Empty when no gap stands out, as in a spiral.
 */
export function sectionsOf({ points, geometry }: FittedFeature): readonly Section[] {
  const local = toFrame(points, geometry.center, geometry.direction!);
  const order = [...local.z.keys()].sort((a, b) => local.z[a]! - local.z[b]! || a - b);
  const gaps = order.slice(1).map((index, i) => local.z[index]! - local.z[order[i]!]!);
  const threshold = clearGap(gaps, local.z[order.at(-1)!]! - local.z[order[0]!]!);
  if (threshold === null) return [];
  const groups: number[][] = [[order[0]!]];
  gaps.forEach((gap, i) => {
    if (gap >= threshold) groups.push([]);
    groups.at(-1)!.push(order[i + 1]!);
  });
  return groups.map((members) => ({
    height: members.reduce((total, i) => total + local.z[i]!, 0) / members.length,
    points: {
      x: Float64Array.from(members, (i) => local.x[i]!),
      y: Float64Array.from(members, (i) => local.y[i]!),
    },
    members,
  }));
}

/** The smallest gap that parts two rings; null when the gaps do not fall into two kinds. */
function clearGap(gaps: readonly number[], span: number): number | null {
  const floor = 1e-6 * span;
  const sorted = gaps.map((gap) => Math.max(gap, floor)).sort((a, b) => b - a);
  let best: { ratio: number; gap: number } = { ratio: 0, gap: 0 };
  for (let i = 0; i + 1 < sorted.length; i++) {
    const ratio = sorted[i]! / sorted[i + 1]!;
    if (ratio > best.ratio) best = { ratio, gap: sorted[i]! };
  }
  return span > 0 && best.ratio >= CLEAR_GAP ? best.gap : null;
}
