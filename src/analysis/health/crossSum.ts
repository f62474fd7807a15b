import { say } from "../../model/say.ts";
import { judgesState, type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

/** The sum of four readings scatters by twice the uncertainty of one; two of that. */
const FACTOR = 4;
const QUARTER = Math.PI / 2;

/**
 * Four readings a quarter turn apart: a tilted flat face, or a round swept off its centre, reads the same sum on both
 * diameters. The limit is the plan's, else 4 times the standard uncertainty of a reading. Outside it there is twist, an oval,
 * a slip or a chip, and four readings cannot tell which. A round far off its centre reads no pure cosine: what its offset
 * alone explains raises no alarm. Source: common practice.
 */
export const crossSum: HealthCheck = {
  code: "cross-sum",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      const { measured, readingMm } = entry;
      const four = quarterReadings(entry);
      const limit = context.plan.crossSumLimitMm ?? (readingMm === null ? null : FACTOR * readingMm);
      if (four === null || limit === null) return [];
      const difference = sumDifference(four);
      const isInside = (value: number): boolean => Math.abs(value) <= limit * (1 + 1e-9);
      if (isInside(difference) || isInside(difference - ofOffset(entry, four))) return [];
      return [
        {
          finding: {
            level: "warning",
            code: "cross-sum",
            text: say(
              "The sums of opposite readings of {feature} differ by {difference}, more than {limit}: that is no plain tilt or offset.",
              {
                feature: measured.name,
                difference: { mm: difference, signed: true, beside: [limit, -limit] },
                limit: { mm: limit, as: "uncertainty" },
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

type Four = readonly [number, number, number, number];

/** The readings in the order of their angles; null when there are not just four a quarter turn apart. */
function quarterReadings({ measured }: Measured): Four | null {
  const sweep = measured.sweep;
  if (sweep?.station === undefined || sweep.kind === "traverse" || sweep.reading.length !== 4) return null;
  const { station, reading } = sweep;
  const order = [...station.keys()].sort((a, b) => station[a]! - station[b]!);
  const even = order.every((index, i) => {
    const next = station[order[(i + 1) % 4]!]! + (i === 3 ? 2 * Math.PI : 0);
    return Math.abs(next - station[index]! - QUARTER) < 1e-6;
  });
  return even ? (order.map((index) => reading[index]!) as [number, number, number, number]) : null;
}

const sumDifference = ([a, b, c, d]: Four): number => a + c - b - d;

/**
 * What a true round of the sweep's radius R reads on the two diameters when its centre is off by (p, q) along them:
 * 2 root(R2 - q2) less 2 root(R2 - p2), about (p2 - q2) / R; the other sign in a bore. 0 for a face.
 */
function ofOffset({ measured, fitted }: Measured, [a, b, c, d]: Four): number {
  const radius = measured.sweep?.kind === "rim-sweep" ? measured.sweep.radiusMm : null;
  const surface = fitted.ok ? (fitted.plan?.surface ?? null) : null;
  if (radius === null || surface === null) return 0;
  const [p, q] = [(a - c) / 2, (b - d) / 2];
  const chords =
    2 * Math.sqrt(Math.max(0, radius ** 2 - q ** 2)) - 2 * Math.sqrt(Math.max(0, radius ** 2 - p ** 2));
  return surface === "bore" ? -chords : chords;
}
