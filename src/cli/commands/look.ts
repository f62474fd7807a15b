import { draftMapping } from "../../ingest/draftMapping.ts";
import { normaliseLog } from "../../ingest/normaliseLog.ts";
import { understandLog } from "../../ingest/understandLog.ts";
import type { LogFile, RejectedLog, UnderstoodLog } from "../../model/measurement.ts";
import type { Plan } from "../../model/plan/plan.ts";
import { Trouble } from "../../model/trouble.ts";
import { diskReading } from "../../records/diskReading.ts";
import { readPlanFile } from "../../records/planFile.ts";
import { fileOf, readLogs } from "../../records/readLogs.ts";
import { EXIT } from "../errors.ts";
import { print, printStyle, type Style, safe, table, wrap } from "../output.ts";
import { workingOut } from "../progress.ts";
import { tellRejections } from "../rejections.ts";

export interface LookOptions {
  readonly plan?: string;
  /** Propose a mapping for the plan. */
  readonly draft?: true;
  /** Write the plain copy of one log to this file. */
  readonly normalise?: string;
  readonly json?: true;
  readonly quiet?: true;
}

/** `plinth look`: how each log was understood, and by which evidence. */
export async function look(paths: readonly string[], options: LookOptions): Promise<void> {
  const effects = diskReading();
  const plan = options.plan === undefined ? null : await readPlanFile(effects, options.plan);
  const files = await readLogs(effects, paths);
  if (options.draft) return draft(files);
  if (options.normalise !== undefined) return normalise(files, plan, options.normalise);
  const looked = await workingOut(files, options.quiet === true, () =>
    files.map((file) => understandLog(file, plan)),
  );
  const rejected = looked.filter((log) => !log.ok);
  const understood = looked.filter((log) => log.ok);
  if (options.json) print(JSON.stringify(looked.map(asJson), null, 1));
  else if (!options.quiet && understood.length > 0) {
    const style = printStyle();
    print(understood.map((log) => described(log, fileOf(log.record, files), plan, style)).join("\n\n"));
  }
  tellRejections(rejected.map((log) => ({ logs: [log.name], finding: log.finding })));
  process.exitCode = rejected.length > 0 ? EXIT.rejected : EXIT.done;
}

/** A mapping for each log that a person can confirm and paste into the plan. */
function draft(files: readonly LogFile[]): void {
  for (const file of files) {
    const drafted = draftMapping(file);
    if ("sentence" in drafted) throw new Trouble("rejected", safe(drafted.sentence));
    print(safe(drafted.yaml.trimEnd()));
  }
}

async function normalise(files: readonly LogFile[], plan: Plan | null, to: string): Promise<void> {
  const [file, second] = files;
  if (file === undefined || second !== undefined)
    throw new Trouble(
      "usage",
      `--normalise ${to}: expected one log, not ${files.length}; name one log for each copy.`,
    );
  const { diskEffects } = await import("../../records/diskEffects.ts");
  const effects = diskEffects();
  if (await effects.exists(to))
    throw new Trouble(
      "usage",
      `--normalise ${to}: this file is there already; name another, logs are never written over.`,
    );
  const copy = normaliseLog(file, plan);
  if ("sentence" in copy) throw new Trouble("rejected", safe(`rejected: ${copy.sentence}`));
  await effects.writeFile(to, copy.text);
  print(to);
}

function described(log: UnderstoodLog, file: LogFile | undefined, plan: Plan | null, style: Style): string {
  const { record } = log;
  const first = `${style.bold(record.name)}  ${record.kind}, ${record.rows} rows, ${record.used} used${file ? `, ${file.bytes.length} bytes` : ""}`;
  const lines = [
    `SHA-256 ${record.sha256}`,
    "",
    table(
      [{ title: "what" }, { title: "understood as" }, { title: "because" }],
      record.decisions.map((entry) => [entry.what, entry.value, entry.because.text]),
      style.window,
    ),
  ];
  if (log.features.length > 0) {
    const rows = log.features.map((feature) => [
      feature.name,
      feature.sweep?.kind ?? "touches",
      feature.state,
      String(feature.readings.x.length),
      plan === null ? "" : planned(feature.name, plan),
    ]);
    lines.push(
      "",
      table(
        [
          { title: "feature" },
          { title: "measured by" },
          { title: "state" },
          { title: "points", align: "right" },
          { title: "" },
        ],
        rows,
        style.window,
      ),
    );
  }
  if (log.signOffs.length > 0)
    lines.push(
      "",
      table(
        [{ title: "check" }, { title: "value" }, { title: "by" }],
        log.signOffs.map((entry) => [
          entry.check,
          `${entry.value} ${entry.unit ?? ""}`.trim(),
          entry.by ?? "-",
        ]),
        style.window,
      ),
    );
  const headers = Object.entries(record.header);
  if (headers.length > 0) lines.push("", table([{ title: "header" }, { title: "" }], headers, style.window));
  for (const row of record.excluded)
    lines.push(wrap(`left out  line ${row.line}: ${row.reason.text}`, style.width, "  "));
  for (const finding of log.findings)
    lines.push(
      wrap(
        `${finding.level}  ${finding.line === undefined ? "" : `line ${finding.line}: `}${finding.text.text}${finding.hint === undefined ? "" : ` ${finding.hint.text}`}`,
        style.width,
        "  ",
      ),
    );
  return [first, safe(lines.join("\n"))].join("\n");
}

const planned = (name: string, plan: Plan): string =>
  Object.hasOwn(plan.features, name) ? `in the plan as ${plan.features[name]?.fit}` : "not in the plan";

/** The same facts for a script: sentences as text, columns of numbers left to the log. */
function asJson(log: UnderstoodLog | RejectedLog): unknown {
  if (!log.ok)
    return {
      name: log.name,
      sha256: log.sha256,
      rejected: log.finding.text.text,
      line: log.finding.line ?? null,
    };
  const { record } = log;
  return {
    name: record.name,
    sha256: record.sha256,
    kind: record.kind,
    rows: record.rows,
    used: record.used,
    decisions: record.decisions.map((entry) => ({ ...entry, because: entry.because.text })),
    header: record.header,
    excluded: record.excluded.map((row) => ({ line: row.line, reason: row.reason.text })),
    features: log.features.map((feature) => ({
      name: feature.name,
      measuredBy: feature.sweep?.kind ?? "touches",
      state: feature.state,
      points: feature.readings.x.length,
    })),
    signOffs: log.signOffs.map(({ check, value, unit, by }) => ({ check, value, unit, by })),
    findings: log.findings.map((finding) => ({
      ...finding,
      text: finding.text.text,
      ...(finding.hint && { hint: finding.hint.text }),
    })),
  };
}
