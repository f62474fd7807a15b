import { distinct } from "../../math/distinct.ts";
import { say } from "../../model/say.ts";
import { leastStep } from "../judging/leastStep.ts";
import { measuredOf, placeOf } from "../judging/measuredOf.ts";
import { readingColumn } from "../judging/readingColumn.ts";
import type { HealthCheck } from "./contract.ts";

/** So many equal readings in a row are seldom chance. */
const RUN = 5;
/** Chance of such a run on a sound gauge below which it is told. */
const CHANCE = 0.01;
/** More steps than this are a jump. */
const FEW_STEPS = 2.5;

/**
 * A long run of equal readings, or nothing but equal ones: a stuck needle, a held button, a column filled by hand. A run in a
 * longer column is told when it is half of it, or when neighbours elsewhere are so seldom equal that it can hardly be chance:
 * a coarse scale on a flat face shows runs too.
 */
export const stuckValues: HealthCheck = {
  code: "stuck-values",
  check: (context) =>
    measuredOf(context).flatMap(({ measured, fitted, log }) => {
      const column = readingColumn(measured, fitted) ?? new Float64Array();
      const run = longestRun(column);
      const { start, length } = run;
      const constant = length === column.length && length >= 3;
      if (!constant && (length < RUN || !isOdd(column, run))) return [];
      const line = measured.readings.line[start];
      return [
        {
          finding: {
            level: "warning",
            code: constant ? "constant-readings" : "stuck-values",
            text: constant
              ? say(
                  "All {count} readings of {feature} are the same: the indicator may be stuck or not touching.",
                  {
                    count: length,
                    feature: measured.name,
                  },
                )
              : say(
                  "{count} readings of {feature} in a row are the same: a stuck needle or a held value looks like this.",
                  {
                    count: length,
                    feature: measured.name,
                  },
                ),
            hint: say("Push the axis a hundredth towards the work, see the needle move, and read again.", {}),
            feature: measured.name,
            ...placeOf(log),
            ...(line === undefined ? {} : { line }),
          },
          undecides: [],
        },
      ];
    }),
};

interface Run {
  readonly start: number;
  readonly length: number;
}

/**
 * Half of all readings; or more than the pairs outside the run let expect, with a jump at one end of it: at the turning point
 * of a slow wave a coarse scale stands still too, but goes on by one step. The share of equal pairs is counted with one each
 * way more.
 */
function isOdd(column: Float64Array, run: Run): boolean {
  const { length } = run;
  if (2 * length >= column.length) return true;
  let equal = 0;
  for (let i = 1; i < column.length; i++) if (column[i] === column[i - 1]) equal++;
  const share = (equal - (length - 1) + 1) / (column.length - length + 2);
  return (
    column.length * share ** (length - 1) < CHANCE &&
    jump(column, run) > FEW_STEPS * leastStep(distinct([column]))
  );
}

/** The larger of the changes into the run and out of it. */
function jump(column: Float64Array, { start, length }: Run): number {
  const held = column[start]!;
  const change = (index: number): number => Math.abs((column[index] ?? held) - held);
  return Math.max(change(start - 1), change(start + length));
}

function longestRun(column: Float64Array): Run {
  let best = { start: 0, length: 0 };
  let start = 0;
  for (let i = 0; i < column.length; i++) {
    if (column[i] !== column[start]) start = i;
    if (i - start + 1 > best.length) best = { start, length: i - start + 1 };
  }
  return best;
}
