import type { Said } from "../model/say.ts";
import type { SetupReport, Wording } from "../model/setupReport.ts";

/**
 * The report as it is stored: each sentence becomes its English text, and `wording` keeps template and values of those that
 * have any, so that a page can say the same in another unit or language.
 */
export function finishReport(report: SetupReport<Said>): SetupReport {
  const wording: Record<string, Wording> = {};
  const plain = (value: unknown): unknown => {
    if (isSaid(value)) {
      if (value.text !== "") wording[value.text] ??= { template: value.template, values: value.values };
      return value.text;
    }
    if (Array.isArray(value)) return value.map(plain);
    if (typeof value !== "object" || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, plain(inner)]));
  };
  return { ...(plain(report) as SetupReport), wording };
}

function isSaid(value: unknown): value is Said {
  return (
    typeof value === "object" && value !== null && "text" in value && "template" in value && "values" in value
  );
}
