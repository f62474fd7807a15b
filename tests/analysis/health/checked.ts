// One check of the shelf, run on a plan and what was measured.
import { expect } from "vitest";
import type { AnalysisContext } from "../../../src/analysis/context.ts";
import { fitFeatures } from "../../../src/analysis/fitting/fitFeatures.ts";
import type { HealthResult } from "../../../src/analysis/health/contract.ts";
import { healthChecks } from "../../../src/analysis/health/index.ts";
import type { LogRecord, MeasuredFeature } from "../../../src/model/measurement.ts";
import type { Plan } from "../../../src/model/plan/plan.ts";
import { ISSUED, log, setOf } from "../setting.ts";

export const contextOf = (
  plan: Plan,
  features: readonly MeasuredFeature[],
  logs: readonly LogRecord[] = [log()],
): AnalysisContext => {
  const set = setOf(features, { logs });
  return { plan, set, issued: ISSUED, history: [], feature: fitFeatures(set, plan).feature };
};

export function checked(code: string, context: AnalysisContext): readonly HealthResult[] {
  const check = healthChecks.find((member) => member.code === code);
  if (check === undefined) expect.fail(`no check ${code}`);
  return check.check(context);
}
