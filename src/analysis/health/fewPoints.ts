import { say } from "../../model/say.ts";
import { fitKind } from "../features/index.ts";
import { measuredOf, placeOf } from "../judging/measuredOf.ts";
import { formPointsFor } from "../judging/reasons.ts";
import type { HealthCheck } from "./contract.ts";

/** What a feature of few points cannot show, in numbers; sizes and places of it are judged all the same. */
export const fewPoints: HealthCheck = {
  code: "few-points",
  check: (context) =>
    measuredOf(context).flatMap(({ measured, fitted, log }) => {
      if (!fitted.ok || measured.result !== undefined) return [];
      const wanted = formPointsFor(fitted, context);
      const blindness =
        wanted !== null && fitted.count < wanted ? fitKind(fitted.fit).blindness(fitted.count) : null;
      if (blindness === null || wanted === null) return [];
      return [
        {
          finding: {
            level: "note",
            code: "few-points",
            text: say("{feature}: {blindness}", { feature: measured.name, blindness: blindness.text }),
            hint: say("Touch {feature} in at least {wanted} places before its form is judged.", {
              feature: measured.name,
              wanted,
            }),
            feature: measured.name,
            ...placeOf(log),
          },
          undecides: [],
        },
      ];
    }),
};
