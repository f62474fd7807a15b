import type { MeasurementSet, State } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import type { HistoryValue } from "../model/setupReport.ts";
import type { FeatureResult } from "./fittedFeature.ts";

/** What every characteristic, advice and health check may see. */
export interface AnalysisContext {
  readonly plan: Plan;
  readonly set: MeasurementSet;
  /** Time of issue, ISO 8601. */
  readonly issued: string;
  /**
   * A feature of the plan. Without `state`: as left, or as found when it was measured only so. A name that is not in the
   * plan throws RangeError: the plan reader has checked every reference.
   */
  feature(name: string, state?: State): FeatureResult;
  /** Values of earlier reports of the same kind, oldest first, where the caller has a ledger; empty otherwise. */
  readonly history: readonly HistoryValue[];
}
export type { HistoryValue } from "../model/setupReport.ts";
