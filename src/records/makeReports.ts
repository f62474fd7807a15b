import { setImmediate } from "node:timers/promises";
import { analyse, finishReport } from "../analysis/analyse.ts";
import { groupBySetup } from "../ingest/groupBySetup.ts";
import { mergeLogs } from "../ingest/mergeLogs.ts";
import { understandLog } from "../ingest/understandLog.ts";
import type { SaidFinding } from "../model/finding.ts";
import type { LogFile, MeasurementSet, RejectedLog, UnderstoodLog } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import { furtherReportId } from "../model/reportName.ts";
import type { HistoryValue, SetupReport } from "../model/setupReport.ts";
import { encloseLog } from "./enclose.ts";
import { fileOf } from "./readLogs.ts";

export interface MadeReports {
  /** One for each setup, in the order its first log was given; revision 1 until a store numbers it. */
  readonly reports: readonly SetupReport[];
  /** Logs that could not be understood, and setups whose logs contradict each other. */
  readonly rejected: readonly Rejection[];
}
export interface Rejection {
  readonly logs: readonly string[];
  readonly finding: SaidFinding;
}
export interface MakeOptions {
  readonly plan: Plan;
  /** ISO 8601. */
  readonly issued: string;
  readonly history?: readonly HistoryValue[];
  /** Hashes of logs that stood in an earlier revision already. */
  readonly earlier?: ReadonlySet<string>;
  /** Whether the logs themselves go into the record (default): not for an answer that is shown and forgotten. */
  readonly enclose?: boolean;
}

/** Reports on their way: each is worked out when it is taken, so that the one before can be printed meanwhile. */
export interface ReportsInWork {
  readonly setups: number;
  readonly reports: Iterable<SetupReport>;
  /** Complete once all reports are taken. */
  readonly rejected: readonly Rejection[];
}

/** The whole road from logs to finished reports, one for each setup. Pure but for nothing: no file is touched. */
export function makeReports(files: readonly LogFile[], options: MakeOptions): MadeReports {
  const { reports, rejected } = inWork(
    files,
    files.map((file) => understandLog(file, options.plan)),
    options,
  );
  return { reports: [...reports], rejected };
}

/** The same road for many: each log and each report by itself, so that a browser can start meanwhile. */
export async function reportsInWork(files: readonly LogFile[], options: MakeOptions): Promise<ReportsInWork> {
  const logs: (UnderstoodLog | RejectedLog)[] = [];
  for (const file of files) {
    logs.push(understandLog(file, options.plan));
    await setImmediate();
  }
  return inWork(files, logs, options);
}

function inWork(
  files: readonly LogFile[],
  logs: readonly (UnderstoodLog | RejectedLog)[],
  options: MakeOptions,
): ReportsInWork {
  const { earlier = new Set() } = options;
  const groups = groupBySetup(
    logs.filter((log) => log.ok),
    earlier,
  );
  const rejected = logs.filter((log) => !log.ok).map(rejectionOf);
  const { plan, issued, history } = options;
  function* reports(): Generator<SetupReport> {
    const ids = new Set<string>();
    for (const group of groups) {
      const merged = mergeLogs(group.logs, plan, group.findings);
      if (!merged.ok) {
        rejected.push({ logs: group.logs.map((log) => log.record.name), finding: merged.finding });
        continue;
      }
      const unabridged = withLeftOut(group.logs, files, plan);
      const report = finishReport(
        analyse({ set: merged.set, unabridged, plan, issued, ...(history && { history }) }),
      );
      const apart = withEarlier(toldApart(report, ids), earlier);
      ids.add(apart.report.id);
      yield options.enclose === false ? apart : withEnclosures(apart, files, group.logs, history ?? []);
    }
  }
  return { setups: groups.length, reports: reports(), rejected };
}

/** What the logs hold with the rows that the plan leaves out, so that values with them can stand beside; null when it leaves out none. */
function withLeftOut(
  logs: readonly UnderstoodLog[],
  files: readonly LogFile[],
  plan: Plan,
): MeasurementSet | null {
  const lines = new Set(plan.exclude.map(({ line }) => line));
  if (!logs.some(({ record }) => record.excluded.some(({ line }) => lines.has(line)))) return null;
  const again = logs.map(({ record }) => {
    const file = fileOf(record, files);
    return file === undefined ? undefined : understandLog(file, { ...plan, exclude: [] });
  });
  const read = again.filter((log) => log?.ok === true);
  const merged = read.length < logs.length ? null : mergeLogs(read, plan);
  return merged?.ok ? merged.set : null;
}

/** Setups that differ in machine, pallet or serial only would bear one name. */
function toldApart(report: SetupReport, others: ReadonlySet<string>): SetupReport {
  const { id } = report.report;
  if (!others.has(id)) return report;
  return { ...report, report: { ...report.report, id: furtherReportId(id, report.setup) } };
}

/** Which logs were there before the others, so that the record can be computed again. */
function withEarlier(report: SetupReport, earlier: ReadonlySet<string>): SetupReport {
  if (earlier.size === 0) return report;
  const marked = report.logs.map((log) =>
    earlier.has(log.sha256) ? { ...log, earlier: true as const } : log,
  );
  return { ...report, logs: marked };
}

const rejectionOf = (log: RejectedLog): Rejection => ({ logs: [log.name], finding: log.finding });

function withEnclosures(
  report: SetupReport,
  files: readonly LogFile[],
  logs: readonly UnderstoodLog[],
  history: readonly HistoryValue[],
): SetupReport {
  const enclosed = report.logs.map((entry) => {
    const file = fileOf(entry, files);
    const log = logs.find(
      (candidate) => candidate.record.name === entry.name && candidate.record.sha256 === entry.sha256,
    );
    return file && log ? { ...entry, ...encloseLog(file, log.record) } : entry;
  });
  return { ...report, logs: enclosed, ...(history.length > 0 && { history }) };
}
