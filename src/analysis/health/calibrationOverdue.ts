import { say } from "../../model/say.ts";
import { instrumentPlan } from "../fitting/instruments.ts";
import { judgesState, measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

/**
 * A gauge whose calibration was due before the log's time (without one: before the time of issue) proves nothing. The day it
 * is due still counts.
 */
export const calibrationOverdue: HealthCheck = {
  code: "calibration-overdue",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      const due = instrumentPlan(entry.instrument, context.plan)?.calibrationDue ?? null;
      const day = (entry.log?.time ?? context.issued).slice(0, 10);
      if (due === null || day <= due.slice(0, 10)) return [];
      return [
        {
          finding: {
            level: "warning",
            code: "calibration-overdue",
            text: say("The calibration of {gauge} was due on {due}, and {feature} was measured on {day}.", {
              gauge: entry.instrument ?? "",
              due: due.slice(0, 10),
              feature: entry.measured.name,
              day,
            }),
            hint: say("Have {gauge} calibrated, or measure again with a gauge that is in date.", {
              gauge: entry.instrument ?? "",
            }),
            feature: entry.measured.name,
            ...placeOf(entry.log),
          },
          undecides: judgesState(entry, context) ? [entry.measured.name] : [],
        },
      ];
    }),
};
