import { say } from "../../model/say.ts";
import { measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

/** A coordinate that the machine cannot reach. Only for logs that are not in the frame of the work. */
export const outsideTravel: HealthCheck = {
  code: "outside-travel",
  check: (context) =>
    measuredOf(context).flatMap(({ measured, log }) => {
      if (measured.frame === "work" || (measured.frame ?? context.plan.logs.frame) === "work") return [];
      if (measured.sweep !== undefined) return [];
      return (["x", "y", "z"] as const).flatMap((axis) => {
        const travel = context.plan.machine.travel[axis];
        if (travel === undefined) return [];
        const column = measured.readings[axis];
        const index = column.findIndex((value) => value < travel[0] || value > travel[1]);
        if (index < 0) return [];
        return [
          {
            finding: {
              level: "warning" as const,
              code: "outside-travel",
              text: say("{axis} {value} of {feature} lies outside the machine's travel of {low} to {high}.", {
                axis: axis.toUpperCase(),
                value: { mm: column[index]! },
                feature: measured.name,
                low: { mm: travel[0] },
                high: { mm: travel[1] },
              }),
              hint: say("Check unit and frame of the log, or the travel in the plan.", {}),
              feature: measured.name,
              ...placeOf(log),
              ...(measured.readings.line[index] === undefined ? {} : { line: measured.readings.line[index] }),
            },
            undecides: [],
          },
        ];
      });
    }),
};
