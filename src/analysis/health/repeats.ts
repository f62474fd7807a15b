import { chiSquareQuantile } from "../../math/chiSquareQuantile.ts";
import { toFrame } from "../../math/points.ts";
import { say } from "../../model/say.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import { readingColumn } from "../judging/readingColumn.ts";
import type { HealthCheck } from "./contract.ts";

/** Chance that sound repeats scatter above the bound. */
const CHANCE = 0.001;
/** Touches nearer than this in both directions along the surface count as the same place, mm. */
const SAME_PLACE = 0.02;

/** Places that were read more than once: how well the readings repeat, against the stated uncertainty of one (chi-square, 0.1 %). */
export const repeats: HealthCheck = {
  code: "repeats",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      const { measured, readingMm, log } = entry;
      const seen = repeatScatter(entry);
      if (seen === null || readingMm === null || seen.scatter <= bound(seen.freedom) * readingMm) return [];
      return [
        {
          finding: {
            level: "warning",
            code: "repeats",
            text: say(
              "Places of {feature} that were read again repeat to {scatter} only; {stated} is stated for one reading.",
              {
                feature: measured.name,
                scatter: { mm: seen.scatter },
                stated: { mm: readingMm, digits: 5 },
              },
            ),
            hint: say(
              "Check tip, clamping and cleanliness, or state the uncertainty that the gauge shows here.",
              {},
            ),
            feature: measured.name,
            ...placeOf(log),
          },
          undecides: [],
        },
      ];
    }),
};

/** How many times the uncertainty of one reading sound repeats may scatter. */
const bound = (freedom: number): number => Math.sqrt(chiSquareQuantile(1 - CHANCE, freedom) / freedom);

/** Pooled sample standard deviation of readings at the same place; null where no place was read twice. */
function repeatScatter(entry: Measured): { scatter: number; freedom: number } | null {
  const read = readingsAt(entry);
  if (read === null) return null;
  let [squares, freedom] = [0, 0];
  for (const group of samePlaces(read.u, read.v)) {
    const values = group.map((index) => read.value[index]!);
    const mean = values.reduce((total, value) => total + value, 0) / values.length;
    squares += values.reduce((total, value) => total + (value - mean) ** 2, 0);
    freedom += values.length - 1;
  }
  return freedom === 0 ? null : { scatter: Math.sqrt(squares / freedom), freedom };
}

/** Readings, and where along the surface each stands: u and v in mm. */
interface ReadAt {
  readonly value: Float64Array;
  readonly u: Float64Array;
  readonly v: Float64Array;
}

function readingsAt({ measured, fitted }: Measured): ReadAt | null {
  const value = readingColumn(measured, fitted);
  const station = measured.sweep?.station;
  if (value !== null && station !== undefined) {
    const scale = measured.sweep?.radiusMm ?? 1;
    return { value, u: station.map((place) => place * scale), v: new Float64Array(station.length) };
  }
  if (value !== null) {
    const [u, v] = (["x", "y", "z"] as const)
      .map((axis) => measured.readings[axis])
      .filter((a) => a !== value);
    // The readings of a map are a column of their own beside z.
    return { value, u: u!, v: v! };
  }
  return fitted.ok && fitted.derived === null ? roundReadings(fitted) : null;
}

/** Of a round: its residuals, at their place round the axis and along it. */
function roundReadings({ geometry, points, residuals }: FittedFeature): ReadAt | null {
  const { center, direction, radius } = geometry;
  if (direction === null || radius === null) return null;
  const { x, y, z } = toFrame(points, center, direction);
  return { value: residuals, u: x.map((value, i) => Math.atan2(y[i]!, value) * radius), v: z };
}

/** Groups of indices within SAME_PLACE of the group's first in u and v. */
function samePlaces(u: Float64Array, v: Float64Array): readonly (readonly number[])[] {
  const groups: number[][] = [];
  // Groups whose first may still be near: those are the last ones in the order of u.
  let oldest = 0;
  for (const index of [...u.keys()].sort((a, b) => u[a]! - u[b]!)) {
    while (oldest < groups.length && u[index]! - u[groups[oldest]![0]!]! > SAME_PLACE) oldest++;
    const near = groups.slice(oldest).find(([first]) => Math.abs(v[first!]! - v[index]!) <= SAME_PLACE);
    if (near === undefined) groups.push([index]);
    else near.push(index);
  }
  return groups;
}
