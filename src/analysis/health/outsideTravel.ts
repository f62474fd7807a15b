import type { AxisName } from "../../model/plan/plan.ts";
import { type Said, say } from "../../model/say.ts";
import { spreadOf } from "../fitting/formZone.ts";
import { judgesState, type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck, HealthResult } from "./contract.ts";

type Range = readonly [number, number];
type Axis = readonly [AxisName, Range];

/**
 * Coordinates that the machine cannot reach: wider apart than its travel, whatever their zero, or outside it in the frame of
 * the machine. Such a log has a wrong unit or frame, and nothing of the feature is decided. Where the frame is not stated a
 * coordinate outside is only told, because the zero may be the work's.
 */
export const outsideTravel: HealthCheck = {
  code: "outside-travel",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      // The places of a sweep are counted from a zero of their own.
      if (entry.measured.sweep !== undefined) return [];
      const frame = entry.measured.frame ?? context.plan.logs.frame;
      const undecides = judgesState(entry, context) ? [entry.measured.name] : [];
      return Object.entries(context.plan.machine.travel).flatMap(([axis, travel]): HealthResult[] => {
        const on = [axis as AxisName, travel] as const;
        const wide = tooWide(entry, on);
        if (wide !== null) return [result(entry, wide, { undecides })];
        const outside = frame === "work" ? null : outsideAt(entry, on);
        if (outside === null) return [];
        return [
          result(entry, outside.text, {
            undecides: frame === "machine" ? undecides : [],
            index: outside.index,
            note: frame === null,
          }),
        ];
      });
    }),
};

function tooWide({ measured }: Measured, [axis, [low, high]]: Axis): Said | null {
  const spread = spreadOf(measured.readings[axis]);
  if (!(spread > (high - low) * (1 + 1e-9))) return null;
  return say("The touches of {feature} spread over {spread} along {axis}; the machine travels {travel}.", {
    feature: measured.name,
    spread: { mm: spread, digits: 3 },
    axis: axis.toUpperCase(),
    travel: { mm: high - low, as: "stated" },
  });
}

function outsideAt({ measured }: Measured, [axis, [low, high]]: Axis): { text: Said; index: number } | null {
  const column = measured.readings[axis];
  const index = column.findIndex((value) => value < low || value > high);
  if (index < 0) return null;
  const text = say("{axis} {value} of {feature} lies outside the machine's travel of {low} to {high}.", {
    axis: axis.toUpperCase(),
    value: { mm: column[index]!, digits: 3 },
    feature: measured.name,
    low: { mm: low, as: "stated" },
    high: { mm: high, as: "stated" },
  });
  return { text, index };
}

function result(
  { measured, log }: Measured,
  text: Said,
  {
    undecides,
    index,
    note = false,
  }: { undecides: readonly string[]; index?: number | undefined; note?: boolean },
): HealthResult {
  const line = index === undefined ? undefined : measured.readings.line[index];
  return {
    finding: {
      level: note ? "note" : "warning",
      code: "outside-travel",
      text,
      hint: note
        ? say(
            "Say frame: machine or frame: work in the log or the plan; in the work's frame it means nothing.",
            {},
          )
        : say("Check unit and frame of the log, or the travel in the plan.", {}),
      feature: measured.name,
      ...placeOf(log),
      ...(line === undefined ? {} : { line }),
    },
    undecides,
  };
}
