import type { AnalysisContext } from "../../context.ts";
import type { FeatureResult } from "../../fittedFeature.ts";

/** Features by B index in degrees, 0 up to 360, in rising order. */
export function byIndex(
  of: Readonly<Record<string, string>>,
  context: AnalysisContext,
): Map<number, FeatureResult> {
  const entries = Object.entries(of).map(
    ([index, name]) => [((Number(index) % 360) + 360) % 360, context.feature(name)] as const,
  );
  return new Map(entries.sort(([a], [b]) => a - b));
}
