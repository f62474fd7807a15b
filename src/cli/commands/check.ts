import type { SetupReport } from "../../model/setupReport.ts";
import { diskReading } from "../../records/diskReading.ts";
import { makeReports } from "../../records/makeReports.ts";
import { planFor } from "../../records/planFor.ts";
import { readLogs } from "../../records/readLogs.ts";
import { answer, heading } from "../answer.ts";
import { issuedTime } from "../issued.ts";
import { print, printStyle } from "../output.ts";
import { workingOut } from "../progress.ts";
import { tellRejections } from "../rejections.ts";
import { type FailOn, verdictExit } from "../verdictExit.ts";

export interface CheckOptions {
  readonly plan?: string;
  readonly show?: "mm" | "in";
  readonly json?: true;
  readonly failOn?: FailOn;
  readonly quiet?: true;
}

/** The report in the unit that is asked for, and in no other beside it. */
function asked(report: SetupReport, show: CheckOptions["show"]): SetupReport {
  if (show === undefined) return report;
  const { showAlso: _also, ...rest } = report;
  return { ...rest, show };
}

/** `plinth check`: the answer on the terminal; writes nothing. */
export async function check(paths: readonly string[], options: CheckOptions): Promise<void> {
  const effects = diskReading();
  const issued = issuedTime(undefined, process.env, effects.now());
  const files = await readLogs(effects, paths);
  const plan = await planFor(effects, options.plan, files);
  const { reports, rejected } = await workingOut(files, options.quiet === true, () =>
    makeReports(files, { plan, issued, enclose: options.json === true }),
  );
  if (options.json) print(JSON.stringify(reports.length === 1 ? reports[0] : reports, null, 1));
  else {
    const style = printStyle();
    const texts = reports.map((report) =>
      options.quiet ? heading(report, style) : answer(asked(report, options.show), style),
    );
    if (texts.length > 0) print(texts.join("\n\n"));
  }
  tellRejections(rejected);
  process.exitCode = verdictExit(reports, rejected.length > 0, options.failOn);
}
