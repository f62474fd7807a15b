import type { FittedFeature } from "../../fittedFeature.ts";
import { faceSlopes, planeHeight } from "./slopes.ts";

export type Rim = { readonly radius: number } | { readonly x: number; readonly y: number };
/** Heights of a raw face along Z, as touched and as its plane says at the rim; mm. */
export interface Raw {
  readonly lowest: number;
  readonly lowestAt: readonly [number, number];
  readonly highest: number;
  readonly rimLow: number | null;
  readonly rimHigh: number | null;
  /** Rise of the plane per length, in its steepest direction. */
  readonly tilt: number;
  /** Distance from the lowest reading to the next lowest, and whether that stands out among the residuals. */
  readonly gap: number;
  readonly alone: boolean;
}

/** Lowest and highest of a face that looks at the spindle; the rim is centred on the log's zero. */
export function rawFace(found: FittedFeature, rim: Rim | null): Raw {
  const { x, y, z } = found.points;
  const { slopeX, slopeY } = faceSlopes(found);
  const [a, b] = [slopeX ?? 0, slopeY ?? 0];
  const residuals = z.map((value, i) => value - planeHeight(found.geometry, x[i]!, y[i]!));
  const order = Array.from(z.keys()).sort((i, j) => z[i]! - z[j]!);
  const low = order[0] ?? 0;
  const gap = order.length > 1 ? z[order[1]!]! - z[low]! : 0;
  const atZero = planeHeight(found.geometry, 0, 0);
  const reach =
    rim === null
      ? null
      : "radius" in rim
        ? rim.radius * Math.hypot(a, b)
        : Math.abs(a) * rim.x + Math.abs(b) * rim.y;
  return {
    lowest: z[low] ?? Number.NaN,
    lowestAt: [x[low] ?? 0, y[low] ?? 0],
    highest: z[order.at(-1) ?? 0] ?? Number.NaN,
    rimLow: reach === null ? null : atZero - reach + least(residuals),
    rimHigh: reach === null ? null : atZero + reach - least(residuals.map((value) => -value)),
    tilt: Math.hypot(a, b),
    gap,
    alone: order.length > 3 && gap > 3 * found.rmsMm && gap > 0.001,
  };
}
const least = (values: Float64Array): number =>
  values.reduce((low, value) => Math.min(low, value), Number.POSITIVE_INFINITY);
