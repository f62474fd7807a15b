import { string } from "valibot";
import { about, readAs } from "./plan/fields.ts";

const MS_PER: Readonly<Record<string, number>> = {
  ms: 1,
  s: 1000,
  min: 60_000,
  h: 3_600_000,
  days: 86_400_000,
};
const DURATION = /^\s*(\d+(?:\.\d+)?)\s*(ms|s|min|h|days?)\s*$/;

/** A duration with its unit, such as `2 s` or `90 days`; comes out in milliseconds. */
export const duration = (example: string) =>
  readAs(about({ expects: `a duration with its unit, such as ${example}`, example }, string()), (text) => {
    const [, number, unit = ""] = DURATION.exec(text) ?? [];
    const ms = Number(number) * (MS_PER[unit === "day" ? "days" : unit] ?? Number.NaN);
    if (ms > 0) return { ok: true, value: ms };
    return { ok: false, message: `expected a duration such as ${example} (ms, s, min, h, days)` };
  });
