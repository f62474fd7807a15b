import { fill, RECORD_WORDING, type Said } from "../model/say.ts";
import type { SetupReport, Wording } from "../model/setupReport.ts";

/**
 * The report as it is stored: each sentence becomes its English text, and `wording` keeps template and values of those that
 * have any, so that a page can say the same in another unit or language.
 */
export function finishReport(report: SetupReport<Said>): SetupReport {
  const wording: Record<string, Wording> = {};
  const plain = (value: unknown): unknown => {
    if (isSaid(value)) {
      return value.text === "" ? "" : textFor(value, wording);
    }
    if (Array.isArray(value)) return value.map(plain);
    if (typeof value !== "object" || value === null) return value;
    const copy: Record<string, unknown> = {};
    for (const key of Object.keys(value)) {
      const stored = Object.getOwnPropertyDescriptor(value, key) as PropertyDescriptor;
      // A hash is worked out when it is asked for.
      Object.defineProperty(copy, key, stored.get ? stored : { ...stored, value: plain(stored.value) });
    }
    return copy;
  };
  return { ...(plain(report) as SetupReport), wording };
}

/** More decimals than a double has. */
const FINEST = 17;

/**
 * The sentence as the record has it. Two sentences that read alike and mean other numbers would be said again as one of
 * them: the second is told apart by more decimals.
 */
function textFor({ text, template, values }: Said, wording: Record<string, Wording>): string {
  const mine = JSON.stringify([template, values]);
  for (let finer = 0; finer <= FINEST; finer++) {
    const told = finer === 0 ? text : fill(template, values, { ...RECORD_WORDING, finer });
    const taken = Object.hasOwn(wording, told) ? wording[told] : undefined;
    if (taken === undefined) wording[told] = { template, values };
    if (taken === undefined || JSON.stringify([taken.template, taken.values]) === mine) return told;
  }
  return text;
}

function isSaid(value: unknown): value is Said {
  return (
    typeof value === "object" && value !== null && "text" in value && "template" in value && "values" in value
  );
}
