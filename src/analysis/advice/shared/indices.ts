import type { AnalysisContext } from "../../context.ts";
import type { FeatureResult } from "../../fittedFeature.ts";

/** Features by B index in degrees as the plan states it, in rising order. */
export function byIndex(
  of: Readonly<Record<string, string>>,
  context: AnalysisContext,
): Map<number, FeatureResult> {
  const entries = Object.entries(of).map(([index, name]) => [Number(index), context.feature(name)] as const);
  return new Map(entries.sort(([a], [b]) => a - b));
}

/** An index within one turn: 0 up to 360. */
export const withinTurn = (index: number): number => ((index % 360) + 360) % 360;
