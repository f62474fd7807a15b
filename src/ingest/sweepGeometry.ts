import type { Readings, SweepKind } from "../model/measurement.ts";
import type { AxisName } from "../model/plan/plan.ts";

/** How a sweep was made. */
export interface SweepShape {
  readonly kind: SweepKind;
  /** mm; null for a traverse or a map. */
  readonly radiusMm: number | null;
  readonly surface: "bore" | "boss" | null;
  /** Axis of travel and axis of the readings of a traverse. */
  readonly along: AxisName;
  readonly height: AxisName;
  /** Whether the surface looks towards plus (1) or minus (-1) along the axis of its readings. */
  readonly side: 1 | -1;
}
export interface ReadingCorrection {
  readonly sign: "toward-plus" | "toward-minus";
  /** Angle between lever and surface; null when not stated. */
  readonly leverAngleRad: number | null;
  /** Droop of the arm towards -Y; null when not stated. */
  readonly sagMm: number | null;
}

/**
 * What the surface did, from what the indicator showed, in mm: "+" is towards the indicator, a lever's reading times
 * the cosine of its angle to the surface. The tip of an arm that droops by s towards -Y swings about a centre s too
 * low, and at angle a stands off by s sin a: away from the wall of a bore, which then shows s sin a too little, and
 * closer to a boss, which shows s sin a too much. Both make the centre look s too high.
 */
export function correctedReading(
  shown: number,
  angleRad: number,
  shape: SweepShape,
  correction: ReadingCorrection,
): number {
  const towards = correction.sign === "toward-plus" ? shown : -shown;
  const fromSurface =
    correction.leverAngleRad === null ? towards : towards * Math.cos(correction.leverAngleRad);
  if (correction.sagMm === null || shape.kind !== "rim-sweep") return fromSurface;
  const droop = correction.sagMm * Math.sin(angleRad);
  return shape.surface === "bore" ? fromSurface + droop : fromSurface - droop;
}

/**
 * Stations (mm or radians, or x and y of a map) and readings as points in mm. A surface came towards the indicator, which
 * stands outside the material: of one that looks towards minus, a reading that rises lies further to minus. The readings are those of the drooping
 * arm where it is stated: its tip swings about a centre `sagMm` below the axis, so the points lie that much lower, and
 * the centre is exactly the measured one less the sag.
 */
export function sweepPoints(
  shape: SweepShape,
  sagMm: number | null,
  stations: { readonly station: Float64Array; readonly x: Float64Array; readonly y: Float64Array },
  reading: Float64Array,
): Pick<Readings, "x" | "y" | "z"> {
  const count = reading.length;
  const points = { x: new Float64Array(count), y: new Float64Array(count), z: new Float64Array(count) };
  for (let at = 0; at < count; at++) {
    const value = reading[at] ?? 0;
    const height = shape.side * value;
    const station = stations.station[at] ?? 0;
    if (shape.kind === "traverse") {
      points[shape.along][at] = station;
      points[shape.height][at] = height;
    } else if (shape.kind === "map") {
      points.x[at] = stations.x[at] ?? 0;
      points.y[at] = stations.y[at] ?? 0;
      points.z[at] = height;
    } else {
      const radius = shape.radiusMm ?? 0;
      const rim = shape.kind === "rim-sweep";
      const arm = rim ? (shape.surface === "bore" ? radius - value : radius + value) : radius;
      points.x[at] = arm * Math.cos(station);
      points.y[at] = arm * Math.sin(station) - (rim ? (sagMm ?? 0) : 0);
      points.z[at] = rim ? 0 : height;
    }
  }
  return points;
}
