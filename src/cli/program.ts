import { type Command, Option } from "commander";
import { DECISIONS } from "../model/entry.ts";
import { answering, example, failOn, json, quiet } from "./answering.ts";

const showBoth = () =>
  new Option("--show <units>", "units on the page, the second in brackets").choices([
    "mm",
    "in",
    "mm,in",
    "in,mm",
  ]);

/** The command line. Each command loads its own code when it runs, so that starting is quick. */
export function program(): Command {
  const root = answering({
    check: async (logs, options) => (await import("./commands/check.ts")).check(logs, options),
    look: async (logs, options) => (await import("./commands/look.ts")).look(logs, options),
  });
  addReport(root);
  addRuns(root);
  addRecords(root);
  addHelpers(root);
  return root;
}

function addReport(root: Command): void {
  root
    .command("report")
    .description("write the setup report as JSON, HTML and PDF")
    .argument("<log...>", "log files, or folders of logs")
    .requiredOption("--plan <file>", "what is expected, with which limits")
    .option("--out <folder>", "where the report goes", "reports")
    .addOption(new Option("--page <size>", "paper").choices(["a4", "letter"]).default("a4"))
    .option("--format <list>", "json, html, pdf, csv, qif, separated by commas", "json,html,pdf")
    .option("--issued <time>", "time of issue, ISO 8601; else SOURCE_DATE_EPOCH, else now")
    .addOption(showBoth())
    .addOption(json())
    .addOption(failOn())
    .addOption(quiet())
    .addHelpText("after", example("plinth report logs/ --plan column-seat.yaml --out reports"))
    .action(async (logs: string[], options) => (await import("./commands/report.ts")).report(logs, options));
}

function addRuns(root: Command): void {
  root
    .command("init")
    .description("make a workspace: folders, settings, starter plans, an empty ledger")
    .argument("[dir]", "folder of the workspace; with --rebuild else the nearest one")
    .option("--rebuild", "make the ledger of a workspace anew from its archive and reports")
    .addOption(json())
    .addOption(quiet())
    .addHelpText("after", example("plinth init shop\n  plinth init shop --rebuild"))
    .action(async (dir: string | undefined, options) =>
      (await import("./commands/init.ts")).init(dir, options),
    );
  root
    .command("watch")
    .description("the inbox of a workspace: logs in, reports out, until stopped")
    .option("--workspace <dir>", "else the nearest folder with a plinth.yaml")
    .option("--once", "end when the inbox is empty")
    .option("--resend", "try messages again that their target has refused")
    .addOption(failOn())
    .addOption(json())
    .addOption(quiet())
    .addHelpText("after", example("plinth watch --workspace shop --once"))
    .action(async (options) => (await import("./commands/watch.ts")).watch(options));
}

function addRecords(root: Command): void {
  root
    .command("nightly")
    .description("the day's digest: what failed first, gauges due, values over time")
    .option("--workspace <folder>", "the workspace; else the nearest around this folder")
    .option("--date <day>", "YYYY-MM-DD; else today in the workspace's time zone")
    .addOption(json())
    .addOption(failOn())
    .addOption(quiet())
    .addHelpText("after", example("plinth nightly --workspace /srv/plinth"))
    .action(async (options) => (await import("./commands/nightly.ts")).nightly(options));
  root
    .command("trend")
    .description("a value over time, or with --by instrument every report that used a gauge")
    .argument(
      "[id]",
      "characteristic, FEATURE.x, rotation-center.x and the like; with --by instrument a gauge, or all without",
    )
    .addOption(
      new Option("--by <key>", "one trend for each").choices([
        "machine",
        "pallet",
        "fixture",
        "job",
        "instrument",
      ]),
    )
    .option("--since <date>", "only what was issued from this day on")
    .option("--html <file>", "also write a page with charts")
    .option("--workspace <folder>", "the workspace; else the nearest around this folder")
    .addOption(json())
    .addOption(quiet())
    .addHelpText("after", example("plinth trend rotation-center.x --by machine"))
    .action(async (id: string | undefined, options) =>
      (await import("./commands/trend.ts")).trend(id, options),
    );
  root
    .command("attach")
    .description("put a report with its pages into the record of its job")
    .argument("<report>", "the report's JSON, or a page of it beside its JSON")
    .requiredOption("--job <job>", "the job as the shop writes it")
    .option("--workspace <folder>", "the workspace; else the nearest around the report or this folder")
    .addOption(json())
    .addOption(quiet())
    .addHelpText("after", example("plinth attach reports/K-0417_10_column-seat_r1.pdf --job K-0417"))
    .action(async (path: string, options) => (await import("./commands/attach.ts")).attach(path, options));
  addNote(root);
}

function addNote(root: Command): void {
  root
    .command("note")
    .description(
      "add a disposition, a correction of a wrong header or a void to a report's record; edits nothing",
    )
    .argument("<report>", "the report's JSON, or a page of it beside its JSON")
    .addOption(
      new Option("--kind <kind>", "what it is")
        .choices(["disposition", "correction", "void"])
        .makeOptionMandatory(),
    )
    .requiredOption("--who <name>", "who answers for it")
    .requiredOption("--why <reason>", "the reason")
    .addOption(new Option("--decision <what>", "of a disposition: what is done").choices(DECISIONS))
    .option("--characteristic <id>", "of a disposition: what it is about; else the whole report")
    .option("--set <key=value...>", "of a correction: header key and its right value")
    .option("--workspace <folder>", "the workspace; else the nearest around the report or this folder")
    .addOption(json())
    .addOption(quiet())
    .addHelpText(
      "after",
      example(
        'plinth note reports/K-0417_10_column-seat_r1.json --kind disposition --decision use-as-is --who "Shift lead" --why "Edge is cut away in operation 20"',
      ),
    )
    .action(async (path: string, options) => (await import("./commands/note.ts")).note(path, options));
}

function addHelpers(root: Command): void {
  root
    .command("verify")
    .description("recompute a report from the logs and plan it encloses, and compare")
    .argument("<file>", "a report, as PDF or JSON")
    .option("--log <file...>", "logs that the report names by hash only")
    .option(
      "--workspace <folder>",
      "compare with the job records here; else of the workspace around the file",
    )
    .addOption(json())
    .addOption(quiet())
    .addHelpText("after", example("plinth verify reports/K-0417_10_column-seat_r1.pdf"))
    .action(async (file: string, options) => (await import("./commands/verify.ts")).verify(file, options));
  root
    .command("plan")
    .description("print a commented starter plan: column, chuck, stock, first-side or second-side")
    .argument("[kind]", "which starter")
    .option("--schema", "print the JSON Schema of plans, for editors, instead")
    .addHelpText("after", example("plinth plan column > column-seat.yaml"))
    .action(async (kind: string | undefined, options) =>
      (await import("./commands/plan.ts")).plan(kind, options),
    );
  root
    .command("doctor")
    .description("browser, folders, disk, clock: what works, and what to do about what does not")
    .option("--out <folder>", "folder that reports would go to (default: reports, or the workspace)")
    .option(
      "--workspace <dir>",
      "look at a workspace: its disk, its watcher, and what its targets were not told",
    )
    .addOption(json())
    .addOption(quiet())
    .addHelpText("after", example("plinth doctor --workspace shop"))
    .action(async (options) => (await import("./commands/doctor.ts")).doctor(options));
}
