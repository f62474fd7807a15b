import { say } from "../../model/say.ts";
import { judgesState, type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck, HealthResult } from "./contract.ts";

/** Twice the scatter of a difference of two readings: 2 x root 2 x the uncertainty of one. */
const FACTOR = 2 * Math.SQRT2;

/**
 * The repeat of the first reading at the end against its limit: the plan's, else 2 root 2 times the standard uncertainty of a
 * reading. Outside it something slipped, drifted or warmed up, and no verdict stands on such a sweep. A sweep without a
 * repeat, or a feature that should have one, is told. Source: common practice.
 */
export const closure: HealthCheck = {
  code: "closure",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      const { measured } = entry;
      if (measured.closureMm === undefined)
        return measured.sweep !== undefined || context.plan.closure.includes(measured.name)
          ? [noClosure(entry)]
          : [];
      const limit =
        context.plan.closureLimitMm ?? (entry.readingMm === null ? null : FACTOR * entry.readingMm);
      if (limit === null) return [unlimited(entry, measured.closureMm)];
      if (Math.abs(measured.closureMm) <= limit * (1 + 1e-9)) return [];
      return [open(entry, { closureMm: measured.closureMm, limit, undecides: judgesState(entry, context) })];
    }),
};

function open(
  { measured, log }: Measured,
  { closureMm, limit, undecides }: { closureMm: number; limit: number; undecides: boolean },
): HealthResult {
  return {
    finding: {
      level: "warning",
      code: "closure",
      text: say(
        "The first reading of {feature} came back {closure} off at the end, more than {limit}: something moved or warmed up.",
        {
          feature: measured.name,
          closure: { mm: closureMm, signed: true, beside: [limit, -limit] },
          limit: { mm: limit, as: "uncertainty" },
        },
      ),
      hint: say(
        "Check that indicator, base and part are tight, wait for the temperature, and sweep {feature} again with the first reading repeated.",
        {
          feature: measured.name,
        },
      ),
      feature: measured.name,
      ...placeOf(log),
    },
    undecides: undecides ? [measured.name] : [],
  };
}

const unlimited = ({ measured, log }: Measured, closureMm: number): HealthResult => ({
  finding: {
    level: "note",
    code: "closure",
    text: say(
      "The first reading of {feature} came back {closure} off at the end; without an uncertainty of the gauge there is no limit for it.",
      {
        feature: measured.name,
        closure: { mm: closureMm, signed: true },
      },
    ),
    hint: say("State the gauge's uncertainty or closure-limit in the plan.", {}),
    feature: measured.name,
    ...placeOf(log),
  },
  undecides: [],
});

const noClosure = ({ measured, log }: Measured): HealthResult => ({
  finding: {
    level: "warning",
    code: "no-closure",
    text: say("The first reading of {feature} was not repeated at the end: a slip or drift would not show.", {
      feature: measured.name,
    }),
    hint: say("Go back to the first place at the end of the sweep and read it once more.", {}),
    feature: measured.name,
    ...placeOf(log),
  },
  undecides: [],
});
