import type { LogRecord, MeasuredFeature } from "../../model/measurement.ts";
import type { AnalysisContext } from "../context.ts";
import type { FeatureResult } from "../fittedFeature.ts";
import { instrumentOf, instrumentPlan, readingUncertainty } from "../fitting/instruments.ts";

/** A feature of the plan as measured in one state, with its log, its gauge and its fit. */
export interface Measured {
  readonly measured: MeasuredFeature;
  readonly log: LogRecord | null;
  readonly instrument: string | null;
  /** Stated standard uncertainty of one reading, mm. */
  readonly readingMm: number | null;
  readonly fitted: FeatureResult;
}

/** What was measured of the plan's features, in the order of the set. */
export function measuredOf(context: AnalysisContext): readonly Measured[] {
  const { set, plan } = context;
  return set.features
    .filter(({ name }) => Object.hasOwn(plan.features, name))
    .map((measured) => {
      const instrument = instrumentOf(measured, plan);
      const described = instrumentPlan(instrument, plan);
      return {
        measured,
        log: set.logs[measured.log] ?? null,
        instrument,
        readingMm: described === null ? null : readingUncertainty(described),
        fitted: context.feature(measured.name, measured.state),
      };
    });
}

/** Whether this state is the one that verdicts are given on. */
export const judgesState = ({ measured }: Measured, context: AnalysisContext): boolean =>
  context.feature(measured.name).state === measured.state;

/** The log as a finding names it. */
export const placeOf = (log: LogRecord | null): { readonly log?: string } =>
  log === null ? {} : { log: log.name };
