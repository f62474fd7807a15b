import type { SetupReport } from "../model/setupReport.ts";
import { EXIT } from "./errors.ts";

export type FailOn = "fail" | "undecided" | undefined;

/** The exit code of verdicts and rejects together: 3 wins over 10, 10 over 11. */
export function verdictExit(
  reports: readonly Pick<SetupReport, "verdict" | "counts">[],
  rejected: boolean,
  failOn: FailOn,
): number {
  if (rejected) return EXIT.rejected;
  if (failOn === undefined) return EXIT.done;
  if (reports.some((report) => report.counts.fail > 0)) return EXIT.fail;
  const open = reports.some((report) => report.counts.undecided + report.counts.missing > 0);
  return failOn === "undecided" && open ? EXIT.undecided : EXIT.done;
}
