import { say } from "../../model/say.ts";
import { instrumentPlan } from "../fitting/instruments.ts";
import { measuredOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

/**
 * What was cut and checked on the same machine in the same clamping looks square even where the machine is not: its own
 * geometry cancels. Source: ISO 230-10, scope (from memory).
 */
export const sameMachine: HealthCheck = {
  code: "same-machine",
  check(context) {
    const names = measuredOf(context)
      .filter(({ instrument }) => instrumentPlan(instrument, context.plan)?.where === "on-machine")
      .map(({ measured }) => measured.name);
    if (names.length === 0) return [];
    return [
      {
        finding: {
          level: "note",
          code: "same-machine",
          text: say(
            "{features}: measured on the machine. Errors of its own axes cancel where it also cut them in this clamping, and do not show.",
            {
              features: [...new Set(names)].join(", "),
            },
          ),
          hint: say(
            "Turn B by 180 degrees or clamp again and repeat, or check with an independent gauge.",
            {},
          ),
        },
        undecides: [],
      },
    ];
  },
};
