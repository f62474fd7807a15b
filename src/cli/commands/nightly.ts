import { Trouble } from "../../model/trouble.ts";
import { durableEffects } from "../../records/durableEffects.ts";
import type { TargetState } from "../../records/ledger/outbox.ts";
import { openWorkspace } from "../../records/workspace.ts";
import { nightly as runNightly } from "../../runs/nightly.ts";
import { EXIT } from "../errors.ts";
import { print, printStyle, safe, tell } from "../output.ts";
import { type FailOn, verdictExit } from "../verdictExit.ts";

export interface NightlyOptions {
  readonly workspace?: string;
  readonly date?: string;
  readonly failOn?: FailOn;
  readonly json?: true;
  readonly quiet?: true;
}

const toldWords = ({ target, owed, refused }: TargetState): string =>
  `  ${target}: ${owed} messages are still owed, ${refused.length} were refused (plinth doctor --workspace says why)`;

/** `plinth nightly`: the day's digest. */
export async function nightly(options: NightlyOptions): Promise<void> {
  const { date } = options;
  if (date !== undefined && (!/^\d{4}-\d{2}-\d{2}$/.test(date) || Number.isNaN(Date.parse(date))))
    throw new Trouble("usage", `--date ${date}: expected a day of the calendar such as 2026-11-25.`);
  const effects = durableEffects();
  const workspace = await openWorkspace(effects, options.workspace);
  const { digest, files, status, noPdf, board, told } = await runNightly(effects, workspace, {
    date: date ?? null,
    tell: options.quiet ? () => undefined : (sentence) => tell(safe(sentence)),
  });
  if (options.json) print(JSON.stringify(digest, null, 1));
  else if (!options.quiet) {
    const { bold } = printStyle();
    const counts = (["fail", "missing", "undecided", "pass"] as const)
      .map((verdict) => `${digest.counts[verdict]} ${verdict}`)
      .join(", ");
    const lines = digest.reports.map(
      (report) =>
        `  ${report.verdict.toUpperCase().padEnd(9)}  ${report.id} r${report.revision}  ${report.title}${report.entries.map((entry) => `  [${entry}]`).join("")}`,
    );
    const due = digest.gauges.map(
      (gauge) =>
        `  ${gauge.name}: ${gauge.days < 0 ? `calibration overdue by ${-gauge.days} days` : `calibration due in ${gauge.days} days`}`,
    );
    print(bold(`${digest.date}: ${counts}`));
    print(
      safe(
        [
          ...lines,
          ...due,
          ...files.map((file) => `  ${file}${status === "kept" ? "  (unchanged: left alone)" : ""}`),
          `  ${board.path}  (${board.reports} reports)`,
          ...told.filter(({ owed, refused }) => owed + refused.length > 0).map(toldWords),
        ].join("\n"),
      ),
    );
  }
  for (const name of board.unreadable) tell(safe(`reports/${name}: this is no whole setup report.`));
  if (noPdf !== null) tell(`No PDF: ${noPdf}`);
  const code = verdictExit(digest.reports, false, options.failOn);
  process.exitCode = code === EXIT.done && noPdf !== null ? EXIT.unreachable : code;
}
