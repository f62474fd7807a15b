import { toFrame } from "../../math/points.ts";
import { say } from "../../model/say.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

/** Below half a turn the centre runs away with the radius. */
const SHORT = Math.PI;

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

/** Widest angle about the axis without a touch, radians; null for what is not round about an axis or has one touch. */
export function widestGap({ geometry, points }: FittedFeature): number | null {
  if (geometry.radius === null || geometry.direction === null || points.x.length < 2) return null;
  const { x, y } = toFrame(points, geometry.center, geometry.direction);
  const angles = x.map((value, i) => Math.atan2(y[i]!, value)).sort();
  let widest = angles[0]! + 2 * Math.PI - angles[angles.length - 1]!;
  for (let i = 1; i < angles.length; i++) widest = Math.max(widest, angles[i]! - angles[i - 1]!);
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
