import type { Plan } from "../model/plan/plan.ts";
import type { SetupReport } from "../model/setupReport.ts";
import { Trouble } from "../model/trouble.ts";
import { reportQif } from "../report/qif/reportQif.ts";
import { planFromText } from "./planFile.ts";

/** The QIF document of a report, with what the plan it encloses says of features and characteristics. */
export const qifOf = (report: SetupReport): string => reportQif(report, enclosedPlan(report));

/** Null for a plan of another version that is not understood any more: the record alone still makes a document. */
function enclosedPlan({ plan }: SetupReport): Plan | null {
  try {
    return planFromText(plan);
  } catch (error) {
    if (error instanceof Trouble) return null;
    throw error;
  }
}
