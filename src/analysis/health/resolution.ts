import { distinct } from "../../math/distinct.ts";
import { onceFor } from "../../model/once.ts";
import { type Said, say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import { spreadOf } from "../fitting/formZone.ts";
import { leastStep } from "../judging/leastStep.ts";
import { type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import { readingColumn } from "../judging/readingColumn.ts";
import type { HealthCheck, HealthResult } from "./contract.ts";

/** Fewer steps than this over all readings, or in a tolerance, show more of the scale than of the part. */
const FEWEST_STEPS = 3;
/** Distinct readings of a gauge from which on a common step is no chance. */
const FEWEST_VALUES = 8;
/** Readings of a long column that are looked at first. */
const SOME = 10_000;
/** A step spreads a reading evenly over its width, with this much of it as standard uncertainty. Source: JCGM 100:2008, 4.3.7. */
const OF_STEP = 1 / Math.sqrt(12);

/**
 * Readings that are all multiples of a step so coarse that it hides the answer: few steps over all readings, few in a
 * tolerance, or a step that alone is worth more than the uncertainty stated for a reading.
 */
export const resolution: HealthCheck = {
  code: "resolution",
  check(context) {
    const entries = measuredOf(context).flatMap((entry) => {
      const column = readingColumn(entry.measured, entry.fitted);
      return column === null ? [] : [{ entry, column, gauge: gaugeOf(entry) }];
    });
    const gauges = new Map<string, Float64Array[]>();
    for (const { gauge, column } of entries) gauges.set(gauge, [...(gauges.get(gauge) ?? []), column]);
    const scaleAt = onceFor((gauge: string) => scaleOf(gauges.get(gauge) ?? []));
    const ownStep = ({ column, gauge }: (typeof entries)[number]): number | null =>
      gauges.get(gauge)?.length === 1 ? (scaleAt(gauge)?.step ?? null) : stepOf(distinct([column]));
    return entries.flatMap((read): HealthResult[] => {
      const { entry, column, gauge } = read;
      if (column.length < 4 || isFineAmongSome(entry, column, context)) return [];
      const scale = scaleAt(gauge);
      const own = ownStep(read);
      // Few readings may all fall on every third or fourth step of their gauge.
      const step = own !== null && scale !== null && scale.step < own * (1 - 1e-3) ? scale.step : own;
      const text =
        step === null ? null : coarse(entry, { column, step, sure: scale?.sure ?? false }, context);
      return step === null || text === null ? [] : [result(entry, text, step)];
    });
  },
};

/** Readings that share one scale: of one log and one gauge, by sweeping or by touching. */
const gaugeOf = ({ measured, instrument }: Measured): string =>
  `${measured.log} ${measured.sweep === undefined ? "touch" : "sweep"} ${instrument ?? ""}`;

interface Scale {
  readonly step: number;
  /** There are enough readings to tell. */
  readonly sure: boolean;
}

/** More readings only make a step smaller: a long column whose first readings hide nothing hides nothing. */
function isFineAmongSome(entry: Measured, column: Float64Array, context: AnalysisContext): boolean {
  if (column.length <= SOME) return false;
  const step = leastStep(distinct([column.subarray(0, SOME)]));
  return coarse(entry, { column, step, sure: true }, context) === null;
}

/**
 * Step of a gauge over all its readings, which one feature's few readings may hit by chance only in larger steps; `sure` when
 * there are enough to tell. Null when they have no common step.
 */
function scaleOf(columns: readonly Float64Array[]): Scale | null {
  const values = distinct(columns);
  const step = stepOf(values);
  return step === null ? null : { step, sure: values.length >= FEWEST_VALUES };
}

function result({ measured, log }: Measured, text: Said, step: number): HealthResult {
  return {
    finding: {
      level: "warning",
      code: "resolution",
      text,
      hint: say("Read with a finer scale before judging anything below {step}.", {
        step: { mm: step, as: "stated" },
      }),
      feature: measured.name,
      ...placeOf(log),
    },
    undecides: [],
  };
}

/** What the step hides; null when it is fine enough. */
function coarse(
  { measured, readingMm }: Measured,
  { column, step, sure }: { column: Float64Array; step: number; sure: boolean },
  context: AnalysisContext,
): Said | null {
  const feature = measured.name;
  const steps = Math.round(spreadOf(column) / step);
  if (steps < FEWEST_STEPS)
    return say(
      "The readings of {feature} spread over {steps} × {step}, the step of the scale: it hides what is smaller.",
      {
        feature,
        steps,
        step: { mm: step, as: "stated" },
      },
    );
  if (!sure) return null;
  const tight = context.plan.characteristics.find(
    ({ of, limits }) =>
      of === feature && limits.nominal === null && isBelow(limits.upper, FEWEST_STEPS * step),
  );
  if (tight !== undefined)
    return say(
      "Readings of {feature} are all multiples of {step}, and {id} allows {limit}: the scale hides the answer.",
      {
        feature,
        step: { mm: step, as: "stated" },
        id: tight.id,
        limit: { mm: tight.limits.upper ?? 0, as: "limit" },
      },
    );
  if (readingMm === null || step * OF_STEP <= readingMm * (1 + 1e-3)) return null;
  return say(
    "Readings of {feature} are all multiples of {step}, which alone is an uncertainty of {alone}; {stated} is stated for one.",
    {
      feature,
      step: { mm: step, as: "stated" },
      alone: { mm: step * OF_STEP, as: "uncertainty" },
      stated: { mm: readingMm, as: "uncertainty" },
    },
  );
}

const isBelow = (limit: number | null, bound: number): boolean =>
  limit !== null && limit > 0 && limit < bound;

/** The step that all differences of sorted readings are multiples of; null when there is none above rounding. */
function stepOf(sorted: Float64Array): number | null {
  const step = leastStep(sorted);
  if (!Number.isFinite(step)) return null;
  for (let i = 1; i < sorted.length; i++) {
    const steps = (sorted[i]! - sorted[i - 1]!) / step;
    // What is below the least step is rounding.
    if (steps >= 1 && !(Math.abs(steps - Math.round(steps)) < 1e-3)) return null;
  }
  return step;
}
