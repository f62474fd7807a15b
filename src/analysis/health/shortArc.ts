import { placesAlong } from "../../math/points.ts";
import { basis } from "../../math/vector.ts";
import { say } from "../../model/say.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

/** Below half a turn the centre runs away with the radius. */
const SHORT = Math.PI;
/** Of a turn: a gap narrower than one of so many means nothing. */
const SECTORS = 4096;

/** A round touched on a short arc: centre and size are much less sure than its readings. */
export const shortArc: HealthCheck = {
  code: "short-arc",
  check: (context) =>
    measuredOf(context).flatMap(({ measured, fitted, log }) => {
      const arc = fitted.ok ? arcOf(fitted) : null;
      if (!fitted.ok || arc === null || arc >= SHORT) return [];
      return [
        {
          finding: {
            level: "warning",
            code: "short-arc",
            text: say(
              "{feature} was touched on {arc} of its round: its radius is {times} times as unsure as one reading.",
              {
                feature: measured.name,
                arc: { deg: (arc * 180) / Math.PI, digits: 0 },
                times: { value: radiusFactor(fitted), unit: "", digits: 1 },
              },
            ),
            hint: say("Touch {feature} all the way round, or at least on three sides.", {
              feature: measured.name,
            }),
            feature: measured.name,
            ...placeOf(log),
          },
          undecides: [],
        },
      ];
    }),
};

/** Angle that the touches span about the axis, a full turn less the widest gap; null for what is not round about an axis. */
const arcOf = (feature: FittedFeature): number | null => {
  const gap = widestGap(feature);
  return gap === null ? null : 2 * Math.PI - gap;
};

/**
 * Widest angle about the axis without a touch, radians; where no gap is as wide as a sector, some number below that. Null for
 * what is not round about an axis or has one touch.
 */
export function widestGap({ geometry, points }: FittedFeature): number | null {
  if (geometry.radius === null || geometry.direction === null || points.x.length < 2) return null;
  const { u, v } = basis(geometry.direction);
  const x = placesAlong(points, geometry.center, u);
  const y = placesAlong(points, geometry.center, v);
  // The first and the last angle of each sector are enough: sorting all of a scan takes long.
  const first = new Float64Array(SECTORS).fill(Number.POSITIVE_INFINITY);
  const last = new Float64Array(SECTORS).fill(Number.NEGATIVE_INFINITY);
  for (let i = 0; i < x.length; i++) {
    const angle = Math.atan2(y[i]!, x[i]!);
    const sector = Math.min(SECTORS - 1, Math.floor(((angle + Math.PI) * SECTORS) / (2 * Math.PI)));
    first[sector] = Math.min(first[sector]!, angle);
    last[sector] = Math.max(last[sector]!, angle);
  }
  let before = last.findLast(Number.isFinite)! - 2 * Math.PI;
  let widest = 0;
  for (let sector = 0; sector < SECTORS; sector++) {
    if (last[sector] === Number.NEGATIVE_INFINITY) continue;
    widest = Math.max(widest, first[sector]! - before);
    before = last[sector]!;
  }
  return widest;
}

/** Standard uncertainty of the radius for a reading scatter of one, from the fit's own covariance. */
function radiusFactor({ parameters, geometry }: FittedFeature): number {
  const { covariance, at } = parameters;
  const step = 1e-6;
  const slopes = covariance.map((_, j) => {
    const moved = at(covariance.map((__, k) => (k === j ? step : 0)));
    return ((moved.radius ?? 0) - (geometry.radius ?? 0)) / step;
  });
  let variance = 0;
  slopes.forEach((a, i) => {
    slopes.forEach((b, j) => {
      variance += a * (covariance[i]![j] ?? 0) * b;
    });
  });
  return Math.sqrt(variance);
}
