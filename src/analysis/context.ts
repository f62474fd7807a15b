import type { MeasurementSet, State } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
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
/** One value from an earlier report, for drift and re-seat. */
export interface HistoryValue {
  /** Feature, characteristic or advice it belongs to. */
  readonly of: string;
  /** What of it: `slopeX`, `x`, `value`, ... */
  readonly quantity: string;
  readonly value: number;
  /** ISO 8601 time of issue. */
  readonly issued: string;
  readonly report: string;
}
