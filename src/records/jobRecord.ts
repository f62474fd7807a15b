import { basename, dirname, join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import type { ReportEntry } from "../model/entry.ts";
import { recordFolder } from "../model/reportName.ts";
import type { SetupReport, Verdict } from "../model/setupReport.ts";
import { Trouble } from "../model/trouble.ts";
import { withFolderLock } from "./folderLock.ts";
import { read, sha256Of } from "./readLogs.ts";
import { sidecar } from "./sidecar.ts";
import { parseReport, verifyReport } from "./verify.ts";

export const RECORD_SCHEMA = "plinth.job-record/1";

/** What hangs on a job: `manifest.json` of its folder. Entries are added and marked as superseded, never removed. */
export interface JobRecord {
  readonly schema: typeof RECORD_SCHEMA;
  readonly job: string;
  readonly reports: readonly RecordedReport[];
  /** What quality said of them, in the order in which it was said. */
  readonly entries: readonly ReportEntry[];
}
export interface RecordedReport {
  readonly id: string;
  readonly revision: number;
  readonly verdict: Verdict;
  readonly issued: string;
  readonly attached: string;
  readonly operation: string | null;
  readonly plan: string;
  readonly machine: string | null;
  readonly files: readonly RecordedFile[];
  /** The newer revision in this record, or null. */
  readonly supersededBy: number | null;
}
export interface RecordedFile {
  readonly name: string;
  readonly sha256: string;
  readonly bytes: number;
}
export interface Attached {
  readonly folder: string;
  readonly report: RecordedReport;
  /** `kept`: it was attached before, and nothing was changed. */
  readonly status: "attached" | "kept";
}

const ENDINGS = ["json", "html", "pdf"] as const;

/**
 * Attaches a report with its pages to a job's record in `records`. The report is recomputed first: one that does not belong
 * to its logs and plan is refused. Twice the same changes nothing; two processes at once lose nothing.
 * Throws Trouble: `rejected` for a report that does not verify or belongs to another job, `unreachable` for files.
 */
export async function attachReport(
  effects: DurableEffects,
  { records, path, job }: { readonly records: string; readonly path: string; readonly job: string },
): Promise<Attached> {
  const base = path.replace(/\.(?:json|html|pdf)$/i, "");
  const report = await ofJob(effects, `${base}.json`, job);
  const folder = join(records, recordFolder(job));
  return withFolderLock(effects, folder, async () => {
    const record = await ownRecord(effects, folder, job);
    const files: RecordedFile[] = [];
    for (const ending of ENDINGS) {
      const file = await copyFile(effects, `${base}.${ending}`, folder);
      if (file !== null) files.push(file);
    }
    const { id, revision } = report.report;
    const before = record.reports.find((entry) => entry.id === id && entry.revision === revision);
    if (before !== undefined && sameFiles(before.files, files))
      return { folder, report: before, status: "kept" };
    const entry = entryOf(report, files, new Date(effects.now()).toISOString());
    // The manifest goes last: what it names is there.
    await effects.writeFile(
      join(folder, `${basename(base)}.sidecar.json`),
      `${JSON.stringify(sidecar(report, job, files), null, 1)}\n`,
    );
    await writeRecord(effects, folder, {
      ...record,
      reports: superseding([...record.reports.filter((one) => one !== before), entry]),
    });
    return { folder, report: entry, status: "attached" };
  });
}

async function ofJob(effects: DurableEffects, path: string, job: string): Promise<SetupReport> {
  const { report } = await trustedReport(effects, path);
  const own = report.setup.job?.trim();
  if (own && own !== job)
    throw new Trouble("rejected", `${path}: this report belongs to job ${own}; attach it with --job ${own}.`);
  return report;
}

/** A stored report that was recomputed, with the hash of its file. */
export interface TrustedReport {
  readonly path: string;
  readonly report: SetupReport;
  readonly sha256: string;
}
/** A stored report that is what its logs and plan give. Throws Trouble `rejected` for another one, `unreachable` for none. */
export async function trustedReport(effects: DurableEffects, path: string): Promise<TrustedReport> {
  const bytes = await read(effects, path);
  const report = parseReport(new TextDecoder().decode(bytes));
  if ("because" in report) throw new Trouble("rejected", `${path}: ${report.because}.`);
  const verified = verifyReport(report);
  if (!verified.ok) throw new Trouble("rejected", `${path}: refused, ${verified.because}.`);
  return { path, report, sha256: sha256Of(bytes) };
}

/** The record in a job's folder; an empty one where there is none. Throws Trouble `rejected` for a damaged manifest. */
export async function readRecord(
  effects: Pick<DurableEffects, "exists" | "readFile">,
  folder: string,
  job: string,
): Promise<JobRecord> {
  const path = join(folder, "manifest.json");
  if (!(await effects.exists(path))) return { schema: RECORD_SCHEMA, job, reports: [], entries: [] };
  try {
    const record = JSON.parse(
      new TextDecoder().decode(await effects.readFile(path)),
    ) as Partial<JobRecord> | null;
    if (record?.schema === RECORD_SCHEMA && Array.isArray(record.reports))
      return {
        schema: RECORD_SCHEMA,
        job: record.job ?? job,
        reports: record.reports,
        entries: record.entries ?? [],
      };
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
  }
  throw new Trouble(
    "rejected",
    `${path}: this is no manifest of a job record; restore it, or move it away and attach the reports again.`,
  );
}

/**
 * The record of a job to add to. Throws Trouble `rejected` where the folder is another job's: on a disk that takes `k-1` and
 * `K-1` for one name they would share it.
 */
export async function ownRecord(
  effects: Pick<DurableEffects, "exists" | "readFile">,
  folder: string,
  job: string,
): Promise<JobRecord> {
  const record = await readRecord(effects, folder, job);
  if (record.job === job) return record;
  throw new Trouble(
    "rejected",
    `${folder}: this is the record of job ${record.job}, and this disk takes both names for one; write the job as ${record.job}, or keep the records on a disk that tells them apart.`,
  );
}

async function copyFile(effects: DurableEffects, from: string, folder: string): Promise<RecordedFile | null> {
  if (!(await effects.exists(from))) return null;
  const bytes = await read(effects, from);
  const file = { name: basename(from), sha256: sha256Of(bytes), bytes: bytes.length };
  const to = join(folder, file.name);
  if (join(dirname(from), file.name) === to) return file;
  if (await effects.exists(to)) {
    if (sha256Of(await read(effects, to)) === file.sha256) return file;
    throw new Trouble(
      "rejected",
      `${to}: another file of this name is in the record already; a changed report must be a new revision.`,
    );
  }
  await effects.writeFile(to, bytes);
  return file;
}

const sameFiles = (one: readonly RecordedFile[], other: readonly RecordedFile[]): boolean =>
  one.length === other.length &&
  one.every((file, i) => file.sha256 === other[i]?.sha256 && file.name === other[i]?.name);

function entryOf(report: SetupReport, files: readonly RecordedFile[], attached: string): RecordedReport {
  const { id, revision, issued } = report.report;
  const { operation, machine } = report.setup;
  return {
    id,
    revision,
    verdict: report.verdict,
    issued,
    attached,
    operation: operation ?? null,
    plan: report.plan.name,
    machine: machine ?? null,
    files,
    supersededBy: null,
  };
}

/** By id and revision; each but the newest of an id names the next one. */
function superseding(reports: readonly RecordedReport[]): RecordedReport[] {
  const sorted = reports.toSorted((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : a.revision - b.revision));
  return sorted.map((entry, i) => ({
    ...entry,
    supersededBy: sorted[i + 1]?.id === entry.id ? (sorted[i + 1]?.revision ?? null) : null,
  }));
}

/** Writes the manifest of a job record, whole or not at all. */
export const writeRecord = (effects: DurableEffects, folder: string, record: JobRecord): Promise<void> =>
  effects.writeFile(join(folder, "manifest.json"), `${JSON.stringify(record, null, 1)}\n`);

/** Where a file's hash stands in the records of a workspace. */
export interface KnownFile {
  readonly job: string;
  readonly status: "same" | "other";
}
/** Looks for a report file by name in every job record below `records`; null when none knows its name. */
export async function knownFile(
  effects: DurableEffects,
  records: string,
  name: string,
  sha256: string,
): Promise<KnownFile | null> {
  if (!(await effects.exists(records))) return null;
  for (const entry of await effects.listFolder(records)) {
    if (entry.kind !== "folder") continue;
    const record = await readRecord(effects, join(records, entry.name), entry.name);
    for (const report of record.reports) {
      const file = report.files.find((one) => one.name === name);
      if (file !== undefined) return { job: record.job, status: file.sha256 === sha256 ? "same" : "other" };
    }
  }
  return null;
}
