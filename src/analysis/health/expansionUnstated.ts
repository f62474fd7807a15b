import { say } from "../../model/say.ts";
import { measuredOf } from "../judging/measuredOf.ts";
import { REFERENCE_C } from "../judging/temperature.ts";
import type { HealthCheck } from "./contract.ts";
import { STEEL_PER_K, sizesJudged, WORTH_TELLING } from "./temperatureUnstated.ts";

/** A size is judged on a part that was not at 20 °C, and nobody says what it expands by: nothing could be corrected. */
export const expansionUnstated: HealthCheck = {
  code: "expansion-not-stated",
  check(context) {
    const { part } = context.plan;
    if (part.expansionPerK !== null) return [];
    const stated = measuredOf(context).flatMap(({ measured }) => measured.temperatureC ?? []);
    const temperature = [...stated, ...(part.temperatureC === null ? [] : [part.temperatureC])]
      .toSorted((a, b) => Math.abs(a - REFERENCE_C) - Math.abs(b - REFERENCE_C))
      .at(-1);
    if (temperature === undefined) return [];
    const largest = Math.max(0, ...sizesJudged(context.plan));
    const change = largest * STEEL_PER_K * Math.abs(temperature - REFERENCE_C);
    if (change < WORTH_TELLING) return [];
    return [
      {
        finding: {
          level: "warning",
          code: "expansion-not-stated",
          text: say(
            "The part was at {temperature} and its expansion is not stated: nothing is corrected to 20 °C. On steel that changes {size} by {change}.",
            {
              temperature: { value: temperature, unit: "°C", digits: 1 },
              size: { mm: largest, digits: 1 },
              change: { mm: change, as: "uncertainty" },
            },
          ),
          hint: say("State expansion under part in the plan.", {}),
        },
        undecides: [],
      },
    ];
  },
};
