import { dot, type Vec3 } from "../../../math/vector.ts";
import type { FittedFeature } from "../../fittedFeature.ts";
import { at, thinned } from "../../thinned.ts";
import { faceSlopes, facing } from "./slopes.ts";
import { bearing } from "./turn.ts";

/** Thickness over X and Y; lengths in mm, wedge as mm per mm. */
export interface Thickness {
  readonly mean: number;
  readonly least: number;
  readonly most: number;
  readonly range: number;
  readonly wedgeX: number;
  readonly wedgeY: number;
  /** Degrees from +X towards +Y; null without a wedge. */
  readonly thickAngle: number | null;
  /** Largest distance across the places measured. */
  readonly span: number;
  /** Sums over opposite places where there are four a quarter turn apart. */
  readonly crossSums: readonly [number, number] | null;
  readonly plot: { readonly x: number[]; readonly y: number[]; readonly thickness: number[] };
}

/**
 * Thickness between two faces of one setup: distances of the touches of `second` from the plane of `first`, positive
 * whichever way that plane points.
 */
export function thicknessBetween(first: FittedFeature, second: FittedFeature): Thickness {
  const normal = first.geometry.direction ?? ([0, 0, 1] as const);
  const center = first.geometry.center;
  const { x, y, z } = second.points;
  const distances = Array.from(x, (value, i) => {
    const from: Vec3 = [value - center[0], y[i]! - center[1], z[i]! - center[2]];
    return dot(from, normal);
  });
  const sign = distances.reduce((total, d) => total + d, 0) < 0 ? -1 : 1;
  const [under, over] = [faceSlopes(first), faceSlopes(second)];
  // Along the plane of `second` the distance grows by n_x + n_z a, and -n_x / n_z is the slope of `first`.
  const factor = sign * normal[2];
  const wedge = (key: "slopeX" | "slopeY"): number => zeroed(factor * ((over[key] ?? 0) - (under[key] ?? 0)));
  return thicknessFrom(
    second,
    distances.map((d) => sign * d),
    wedge("slopeX"),
    wedge("slopeY"),
  );
}

/** Thickness from readings of it over X and Y. What is thicker stands out further on the side that its normal shows. */
export function thicknessOfMap(map: FittedFeature): Thickness {
  const { slopeX, slopeY } = faceSlopes(map);
  const side = map.measured?.sweep === undefined ? 1 : facing(map);
  return thicknessFrom(
    map,
    Array.from(map.points.z, (z) => side * z),
    zeroed(side * (slopeX ?? 0)),
    zeroed(side * (slopeY ?? 0)),
  );
}

function thicknessFrom(
  face: FittedFeature,
  values: readonly number[],
  wedgeX: number,
  wedgeY: number,
): Thickness {
  const { x, y } = face.points;
  const least = values.reduce((low, value) => Math.min(low, value), Number.POSITIVE_INFINITY);
  const drawn = thinned(Float64Array.from(values));
  const most = values.reduce((high, value) => Math.max(high, value), Number.NEGATIVE_INFINITY);
  return {
    mean: values.reduce((total, value) => total + value, 0) / values.length,
    least,
    most,
    range: most - least,
    wedgeX,
    wedgeY,
    thickAngle: bearing(wedgeX, wedgeY),
    span: spanOf(x, y),
    crossSums: crossSumsOf(x, y, values),
    plot: { x: at(drawn, x), y: at(drawn, y), thickness: at(drawn, values) },
  };
}
const zeroed = (value: number): number => (value === 0 ? 0 : value);

/** Twice the largest distance from the mean place: the diameter of a round of touches. */
function spanOf(x: Float64Array, y: Float64Array): number {
  const mean = (of: Float64Array): number => of.reduce((total, value) => total + value, 0) / of.length;
  const [cx, cy] = [mean(x), mean(y)];
  return 2 * x.reduce((far, value, i) => Math.max(far, Math.hypot(value - cx, y[i]! - cy)), 0);
}

/** Sums of opposite readings when exactly four lie a quarter turn apart about their mean. */
function crossSumsOf(
  x: Float64Array,
  y: Float64Array,
  values: readonly number[],
): readonly [number, number] | null {
  if (values.length !== 4) return null;
  const [cx, cy] = [(x[0]! + x[1]! + x[2]! + x[3]!) / 4, (y[0]! + y[1]! + y[2]! + y[3]!) / 4];
  const order = [0, 1, 2, 3].sort(
    (i, j) => Math.atan2(y[i]! - cy, x[i]! - cx) - Math.atan2(y[j]! - cy, x[j]! - cx),
  );
  const [a, b, c, d] = order.map((i) => values[i]!);
  return [a! + c!, b! + d!];
}
