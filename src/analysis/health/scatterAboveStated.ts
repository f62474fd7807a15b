import { say } from "../../model/say.ts";
import { measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

const TIMES = 5;

/** Readings that scatter about their fit far more than the gauge's uncertainty: form, dirt or a loose set-up, not the gauge. */
export const scatterAboveStated: HealthCheck = {
  code: "scatter-above-stated",
  check: (context) =>
    measuredOf(context).flatMap(({ measured, fitted, readingMm, log }) => {
      if (!fitted.ok || readingMm === null || fitted.quality.scatter === null) return [];
      if (fitted.quality.degreesOfFreedom < 3 || fitted.quality.scatter <= TIMES * readingMm) return [];
      return [
        {
          finding: {
            level: "note",
            code: "scatter-above-stated",
            text: say(
              "Readings of {feature} scatter by {scatter} about the fit, and {stated} is stated for one: the rest is form or dirt, and the uncertainty of place and size counts it.",
              {
                feature: measured.name,
                scatter: { mm: fitted.quality.scatter, as: "uncertainty" },
                stated: { mm: readingMm, as: "uncertainty" },
              },
            ),
            hint: say(
              "Clean and look at the surface and measure again, or state the uncertainty of a reading as it is.",
            ),
            feature: measured.name,
            ...placeOf(log),
          },
          undecides: [],
        },
      ];
    }),
};
