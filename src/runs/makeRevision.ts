import type { LogFile } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import { furtherReportId } from "../model/reportName.ts";
import type { SetupReport } from "../model/setupReport.ts";
import { ArchiveChanged, archivedLog, archiveLog } from "../records/archive.ts";
import { type AcceptedLog, acceptRevision } from "../records/ledger/acceptRevision.ts";
import { type ChainLog, currentLogs, isNameTaken, lastRevision } from "../records/ledger/chains.ts";
import { entriesFor } from "../records/ledger/entriesFor.ts";
import { historyFor } from "../records/ledger/historyFor.ts";
import { makeReports } from "../records/makeReports.ts";
import { reportMessages } from "../records/messages.ts";
import { publishReports } from "../records/publishReports.ts";
import { sha256Of } from "../records/readLogs.ts";
import { reportJson, revisionsAfter } from "../records/reportStore.ts";
import { findingText } from "../records/scanLog.ts";
import { isoSeconds } from "../records/sourceDate.ts";
import { finishClaim, isUnchanged, putBack } from "./claims.ts";
import type { RoundContext } from "./context.ts";
import type { ChainWork } from "./findChains.ts";
import { claimedFile, type ReadyLog } from "./readClaim.ts";
import { rejectClaim } from "./rejectClaim.ts";

interface NewLog {
  readonly log: ReadyLog;
  readonly file: LogFile;
}

/**
 * The next revision of a chain, with the logs that came and those it had: archive, report files, then the ledger's
 * transaction, which alone makes the logs done. Cut off before it, all is done again and finds what is there already.
 * Logs that the others contradict are rejected; `work.logs` has no name twice.
 */
export async function makeRevision(round: RoundContext, work: ChainWork): Promise<void> {
  const started = round.effects.ticks();
  const plan = planOf(round, work);
  const came = await newLogs(round, work);
  const old = await chainFiles(round, work);
  const made = await makeWith(round, work, { plan, old, came });
  if (made === null) return;
  const { report, logs } = made;
  const accepted: AcceptedLog[] = [];
  const issued = isoSeconds(round.runNow());
  for (const { log, file } of logs) {
    const archived = await archiveLog(round.effects, round.workspace.paths, file, log.claimed.day);
    const { name, sha256, bytes } = file;
    accepted.push({
      name,
      sha256,
      bytes: bytes.length,
      archived,
      accepted: issued,
      measured: log.scanned.time,
    });
  }
  const written = await publish(round, work, report);
  const revision = {
    report: written,
    base: `reports/${fileName(written)}`,
    jsonSha256: sha256Of(reportJson(written)),
  };
  await acceptRevision(round.ledger, {
    ...revision,
    setupId: work.chain?.id ?? null,
    keys: work.keys,
    day: work.day,
    logs: accepted,
    elapsedMs: round.effects.ticks() - started,
    messages: await reportMessages(round.effects, round.workspace, revision),
  });
  for (const { log } of logs) await finish(round, log);
  await tell(round, written, logs);
  round.owed();
}

const fileName = ({ report }: SetupReport): string => `${report.id}_r${report.revision}`;

/** The shop's units and language where the plan says none. */
function planOf({ workspace }: RoundContext, { logs: [first] }: ChainWork): Plan {
  if (first === undefined) throw new RangeError("a chain without logs has no revision");
  const { plan } = first.scanned;
  const { show, showAlso, language } = workspace.settings;
  const says = (key: string): boolean => new RegExp(`^${key}\\s*:`, "m").test(plan.source.text);
  return {
    ...plan,
    ...(show === null || says("show") ? {} : { show, showAlso }),
    ...(language === null || says("language") ? {} : { language }),
  };
}

/** The claimed files, read again; one that has changed since goes back into the inbox. */
async function newLogs(round: RoundContext, { logs }: ChainWork): Promise<NewLog[]> {
  const read: NewLog[] = [];
  for (const log of logs) {
    const file = await claimedFile(round, log.claimed);
    if (file.sha256 === log.sha256) read.push({ log, file });
    else await putBack(round.effects, round.workspace.paths, log.claimed);
  }
  return read;
}

async function chainFiles(
  { ledger, effects, workspace }: RoundContext,
  { chain }: ChainWork,
): Promise<LogFile[]> {
  if (chain === null) return [];
  const logs = await currentLogs(ledger.tables, chain.id);
  const files: LogFile[] = [];
  for (const log of logs) files.push(await fromArchive(log));
  return files;

  async function fromArchive(log: ChainLog): Promise<LogFile> {
    try {
      return await archivedLog(effects, workspace.paths, log);
    } catch (error) {
      // One log missing from an archive that is there will not come back by waiting.
      const gone =
        (error as NodeJS.ErrnoException).code === "ENOENT" && (await effects.exists(workspace.paths.archive));
      throw gone ? new ArchiveChanged(log.archived) : error;
    }
  }
}

