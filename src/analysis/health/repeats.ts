import { say } from "../../model/say.ts";
import { type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import { readingColumn } from "../judging/readingColumn.ts";
import type { HealthCheck } from "./contract.ts";

/** Repeats may scatter by this many times what is stated before it is told. */
const TIMES = 2;
/** Touches nearer than this in both other axes count as the same place, mm. */
const SAME_PLACE = 0.02;

/** Places that were read more than once: how well the readings repeat, against the stated uncertainty of one. */
export const repeats: HealthCheck = {
  code: "repeats",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      const { measured, readingMm, log } = entry;
      const seen = repeatScatter(entry);
      if (seen === null || readingMm === null || seen.scatter <= TIMES * readingMm) return [];
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

/** Pooled sample standard deviation of readings at the same place; null with fewer than two repeats. */
function repeatScatter({ measured, fitted }: Measured): { scatter: number } | null {
  const column = readingColumn(measured, fitted);
  if (column === null) return null;
  const groups = new Map<string, number[]>();
  column.forEach((value, i) => {
    const key = placeKey({ measured }, i, column);
    groups.set(key, [...(groups.get(key) ?? []), value]);
  });
  let [squares, freedom] = [0, 0];
  for (const values of groups.values()) {
    const mean = values.reduce((total, value) => total + value, 0) / values.length;
    squares += values.reduce((total, value) => total + (value - mean) ** 2, 0);
    freedom += values.length - 1;
  }
  return freedom >= 2 ? { scatter: Math.sqrt(squares / freedom) } : null;
}

function placeKey({ measured }: Pick<Measured, "measured">, i: number, column: Float64Array): string {
  const station = measured.sweep?.station;
  if (station !== undefined) return String(Math.round(station[i]! * 1e6));
  const { x, y, z } = measured.readings;
  return [x, y, z]
    .filter((axis) => axis !== column)
    .map((axis) => Math.round(axis[i]! / SAME_PLACE))
    .join(" ");
}
