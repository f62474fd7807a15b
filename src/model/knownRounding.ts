import type { Rounding } from "./decimals.ts";
import type { SetupReport } from "./setupReport.ts";

/** The rounding of a length in mm that stands elsewhere with its uncertainty; null for any other. */
export type KnownRounding = (mm: number) => Rounding | null;

/**
 * Lengths of a report that are a result: wherever the very number shows again, in a sentence, a list or a table, it has the
 * digits that it has among the results.
 */
export function knownRounding({ characteristics }: Pick<SetupReport, "characteristics">): KnownRounding {
  const known = new Map<number, Rounding>();
  for (const { value, unit, uncertainty, limits } of characteristics)
    if (value !== null && unit === "mm" && uncertainty !== null && !known.has(value))
      known.set(value, { uncertainty, beside: [limits.lower, limits.upper] });
  return (mm) => known.get(mm) ?? null;
}