interface Parts {
  readonly plan: Plan;
  readonly old: readonly LogFile[];
  readonly came: readonly NewLog[];
}
/** The report of all logs together; where they contradict each other, of those that do not, and the others are rejected. */
async function makeWith(
  round: RoundContext,
  work: ChainWork,
  { plan, old, came }: Parts,
): Promise<{ report: SetupReport; logs: readonly NewLog[] } | null> {
  const { ledger } = round;
  const history = await historyFor(ledger.tables, plan, work.keys, work.chain?.id ?? null);
  const issued = isoSeconds(round.runNow());
  const earlier = new Set(old.map(({ sha256 }) => sha256));
  const attempt = (logs: readonly NewLog[]): SetupReport | string =>
    oneReport([...withoutReplaced(old, logs), ...logs.map(({ file }) => file)], {
      plan,
      issued,
      history,
      earlier,
    });
  if (came.length === 0) return null;
  const whole = attempt(came);
  if (typeof whole !== "string") return { report: await named(round, work, whole), logs: came };
  let good: { report: SetupReport; logs: readonly NewLog[] } | null = null;
  for (const log of came) {
    const logs: readonly NewLog[] = [...(good?.logs ?? []), log];
    const report = came.length === 1 ? whole : attempt(logs);
    if (typeof report === "string") await rejectClaim(round, log.log.claimed, report);
    else good = { report, logs };
  }
  return good === null ? null : { report: await named(round, work, good.report), logs: good.logs };
}
/** A log of the same name takes the older one's place. */
const withoutReplaced = (old: readonly LogFile[], came: readonly NewLog[]): LogFile[] =>
  old.filter(({ name }) => !came.some(({ file }) => file.name === name));

/** The one report that these logs give, or why they give none or several. */
function oneReport(
  files: readonly LogFile[],
  options: Parameters<typeof makeReports>[1],
): SetupReport | string {
  const { reports, rejected } = makeReports(files, options);
  const [refused] = rejected;
  if (refused !== undefined) return findingText(refused.finding);
  const [report] = reports;
  if (report === undefined || reports.length > 1)
    return `${files.at(-1)?.name}: together with the other logs of its setup it gives ${reports.length} setups; make job, operation, setup, machine, pallet and plan in their headers agree.`;
  return report;
}

/** A chain keeps its name; a new one whose name is taken gets six digits more. */
async function named({ ledger }: RoundContext, work: ChainWork, report: SetupReport): Promise<SetupReport> {
  const own = report.report.id;
  let id = work.chain?.reportId ?? own;
  if (work.chain === null && (await isNameTaken(ledger.tables, own)))
    id = furtherReportId(own, report.setup, work.keys.job === null ? work.day : "");
  if (work.chain === null && (await isNameTaken(ledger.tables, id)))
    id = furtherReportId(own, report.setup, work.logs[0]?.sha256);
  // What quality said of earlier revisions stands on the next one.
  const entries = await entriesFor(ledger.tables, id);
  return {
    ...report,
    report: { ...report.report, id },
    ...(entries.length > 0 && { entries }),
  };
}

async function publish(round: RoundContext, work: ChainWork, report: SetupReport): Promise<SetupReport> {
  const { effects, workspace, ledger, printer, log } = round;
  const known = work.chain === null ? 0 : await lastRevision(ledger.tables, work.chain.id);
  const { published, noPdf } = await publishReports(effects, [report], {
    folder: workspace.paths.reports,
    formats: ["json", "html", "pdf"],
    page: workspace.settings.page,
    printer,
    revisions: revisionsAfter(known),
  });
  const [done] = published;
  if (done === undefined) throw new Error("one report gives one published report");
  if (noPdf !== null)
    await log.note("no-pdf", `No PDF of ${fileName(done.report)}: ${noPdf}`, {
      report: done.report.report.id,
    });
  return done.report;
}

/** Ends a claim; a file that somebody went on writing to is a new log. */
async function finish({ effects, workspace }: RoundContext, { claimed, sha256 }: ReadyLog): Promise<void> {
  if (await isUnchanged(effects, claimed)) await finishClaim(effects, workspace.paths, claimed, sha256);
  else await putBack(effects, workspace.paths, claimed);
}

async function tell(
  { log, tally }: RoundContext,
  report: SetupReport,
  logs: readonly NewLog[],
): Promise<void> {
  const { id, revision, replaces } = report.report;
  tally.accepted += logs.length;
  tally.reports.push({ id, revision, verdict: report.verdict, counts: report.counts });
  const names = logs.map(({ file }) => file.name);
  const instead = replaces === null ? "" : `, replaces r${replaces}`;
  await log.note("revision", `${fileName(report)}: ${report.verdict} (${listed(names)}${instead})`, {
    report: id,
    revision,
    replaces,
    verdict: report.verdict,
    counts: report.counts,
    logs: logs.map(({ file }) => ({ name: file.name, sha256: file.sha256 })),
  });
}
const MOST_NAMED = 5;
const listed = (names: readonly string[]): string =>
  names.length <= MOST_NAMED
    ? names.join(", ")
    : `${names.slice(0, MOST_NAMED).join(", ")} and ${names.length - MOST_NAMED} more`;
