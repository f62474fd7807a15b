import type { ReportEntry } from "../model/entry.ts";
import type { LogFile } from "../model/measurement.ts";
import { isIdOf } from "../model/reportName.ts";
import type { ReportLog, SetupReport } from "../model/setupReport.ts";
import { REPORT_SCHEMA } from "../model/setupReport.ts";
import { Trouble } from "../model/trouble.ts";
import { VERSION } from "../model/version.ts";
import { decodeEnclosed } from "./decodeEnclosed.ts";
import { entryId } from "./entryId.ts";
import { type Difference, firstDifference } from "./firstDifference.ts";
import { makeReports } from "./makeReports.ts";
import { planFromText } from "./planFile.ts";
import { hashOf, sha256Of } from "./readLogs.ts";

/** Another version of Plinth may round its last digits differently. */
const OTHER_VERSION_RELATIVE = 1e-9;

export interface Accepted {
  readonly ok: true;
  /** What was compared, one sentence each. */
  readonly proved: readonly string[];
  /** The report as recomputed, with what it encloses. */
  readonly fresh: SetupReport;
}
export interface Refused {
  readonly ok: false;
  /** One sentence that names what differs. */
  readonly because: string;
}
export type Verification = Accepted | Refused;
const refused = (because: string): Refused => ({ ok: false, because });

/** A stored report as text. Refused where it is no setup report of a version that can be read. */
export function parseReport(text: string): SetupReport | Refused {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return refused(
      /^\s*\{/.test(text)
        ? "it is not whole JSON: it was cut off or changed"
        : "it is no report as JSON or PDF; name one of these, which hold what can be verified",
    );
  }
  const schema = (value as { schema?: unknown } | null)?.schema;
  if (schema !== REPORT_SCHEMA)
    return refused(
      `it is not a setup report: its schema is ${JSON.stringify(schema ?? null)}, expected "${REPORT_SCHEMA}"`,
    );
  return value as SetupReport;
}

/**
 * Recomputes a report from the plan and logs it encloses and compares. With the same version every number must be the
 * same; with another one hashes and verdicts must be, and values within 1e-9.
 * @param stored a report whose plan text and logs are enclosed, or given in `logs`
 * @param logs bytes of logs that the report names by hash only
 */
export function verifyReport(stored: SetupReport, logs: readonly LogFile[] = []): Verification {
  if (typeof stored.plan?.text !== "string" || stored.plan.text === "")
    return refused("the plan is not enclosed");
  if (sha256Of(stored.plan.text) !== stored.plan.sha256)
    return refused(`the plan ${stored.plan.name} does not have the hash that the report states`);
  const files: LogFile[] = [];
  for (const log of stored.logs) {
    const file = enclosedFile(log, logs);
    if ("because" in file) return file;
    files.push(file);
  }
  const wrong = wrongRevision(stored) ?? wrongEntry(stored);
  if (wrong !== null) return refused(wrong);
  const fresh = recompute(stored, files);
  if ("because" in fresh) return fresh;
  return compare(stored, fresh);
}

function enclosedFile(log: ReportLog, given: readonly LogFile[]): LogFile | Refused {
  let bytes: LogFile["bytes"] | null;
  try {
    bytes = decodeEnclosed(log);
  } catch {
    return refused(`the enclosed log ${log.name} cannot be unpacked: it was changed`);
  }
  bytes ??= given.find((file) => file.sha256 === log.sha256)?.bytes ?? null;
  if (bytes === null)
    return refused(
      `the log ${log.name} is named by its hash only; hand it over with --log (the archive keeps it)`,
    );
  if (hashOf(bytes) !== log.sha256)
    return refused(`the log ${log.name} does not have the hash that the report states`);
  return { name: log.name, bytes, sha256: log.sha256 };
}

function recompute(stored: SetupReport, files: readonly LogFile[]): SetupReport | Refused {
  try {
    const { text, name, sha256 } = stored.plan;
    const read = planFromText({ text, name: `${name}.yaml`, sha256 });
    // The units and language of the page are the reader's choice, not part of the plan's meaning.
    const page = { show: stored.show, showAlso: stored.showAlso ?? null, language: stored.language };
    const plan = { ...read, ...page };
    const { reports, rejected } = makeReports(files, {
      plan,
      issued: stored.report.issued,
      history: stored.history ?? [],
      // When each log came is the store's knowledge too.
      earlier: new Set(stored.logs.filter((log) => log.earlier === true).map((log) => log.sha256)),
    });
    const [fresh] = reports;
    if (rejected.length > 0)
      return refused(
        `the log ${rejected[0]?.logs.join(", ")} is not understood: ${rejected[0]?.finding.text.text}`,
      );
    if (fresh === undefined || reports.length !== 1)
      return refused(`its logs give ${reports.length} reports, expected one`);
    const { revision, replaces } = stored.report;
    // Number and name among other reports are the store's doing; a name that is not this report's own is none.
    const id = isIdOf(stored.report.id, fresh.report.id) ? stored.report.id : fresh.report.id;
    return {
      ...fresh,
      report: { ...fresh.report, id, revision, replaces },
      ...(stored.entries && { entries: stored.entries }),
    };
  } catch (error) {
    if (error instanceof Trouble) return refused(`the enclosed plan is not understood: ${error.message}`);
    throw error;
  }
}

