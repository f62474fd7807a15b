import { Command, Option } from "commander";
import { VERSION } from "../model/version.ts";
import type { CheckOptions } from "./commands/check.ts";
import type { LookOptions } from "./commands/look.ts";
import { safe } from "./output.ts";
import { write } from "./streams.ts";

export const show = () =>
  new Option("--show <unit>", "unit on the terminal and the page").choices(["mm", "in"]);
export const failOn = () =>
  new Option(
    "--fail-on <verdict>",
    "exit 10 when a verdict is fail; with undecided also 11 when one is undecided or missing",
  ).choices(["fail", "undecided"]);
export const json = () => new Option("--json", "print JSON on stdout");
export const quiet = () => new Option("--quiet", "print only what was asked for");
export const example = (line: string): string => `\nExample:\n  ${line}`;

/** The commands that only answer. */
export interface Answers {
  check(logs: readonly string[], options: CheckOptions): Promise<void>;
  look(logs: readonly string[], options: LookOptions): Promise<void>;
}

/** The command line with the commands that only answer. */
export function answering(answers: Answers): Command {
  const root = new Command("plinth")
    .description(
      "From probe and indicator logs to a setup report: what is off, which way to move it, and proof.",
    )
    .version(VERSION)
    .showHelpAfterError("(--help shows the options and an example)")
    .configureHelp({ showGlobalOptions: true })
    .configureOutput({
      writeOut: (text) => write("stdout", text),
      writeErr: (text) => write("stderr", safe(text)),
    })
    .exitOverride();
  // Sub-commands made with `command()` inherit exitOverride.
  addCheck(root, answers);
  addLook(root, answers);
  return root;
}

function addCheck(root: Command, { check }: Answers): void {
  root
    .command("check")
    .description("answer on the terminal: verdict, what to do, the table; writes nothing")
    .argument("<log...>", "log files, or folders of logs")
    .option("--plan <file>", "what is expected, with which limits")
    .addOption(show())
    .addOption(json())
    .addOption(failOn())
    .addOption(quiet())
    .addHelpText("after", example("plinth check face-0.csv signoffs.csv --plan column-seat.yaml"))
    .action((logs: string[], options: CheckOptions) => check(logs, options));
}

function addLook(root: Command, { look }: Answers): void {
  root
    .command("look")
    .description("how a log was understood: columns, units and by which evidence, rows, what is odd")
    .argument("<log...>", "log files, or folders of logs")
    .option("--plan <file>", "plan that says units, columns and sweep geometry")
    .option("--draft", "propose a mapping of foreign columns for the plan, with its evidence")
    .option("--normalise <file>", "write one log plainly: points, units in the column names, original lines")
    .addOption(json())
    .addOption(quiet())
    .addHelpText("after", example("plinth look face-0.csv"))
    .action((logs: string[], options: LookOptions) => look(logs, options));
}
