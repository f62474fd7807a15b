import { Trouble } from "../model/trouble.ts";

/**
 * SOURCE_DATE_EPOCH in milliseconds (seconds since 1970, https://reproducible-builds.org/specs/source-date-epoch); null
 * where it is not set. Throws Trouble `usage` for what is no such number.
 */
export function sourceDateMs(environment: Readonly<Record<string, string | undefined>>): number | null {
  const epoch = environment.SOURCE_DATE_EPOCH;
  if (epoch === undefined || epoch === "") return null;
  if (!/^\d{1,11}$/.test(epoch))
    throw new Trouble(
      "usage",
      `SOURCE_DATE_EPOCH=${epoch}: expected whole seconds since 1970; correct it or unset it.`,
    );
  return Number(epoch) * 1000;
}

/** ISO 8601 in UTC without fractions of a second. */
export const isoSeconds = (ms: number): string => `${new Date(ms).toISOString().slice(0, -".000Z".length)}Z`;
