import { Trouble } from "../model/trouble.ts";
import { isoSeconds, sourceDateMs } from "../records/sourceDate.ts";

/**
 * The time of issue as ISO 8601 in UTC without fractions: `--issued`, else SOURCE_DATE_EPOCH (seconds since 1970,
 * https://reproducible-builds.org/specs/source-date-epoch), else the clock. Throws Trouble `usage` for what is no time.
 */
export function issuedTime(option: string | undefined, environment: NodeJS.ProcessEnv, now: number): string {
  if (option !== undefined) {
    const time = /^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2}))?$/.test(option)
      ? Date.parse(option)
      : Number.NaN;
    if (Number.isNaN(time))
      throw new Trouble(
        "usage",
        `--issued ${option}: expected a time such as 2026-11-25T07:00:00Z, with its zone.`,
      );
    return isoSeconds(time);
  }
  return isoSeconds(sourceDateMs(environment) ?? now);
}
