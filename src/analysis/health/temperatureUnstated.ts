import type { Plan } from "../../model/plan/plan.ts";
import { say } from "../../model/say.ts";
import { measuredOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

/** Steel, for the size of the effect only; a shop states its own under `part`. Source: NIST, J. Res. 99 (1994) 31. */
export const STEEL_PER_K = 11.5e-6;
/** Changes below this per degree are nobody's worry, mm. */
export const WORTH_TELLING = 0.0005;

/** Nominal sizes of the characteristics that have one, mm. */
export const sizesJudged = ({ characteristics }: Plan): number[] =>
  characteristics.flatMap(({ limits: { nominal } }) => (nominal === null ? [] : [Math.abs(nominal)]));

/** A size is judged and nobody says how warm the part was: what one degree would change. */
export const temperatureUnstated: HealthCheck = {
  code: "temperature-not-stated",
  check(context) {
    const { plan } = context;
    if (plan.part.temperatureC !== null) return [];
    if (measuredOf(context).some(({ measured }) => measured.temperatureC !== null)) return [];
    const largest = Math.max(0, ...sizesJudged(plan));
    const expansion = plan.part.expansionPerK ?? STEEL_PER_K;
    if (largest * expansion < WORTH_TELLING) return [];
    return [
      {
        finding: {
          level: "note",
          code: "temperature-not-stated",
          text:
            plan.part.expansionPerK === null
              ? say("No part temperature is stated: on steel each degree changes {size} by {change}.", {
                  size: { mm: largest, digits: 1 },
                  change: { mm: largest * expansion, as: "uncertainty" },
                })
              : say("No part temperature is stated: each degree changes {size} by {change}.", {
                  size: { mm: largest, digits: 1 },
                  change: { mm: largest * expansion, as: "uncertainty" },
                }),
          hint: say(
            "State temperature in the log's header, and temperature and expansion under part in the plan.",
            {},
          ),
        },
        undecides: [],
      },
    ];
  },
};
