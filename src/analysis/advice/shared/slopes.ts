import type { FittedFeature, Geometry } from "../../fittedFeature.ts";

/** Slopes of a face that looks at the spindle, as mm per mm; null where the feature cannot tell. */
export interface FaceSlopes {
  /** dZ/dX: above zero the right edge stands nearer the spindle. */
  readonly slopeX: number | null;
  /** dZ/dY: above zero the top stands nearer the spindle. */
  readonly slopeY: number | null;
}
const NONE: FaceSlopes = { slopeX: null, slopeY: null };
/** A face turned further than this from the spindle axis has no slope over X and Y that a person would correct. */
const LEAST_FACING = Math.cos(Math.PI / 4);

/**
 * Slopes dZ/dX and dZ/dY of a plane (normal (-a, -b, 1) up to length) or of a line, which has one of them: the one
 * along its travel. A plane turned more than 45 degrees from Z, a line whose readings are not along Z, or another fit
 * has none.
 */
export function faceSlopes(feature: FittedFeature, geometry: Geometry = feature.geometry): FaceSlopes {
  const direction = geometry.direction;
  if (direction === null) return NONE;
  const [x, y, z] = direction;
  if (feature.fit === "plane") {
    if (Math.abs(z) < LEAST_FACING) return NONE;
    return { slopeX: zeroed(-x / z), slopeY: zeroed(-y / z) };
  }
  if (feature.fit !== "line" || (feature.plan?.height ?? "z") !== "z") return NONE;
  const along = feature.plan?.along ?? (Math.abs(x) >= Math.abs(y) ? "x" : "y");
  const travel = along === "x" ? x : along === "y" ? y : 0;
  if (Math.abs(travel) < LEAST_FACING) return NONE;
  return along === "x"
    ? { slopeX: zeroed(z / travel), slopeY: null }
    : { slopeX: null, slopeY: zeroed(z / travel) };
}

/** Sideways lean dX/dY of a face that looks along X; null for any other. */
export function sideLean(feature: FittedFeature, geometry: Geometry = feature.geometry): number | null {
  const direction = geometry.direction;
  if (direction === null) return null;
  if (feature.fit === "line" && feature.plan?.height === "x" && feature.plan.along === "y") {
    return Math.abs(direction[1]) < LEAST_FACING ? null : zeroed(direction[0] / direction[1]);
  }
  if (feature.fit !== "plane" || Math.abs(direction[0]) < LEAST_FACING) return null;
  return zeroed(-direction[1] / direction[0]);
}

/** Kinds of characteristic that become better when a body is turned or leaned. */
export const ORIENTATIONS = ["tilt", "perpendicularity", "parallelism", "angularity", "angle"];

/** Which way along Z a face looks: an indicator outside its material shows a move of it with this sign. */
export function facing({ fit, geometry, plan }: FittedFeature): 1 | -1 {
  const z = fit === "plane" ? geometry.direction?.[2] : plan?.normal?.[2];
  return (z ?? 1) < 0 ? -1 : 1;
}

/** Z of a fitted plane above (x, y). Throws RangeError for a feature that is no plane or stands upright. */
export function planeHeight(geometry: Geometry, x: number, y: number): number {
  const n = geometry.direction;
  if (n === null || n[2] === 0) throw new RangeError("only a plane that is not upright has a height");
  const [cx, cy, cz] = geometry.center;
  return cz - (n[0] * (x - cx) + n[1] * (y - cy)) / n[2];
}

/** Minus zero reads badly in a record. */
const zeroed = (value: number): number => (value === 0 ? 0 : value);
