import { say } from "../../model/say.ts";
import { spreadOf } from "../fitting/formZone.ts";
import { type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import { readingColumn } from "../judging/readingColumn.ts";
import type { HealthCheck } from "./contract.ts";

/** Fewer steps than this over all readings show more of the scale than of the part. */
const FEWEST_STEPS = 3;

/** Readings that fall on so few steps of the scale that the resolution hides the answer. */
export const resolution: HealthCheck = {
  code: "resolution",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      const { measured, log } = entry;
      const step = stepOf(entry);
      const column = readingColumn(measured, entry.fitted);
      if (step === null || column === null || column.length < 4) return [];
      const steps = Math.round(spreadOf(column) / step);
      if (steps === 0 || steps >= FEWEST_STEPS) return [];
      return [
        {
          finding: {
            level: "warning",
            code: "resolution",
            text: say(
              "All readings of {feature} lie within {steps} steps of {step}: the scale hides what is smaller.",
              {
                feature: measured.name,
                steps,
                step: { mm: step, digits: 5 },
              },
            ),
            hint: say("Read with a finer scale before judging anything below {step}.", {
              step: { mm: step, digits: 5 },
            }),
            feature: measured.name,
            ...placeOf(log),
          },
          undecides: [],
        },
      ];
    }),
};

/** The step that all differences of readings are multiples of; null when there is none above rounding. */
function stepOf({ measured, fitted }: Measured): number | null {
  const column = readingColumn(measured, fitted);
  if (column === null) return null;
  const sorted = [...new Set(column)].sort((a, b) => a - b);
  const gaps = sorted
    .slice(1)
    .map((value, i) => value - sorted[i]!)
    .filter((gap) => gap > 1e-7);
  const step = gaps.reduce((least, gap) => Math.min(least, gap), Number.POSITIVE_INFINITY);
  if (!Number.isFinite(step)) return null;
  return gaps.every((gap) => Math.abs(gap / step - Math.round(gap / step)) < 1e-3) ? step : null;
}
