import type { MeasuredFeature } from "../../model/measurement.ts";
import type { FeatureResult } from "../fittedFeature.ts";
import { largestAxis } from "../fitting/lineFrame.ts";

/**
 * The numbers that a gauge showed: an indicator's readings, or of touches on a flat feature the coordinate along its normal.
 * Null where no one column holds them, as on rounds.
 */
export function readingColumn(measured: MeasuredFeature, fitted: FeatureResult): Float64Array | null {
  if (measured.sweep !== undefined) return measured.sweep.reading;
  if (!fitted.ok || fitted.geometry.radius !== null || fitted.extent !== null) return null;
  const { direction } = fitted.geometry;
  return direction === null ? null : measured.readings[(["x", "y", "z"] as const)[largestAxis(direction)]];
}
