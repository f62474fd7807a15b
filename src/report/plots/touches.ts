import type { FeaturePlot, ReportFeature } from "../../model/setupReport.ts";

const MOST_DRAWN = 2000;

/** One touch ready to draw. */
export interface Touch {
  readonly place: readonly [number, number, number];
  readonly deviation: number;
  readonly line: number;
  /** It holds the minimum zone. */
  readonly holds: boolean;
  readonly weight: number;
  /** It carries the largest inscribed or the smallest circumscribed circle. */
  readonly carries: boolean;
}

/** Touches of a feature, at most two thousand, extremes and supports among them; null when there is nothing to draw. */
export function touchesOf(feature: ReportFeature): readonly Touch[] | null {
  const { plot } = feature;
  if (plot === undefined || feature.center === null) return null;
  const weights = new Map<number, number>();
  // Supports are counted in the order measured: they can be found only when every point is here.
  if (plot.of === plot.x.length) {
    for (const { point, weight } of feature.zone?.support ?? []) weights.set(point, weight);
  }
  const carrying = new Set(
    plot.of === plot.x.length
      ? [...(feature.inscribed?.support ?? []), ...(feature.circumscribed?.support ?? [])]
      : [],
  );
  const all = plot.x.flatMap((_, index) => touchAt(plot, index, weights, carrying));
  return all.length === 0 ? null : thinned(all);
}

function touchAt(
  plot: FeaturePlot,
  index: number,
  weights: ReadonlyMap<number, number>,
  carrying: ReadonlySet<number>,
): Touch[] {
  const place = [plot.x[index], plot.y[index], plot.z[index]];
  const deviation = plot.deviation[index];
  const numbers = [...place, deviation];
  if (!numbers.every((value) => typeof value === "number" && Number.isFinite(value))) return [];
  const [x = 0, y = 0, z = 0] = place;
  return [
    {
      place: [x, y, z],
      deviation: deviation ?? 0,
      line: plot.line[index] ?? 0,
      holds: weights.has(index),
      weight: weights.get(index) ?? 0,
      carries: carrying.has(index),
    },
  ];
}

function thinned(all: readonly Touch[]): readonly Touch[] {
  if (all.length <= MOST_DRAWN) return all;
  const step = Math.ceil(all.length / (MOST_DRAWN - 100));
  const { highest, lowest } = extremes(all);
  return all.filter(
    (touch, i) => i % step === 0 || touch.holds || touch.carries || touch === highest || touch === lowest,
  );
}

/** The highest and the lowest touch of a list that is not empty. */
export function extremes(touches: readonly Touch[]): { readonly highest: Touch; readonly lowest: Touch } {
  const highest = touches.reduce((best, touch) => (touch.deviation > best.deviation ? touch : best));
  const lowest = touches.reduce((best, touch) => (touch.deviation < best.deviation ? touch : best));
  return { highest, lowest };
}
