import { join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import { CORRECTABLE, type Decision, type EntryKind, type ReportEntry } from "../model/entry.ts";
import { recordFolder } from "../model/reportName.ts";
import type { SetupReport, Verdict } from "../model/setupReport.ts";
import { Trouble } from "../model/trouble.ts";
import { entryId } from "./entryId.ts";
import { withFolderLock } from "./folderLock.ts";
import { anotherFile, type OwnReports, refuseForeign } from "./foreignReport.ts";
import {
  type JobRecord,
  ownRecord,
  readRecord,
  type TrustedReport,
  trustedReport,
  writeRecord,
} from "./jobRecord.ts";
import { isoSeconds, sourceDateMs } from "./sourceDate.ts";

/** What a person wants to add to a report. */
export interface EntryRequest {
  /** The report's JSON, or a page beside it. */
  readonly path: string;
  readonly kind: EntryKind;
  readonly who: string;
  readonly why: string;
  readonly decision: Decision | null;
  readonly characteristic: string | null;
  readonly corrected: Readonly<Record<string, string>>;
}
export interface AddedEntry {
  readonly entry: ReportEntry;
  readonly folder: string;
  /** `kept`: the same was noted before. */
  readonly status: "added" | "kept";
}

/**
 * Adds an entry to the record of the report's job: a disposition of what is not a pass, a correction of a wrong header, a void.
 * The report itself is recomputed first and never changed.
 * Throws Trouble `usage` for an entry that makes no sense, `rejected` for a report that does not verify or is not the one of
 * its name in the record, or in `own` where that is given.
 */
export async function addEntry(
  effects: DurableEffects,
  records: string,
  request: EntryRequest,
  own: OwnReports | null = null,
): Promise<AddedEntry> {
  const trusted = await trustedReport(effects, request.path.replace(/\.(?:json|html|pdf)$/i, ".json"));
  const { report } = trusted;
  if (own !== null) await refuseForeign(effects, own, trusted);
  const problem = problemOf(request, report);
  if (problem !== null) throw new Trouble("usage", problem);
  const job = await recordOf(effects, records, report);
  const folder = join(records, recordFolder(job));
  const entry = entryOf(request, report, sourceDateMs(effects.environment) ?? effects.now());
  return withFolderLock(effects, folder, async () => {
    const record = await ownRecord(effects, folder, job);
    if (isAnotherOf(record, trusted)) throw anotherFile(trusted.path, join(folder, "manifest.json"));
    const before = record.entries.find(({ id }) => id === entry.id);
    if (before !== undefined) return { entry: before, folder, status: "kept" };
    await writeRecord(effects, folder, { ...record, entries: [...record.entries, entry] });
    return { entry, folder, status: "added" };
  });
}

/** Whether a record has the report under its name and revision, with other content. */
function isAnotherOf({ reports }: JobRecord, { report: { report }, sha256 }: TrustedReport): boolean {
  const kept = reports.find(({ id, revision }) => id === report.id && revision === report.revision);
  const json = kept?.files.find(({ name }) => name.endsWith(".json"));
  return json !== undefined && json.sha256 !== sha256;
}

function problemOf(request: EntryRequest, report: SetupReport): string | null {
  const { kind, who, why, decision, characteristic, corrected } = request;
  if (who.trim() === "") return "--who: an entry needs the name of the person who answers for it.";
  if (why.trim() === "") return "--why: an entry needs its reason.";
  const keys = Object.keys(corrected);
  if (kind !== "correction" && keys.length > 0) return "--set belongs to a correction: --kind correction.";
  if (kind !== "disposition" && decision !== null) return "--decision belongs to --kind disposition.";
  if (kind !== "disposition" && characteristic !== null)
    return "--characteristic belongs to --kind disposition.";
  if (kind === "correction") return problemOfCorrection(keys, corrected, report);
  return kind === "disposition" ? problemOfDisposition(decision, characteristic, report) : null;
}

function problemOfCorrection(
  keys: readonly string[],
  corrected: Readonly<Record<string, string>>,
  report: SetupReport,
): string | null {
  if (keys.length === 0)
    return "a correction says what is right: --set KEY=VALUE, for example --set pallet=4.";
  for (const key of keys) {
    if (!(CORRECTABLE as readonly string[]).includes(key))
      return `--set ${key}: a correction may name ${CORRECTABLE.join(", ")}; what changes a number needs a new log.`;
    if (corrected[key]?.trim() === "") return `--set ${key}: give the right value behind the equals sign.`;
    if (report.setup[key] === corrected[key])
      return `--set ${key}: the report says ${corrected[key]} already.`;
  }
  return null;
}

function problemOfDisposition(
  decision: Decision | null,
  characteristic: string | null,
  report: SetupReport,
): string | null {
  if (decision === null)
    return "a disposition says what is done: --decision use-as-is, rework, measure-again or scrap.";
  if (characteristic === null)
    return report.verdict === "pass"
      ? "the report is a pass: there is nothing to dispose of; --kind void takes it out of use."
      : null;
  const verdicts = new Map<string, Verdict>(
    [...report.characteristics, ...report.signOffs].map(({ id, verdict }) => [id, verdict]),
  );
  const verdict = verdicts.get(characteristic);
  if (verdict === undefined)
    return `--characteristic ${characteristic}: the report has none of this name; it has ${[...verdicts.keys()].join(", ")}.`;
  return verdict === "pass"
    ? `--characteristic ${characteristic}: it is a pass, there is nothing to dispose of.`
    : null;
}

/** The job whose record an entry goes to: the report's own, else the one that it was attached to, else that of no job. */
async function recordOf(effects: DurableEffects, records: string, report: SetupReport): Promise<string> {
  const own = report.setup.job?.trim();
  if (own) return own;
  for (const { job, reports } of await allRecords(effects, records))
    if (reports.some(({ id }) => id === report.report.id)) return job;
  return "no-job";
}

function entryOf(request: EntryRequest, { report }: SetupReport, nowMs: number): ReportEntry {
  const { kind, characteristic, decision } = request;
  const said = {
    report: report.id,
    revision: report.revision,
    kind,
    characteristic,
    who: request.who.trim(),
    why: request.why.trim(),
    decision,
    corrected: Object.fromEntries(
      Object.entries(request.corrected).map(([key, value]) => [key, value.trim()]),
    ),
  };
  return { id: entryId(said), ...said, made: isoSeconds(nowMs) };
}

/** Every job record below a folder; none where there is no such folder. A folder without a manifest is none. */
export async function allRecords(effects: DurableEffects, records: string) {
  if (!(await effects.exists(records))) return [];
  const found = [];
  for (const name of await effects.disk.names(records)) {
    const folder = join(records, name);
    if (await effects.exists(join(folder, "manifest.json")))
      found.push({ folder: name, ...(await readRecord(effects, folder, name)) });
  }
  return found.toSorted((a, b) => (a.folder < b.folder ? -1 : 1));
}

/** What quality said of each report, by its id and revision, in the order in which it was said. */
export class Entries {
  readonly #byReport = new Map<string, ReportEntry[]>();
  constructor(entries: readonly ReportEntry[]) {
    for (const entry of entries.toSorted((a, b) => (a.made < b.made ? -1 : a.made > b.made ? 1 : 0))) {
      const own = this.#byReport.get(entry.report) ?? [];
      own.push(entry);
      this.#byReport.set(entry.report, own);
    }
  }
  /** Entries of one revision; corrections of an earlier one hold on, as the header has not changed. */
  of(report: string, revision: number): readonly ReportEntry[] {
    return (this.#byReport.get(report) ?? []).filter(
      (entry) => entry.revision === revision || (entry.kind === "correction" && entry.revision < revision),
    );
  }
  isVoid(report: string, revision: number): boolean {
    return this.of(report, revision).some(({ kind }) => kind === "void");
  }
  all(): ReportEntry[] {
    return [...this.#byReport.values()].flat();
  }
}
