import { say } from "../../model/say.ts";
import type { HealthCheck, HealthResult } from "./contract.ts";

/**
 * A result over a length that was not measured: an axis asked for beyond its outermost touches. The uncertainty grows with the
 * length, and what the part does there nobody has seen. The characteristic itself is undecided by its own rule.
 */
export const extrapolation: HealthCheck = {
  code: "extrapolation",
  check(context) {
    return context.plan.characteristics.flatMap(({ id, of, inputs }): HealthResult[] => {
      const asked = inputs.length;
      const feature = context.feature(of);
      if (typeof asked !== "number" || !feature.ok || feature.extent === null) return [];
      const measured = feature.extent[1] - feature.extent[0];
      // Rounding of the touches is no extrapolation.
      if (!(measured > 0) || asked <= measured * (1 + 1e-9)) return [];
      const finding = {
        level: "warning",
        code: "extrapolation",
        text: say(
          "{id} is asked for over {asked}, and {feature} was touched over {measured} only: the rest is a straight line nobody has measured.",
          {
            id,
            asked: { mm: asked, as: "stated" },
            feature: feature.name,
            measured: { mm: measured, digits: 3 },
          },
        ),
        hint: say("Touch {feature} near both ends of the length, or ask for the measured length.", {
          feature: feature.name,
        }),
        feature: feature.name,
        characteristic: id,
      } as const;
      return [{ finding, undecides: [] }];
    });
  },
};
