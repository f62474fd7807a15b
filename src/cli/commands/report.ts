import { Trouble } from "../../model/trouble.ts";
import { diskEffects } from "../../records/diskEffects.ts";
import { type Rejection, reportsInWork } from "../../records/makeReports.ts";
import { pdfFor } from "../../records/pdfFor.ts";
import { readPlanFile } from "../../records/planFile.ts";
import { type Format, type PublishedReport, publishReports } from "../../records/publishReports.ts";
import { readLogs } from "../../records/readLogs.ts";
import { heading } from "../answer.ts";
import { EXIT } from "../errors.ts";
import { issuedTime } from "../issued.ts";
import { print, printStyle, safe, tell } from "../output.ts";
import { progress, workingOut } from "../progress.ts";
import { tellRejections } from "../rejections.ts";
import { type FailOn, verdictExit } from "../verdictExit.ts";

export interface ReportOptions {
  readonly plan: string;
  readonly out: string;
  readonly page: "a4" | "letter";
  readonly format: string;
  readonly issued?: string;
  readonly show?: "mm" | "in" | "mm,in" | "in,mm";
  readonly json?: true;
  readonly failOn?: FailOn;
  readonly quiet?: true;
}

/** `plinth report`: one report for each setup among the logs, in one run with one browser. */
export async function report(paths: readonly string[], options: ReportOptions): Promise<void> {
  const effects = diskEffects();
  const formats = formatsOf(options.format);
  const issued = issuedTime(options.issued, process.env, effects.now());
  const plan = await readPlanFile(effects, options.plan);
  const printer = pdfFor({ ahead: formats.includes("pdf") });
  try {
    const files = await readLogs(effects, paths);
    const shown = { ...plan, ...unitsOf(options.show) };
    const { setups, reports, rejected } = await workingOut(files, options.quiet === true, async () => {
      const inWork = await reportsInWork(files, { plan: shown, issued });
      return inWork.setups > 1 ? inWork : { ...inWork, reports: [...inWork.reports] };
    });
    const bar = progress("reports", setups, options.quiet === true);
    const { published, noPdf } = await publishReports(effects, reports, {
      folder: options.out,
      formats,
      page: options.page,
      printer,
      onDone: bar.step,
    });
    bar.done();
    answer(options, { published, noPdf, rejected });
  } finally {
    await printer.close();
  }
}

interface Done {
  readonly published: readonly PublishedReport[];
  readonly noPdf: string | null;
  readonly rejected: readonly Rejection[];
}
/** Tells what is there now, and what is not and why. */
function answer(options: ReportOptions, { published, noPdf, rejected }: Done): void {
  if (options.json) print(JSON.stringify(published.map(summary), null, 1));
  else if (!options.quiet) for (const entry of published) print(lines(entry));
  if (noPdf !== null) tell(`No PDF: ${noPdf}`);
  tellRejections(rejected);
  const code = verdictExit(
    published.map((entry) => entry.report),
    rejected.length > 0,
    options.failOn,
  );
  process.exitCode = code === EXIT.done && noPdf !== null ? EXIT.unreachable : code;
}

const FORMATS: readonly Format[] = ["json", "html", "pdf", "csv", "qif"];
function formatsOf(list: string): Format[] {
  const names = list.split(",").map((name) => name.trim().toLowerCase());
  const unknown = names.find((name) => !FORMATS.some((format) => format === name));
  if (unknown !== undefined)
    throw new Trouble(
      "usage",
      `--format ${list}: "${unknown}" is not a format; expected some of ${FORMATS.join(", ")}, separated by commas.`,
    );
  // The JSON is the truth that the others show, so it is always written.
  return FORMATS.filter((format) => format === "json" || names.includes(format));
}

function lines({ report, files, written }: PublishedReport): string {
  const mark = (file: string): string => (written.includes(file) ? "" : "  (same inputs: left alone)");
  return [heading(report, printStyle()), ...files.map((file) => safe(`  ${file}${mark(file)}`))].join("\n");
}

const summary = ({ report, files, status }: PublishedReport) => ({
  id: report.report.id,
  revision: report.report.revision,
  verdict: report.verdict,
  counts: report.counts,
  status,
  files,
});

/** What the command line asks for in place of the plan's units. */
function unitsOf(asked: ReportOptions["show"]): { show?: "mm" | "in"; showAlso?: "mm" | "in" | null } {
  if (asked === undefined) return {};
  if (asked === "mm" || asked === "in") return { show: asked, showAlso: null };
  return asked === "mm,in" ? { show: "mm", showAlso: "in" } : { show: "in", showAlso: "mm" };
}
