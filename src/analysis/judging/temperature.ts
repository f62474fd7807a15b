import { type Said, say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { measuredFeatures } from "../propagate.ts";

export interface AtReference {
  /** The length at 20 degrees Celsius where it could be corrected, else as measured, mm. */
  readonly value: number;
  /** Other standard uncertainties of the length, mm. */
  readonly extra: readonly number[];
  readonly remarks: readonly Said[];
}
export const REFERENCE_C = 20;

/** Mean part temperature of the features' logs, else the plan's; null when neither states one. */
export function partTemperature(
  features: readonly FittedFeature[],
  { plan }: AnalysisContext,
): number | null {
  const stated = measuredFeatures(features)
    .map(({ measured }) => measured?.temperatureC ?? null)
    .filter((value) => value !== null);
  return stated.length > 0
    ? stated.reduce((total, value) => total + value, 0) / stated.length
    : plan.part.temperatureC;
}

/**
 * A length of the part at the reference temperature of 20 degrees Celsius (ISO 1): L20 = L (1 - expansion (T - 20)), on a scale
 * that is right at 20. Corrected only when the part's temperature and its expansion are both stated; otherwise the remark
 * says what one degree would change, where the expansion is known. Lengths in mm.
 */
export function atReference(
  value: number,
  features: readonly FittedFeature[],
  context: AnalysisContext,
): AtReference {
  const { expansionPerK } = context.plan.part;
  if (expansionPerK === null) return { value, extra: [], remarks: [] };
  const temperature = partTemperature(features, context);
  if (temperature === null)
    return {
      value,
      extra: [],
      remarks: [
        say("The part's temperature is not stated: each degree from 20 °C changes this by {change}.", {
          change: { mm: Math.abs(value * expansionPerK), as: "uncertainty" },
        }),
      ],
    };
  const change = -value * expansionPerK * (temperature - REFERENCE_C);
  return {
    value: value + change,
    extra: [],
    remarks: [
      say("Measured {measured} at {temperature}, brought to 20 °C: {change}.", {
        measured: { mm: value },
        temperature: { value: temperature, unit: "°C" },
        change: { mm: change, signed: true, as: "uncertainty" },
      }),
    ],
  };
}
