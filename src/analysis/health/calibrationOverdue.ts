import { say } from "../../model/say.ts";
import { instrumentPlan } from "../fitting/instruments.ts";
import { judgesState, type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

/**
 * A gauge whose calibration was due before the log's time (without one: before the time of issue) proves nothing. The day it
 * is due still counts. One finding for each gauge and log.
 */
export const calibrationOverdue: HealthCheck = {
  code: "calibration-overdue",
  check(context) {
    const overdue = new Map<string, { entries: Measured[]; gauge: string; due: string; day: string }>();
    for (const entry of measuredOf(context)) {
      const gauge = entry.instrument ?? "";
      const due = instrumentPlan(entry.instrument, context.plan)?.calibrationDue?.slice(0, 10) ?? null;
      const day = (entry.log?.time ?? context.issued).slice(0, 10);
      if (due === null || day <= due) continue;
      const key = `${entry.measured.log} ${gauge}`;
      const group = overdue.get(key) ?? { entries: [], gauge, due, day };
      overdue.set(key, { ...group, entries: [...group.entries, entry] });
    }
    return [...overdue.values()].map(({ entries, gauge, due, day }) => {
      const features = namesOf(entries);
      return {
        finding: {
          level: "warning",
          code: "calibration-overdue",
          text: say("The calibration of {gauge} was due on {due}; used on {day} for {features}.", {
            gauge,
            due,
            day,
            features: features.join(", "),
          }),
          hint: say("Have {gauge} calibrated, or measure again with a gauge that is in date.", { gauge }),
          ...(features.length === 1 ? { feature: features[0]! } : {}),
          ...placeOf(entries[0]?.log ?? null),
        },
        undecides: namesOf(entries.filter((entry) => judgesState(entry, context))),
      };
    });
  },
};

const namesOf = (entries: readonly Measured[]): string[] => [
  ...new Set(entries.map(({ measured }) => measured.name)),
];
