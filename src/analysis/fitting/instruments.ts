import type { MeasuredFeature } from "../../model/measurement.ts";
import type { InstrumentPlan, Plan } from "../../model/plan/plan.ts";

/** Key of the gauge a feature was measured with: what the log says, else the plan's feature, else the plan's logs. */
export function instrumentOf(measured: MeasuredFeature, plan: Plan): string | null {
  return measured.instrument ?? plan.features[measured.name]?.instrument ?? plan.logs.instrument;
}

/**
 * Standard uncertainty of one reading in mm: as stated, else the root of the sum of squares of resolution (as the width of
 * a rectangular distribution, over root 12), repeatability and largest error (half width, over root 3); null when the
 * plan says none of these. Source: JCGM 100:2008, 4.3.7.
 * @example readingUncertainty({...instrument, resolutionMm: 0.001, repeatMm: null, maxErrorMm: null}) // 0.00029
 */
export function readingUncertainty(instrument: InstrumentPlan): number | null {
  if (instrument.uncertaintyMm !== null) return instrument.uncertaintyMm;
  const parts = [
    instrument.resolutionMm === null ? null : instrument.resolutionMm / Math.sqrt(12),
    instrument.repeatMm,
    instrument.maxErrorMm === null ? null : instrument.maxErrorMm / Math.sqrt(3),
  ].filter((part) => part !== null);
  return parts.length === 0 ? null : Math.hypot(...parts);
}

/** The plan's entry for a gauge; null for one that the plan does not describe. */
export function instrumentPlan(name: string | null, plan: Plan): InstrumentPlan | null {
  return name !== null && Object.hasOwn(plan.instruments, name) ? (plan.instruments[name] ?? null) : null;
}