/** A first revision replaces nothing; a later one says which it replaces. */
function wrongRevision({ report }: SetupReport): string | null {
  const { revision, replaces } = report;
  if (!Number.isInteger(revision) || revision < 1) return `${show(revision)} is no number of a revision`;
  if (revision === 1)
    return replaces === null
      ? null
      : `revision 1 states that it replaces ${show(replaces)}: a first one replaces none`;
  const isEarlier = Number.isInteger(replaces) && Number(replaces) >= 1 && Number(replaces) < revision;
  return isEarlier
    ? null
    : `revision ${revision} states ${show(replaces)} as the one that it replaces: it must name an earlier one`;
}

/** What quality said cannot be computed again; that its words are those it was noted with can be seen. */
function wrongEntry({ entries = [], report }: SetupReport): string | null {
  if (!Array.isArray(entries)) return "what quality said is no list";
  for (const entry of entries as readonly (ReportEntry | null)[]) {
    if (entry === null || typeof entry !== "object" || entry.id !== entryId(entry))
      return `an entry of ${String(entry?.who)}: its words are not those that were noted`;
    if (entry.report !== report.id || !(entry.revision < report.revision))
      return `an entry of ${entry.who}: it belongs to ${entry.report} revision ${entry.revision}`;
  }
  return null;
}

function compare(stored: SetupReport, fresh: SetupReport): Verification {
  const sameVersion = stored.generator?.version === VERSION;
  // JSON is what is stored, so the fresh report takes the same way through it.
  const again = JSON.parse(JSON.stringify(fresh)) as SetupReport;
  const difference = sameVersion
    ? firstDifference(withoutEnclosures(stored), withoutEnclosures(again))
    : looseDifference(stored, again);
  if (difference !== null) return refused(wordDifference(stored, difference));
  const proved = [
    `${stored.logs.length} ${stored.logs.length === 1 ? "log" : "logs"} and the plan have the hashes that the report states`,
    sameVersion
      ? "every number and word is what these logs and this plan give"
      : `made by version ${stored.generator?.version}, checked by ${VERSION}: verdicts are the same, values agree within ${OTHER_VERSION_RELATIVE} of their size`,
  ];
  return { ok: true, proved, fresh };
}

/** Enclosed texts are compared by their hashes; a PDF carries them beside its record, a JSON inside. */
function withoutEnclosures(report: SetupReport): SetupReport {
  const logs = report.logs.map(({ text: _text, gzip: _gzip, ...log }) => log);
  return { ...report, plan: { ...report.plan, text: "" }, logs };
}

function looseDifference(stored: SetupReport, fresh: SetupReport): Difference | null {
  const facts = (report: SetupReport) => ({
    report: report.report,
    verdict: report.verdict,
    counts: report.counts,
    setup: report.setup,
    logs: report.logs.map(({ name, sha256, rows, used }) => ({ name, sha256, rows, used })),
    characteristics: report.characteristics.map(
      ({ id, kind, value, unit, uncertainty, limits, verdict, asFound }) => ({
        id,
        kind,
        value,
        unit,
        uncertainty,
        limits,
        verdict,
        asFound,
      }),
    ),
    advice: report.advice.map(({ kind, moves, values }) => ({ kind, moves, values })),
    signOffs: report.signOffs.map(({ id, value, unit, verdict }) => ({ id, value, unit, verdict })),
  });
  return firstDifference(facts(stored), facts(fresh), OTHER_VERSION_RELATIVE);
}

const show = (value: unknown): string =>
  value === undefined ? "nothing" : (JSON.stringify(value)?.slice(0, 120) ?? "nothing");

/** A sentence that names the log, plan, characteristic or verdict rather than a path in the JSON. */
function wordDifference(stored: SetupReport, difference: Difference): string {
  const what = `${show(difference.stored)} is stated, ${show(difference.fresh)} follows from the logs and the plan`;
  const entry = /^(characteristics|advice|signOffs|logs)\[(\d+)\]\.?(.*)$/.exec(difference.path);
  if (entry === null) return `${difference.path}: ${what}`;
  const [, list = "", index = "", rest = ""] = entry;
  const member = (
    stored as unknown as Record<string, { id?: string; kind?: string; name?: string }[] | undefined>
  )[list]?.[Number(index)];
  const noun =
    { characteristics: "characteristic", advice: "advice", signOffs: "sign-off", logs: "log" }[list] ?? list;
  return `${noun} ${member?.id ?? member?.name ?? member?.kind ?? index}, ${rest || "entry"}: ${what}`;
}
