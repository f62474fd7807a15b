import { say } from "../../model/say.ts";
import { judgesState, type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

/** The sum of four readings scatters by twice the uncertainty of one; two of that. */
const FACTOR = 4;
const QUARTER = Math.PI / 2;

/**
 * Four readings a quarter turn apart: a tilted flat face, or a round swept off its centre, reads the same sum on both
 * diameters. The limit is the plan's, else 4 times the standard uncertainty of a reading. Outside it there is twist, an oval,
 * a slip or a chip, and four readings cannot tell which. Source: common practice.
 */
export const crossSum: HealthCheck = {
  code: "cross-sum",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      const { measured, readingMm } = entry;
      const difference = sumDifference(entry);
      const limit = context.plan.crossSumLimitMm ?? (readingMm === null ? null : FACTOR * readingMm);
      if (difference === null || limit === null || Math.abs(difference) <= limit * (1 + 1e-9)) return [];
      return [
        {
          finding: {
            level: "warning",
            code: "cross-sum",
            text: say(
              "The sums of opposite readings of {feature} differ by {difference}, more than {limit}: that is no plain tilt or offset.",
              {
                feature: measured.name,
                difference: { mm: difference, signed: true },
                limit: { mm: limit },
              },
            ),
            hint: say(
              "Look for a chip, an oval or a loose arm, and sweep {feature} again with 8 or 12 readings.",
              {
                feature: measured.name,
              },
            ),
            feature: measured.name,
            ...placeOf(entry.log),
          },
          undecides: judgesState(entry, context) ? [measured.name] : [],
        },
      ];
    }),
};

/** R0 + R180 - R90 - R270; null when there are not just four readings a quarter turn apart. */
function sumDifference({ measured }: Measured): number | null {
  const sweep = measured.sweep;
  if (sweep?.station === undefined || sweep.kind === "traverse" || sweep.reading.length !== 4) return null;
  const { station, reading } = sweep;
  const order = [...station.keys()].sort((a, b) => station[a]! - station[b]!);
  const even = order.every((index, i) => {
    const next = station[order[(i + 1) % 4]!]! + (i === 3 ? 2 * Math.PI : 0);
    return Math.abs(next - station[index]! - QUARTER) < 1e-6;
  });
  if (!even) return null;
  const [a, b, c, d] = order.map((index) => reading[index]!) as [number, number, number, number];
  return a + c - b - d;
}
