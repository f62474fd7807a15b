import { join } from "node:path";
import type { Effects } from "../model/effects.ts";
import { furtherReportId } from "../model/reportName.ts";
import type { SetupReport } from "../model/setupReport.ts";
import { read } from "./readLogs.ts";

/** What became of one report in its folder. */
export interface StoredReport {
  readonly report: SetupReport;
  /** Paths without ending, so that `.json`, `.html` and `.pdf` can be put behind. */
  readonly base: string;
  /** `kept`: a revision with the same inputs was there and is left alone. */
  readonly status: "written" | "kept";
}

/** The report as the bytes of its JSON file: the same report always gives the same bytes. */
export const reportJson = (report: SetupReport): string => `${JSON.stringify(report, null, 1)}\n`;

/**
 * Finds the report's place among the revisions in `folder`: the latest one with the same inputs is kept; otherwise the
 * report gets the next number and says what it replaces. Nothing is written here.
 */
export async function placeReport(
  effects: Effects,
  folder: string,
  made: SetupReport,
  find: FindRevisions = revisionsListed(),
): Promise<StoredReport> {
  const report = find.listed ? await underOwnName(effects, folder, made) : made;
  const revisions = await find(effects, folder, report.report.id);
  const latest = revisions.at(-1);
  if (latest === undefined) return { report, base: baseOf(folder, report), status: "written" };
  const stored = await storedOrNull(effects, join(folder, `${report.report.id}_r${latest}.json`));
  if (stored !== null && inputsOf(stored) === inputsOf(report))
    return { report: stored, base: baseOf(folder, stored), status: "kept" };
  const next = { ...report, report: { ...report.report, revision: latest + 1, replaces: latest } };
  return { report: next, base: baseOf(folder, next), status: "written" };
}

/**
 * The report, under a further name where this disk takes its name for that of another report: one without upper and lower
 * case would put `k-1` over `K-1`.
 */
async function underOwnName(effects: Effects, folder: string, report: SetupReport): Promise<SetupReport> {
  const { id } = report.report;
  const stored = await storedOrNull(effects, join(folder, `${id}_r1.json`));
  const theirs = stored?.report?.id;
  if (theirs === undefined || theirs === id || theirs.toLowerCase() !== id.toLowerCase()) return report;
  return { ...report, report: { ...report.report, id: furtherReportId(id, report.setup) } };
}

/** How the revisions of a report id are found, rising: by listing the folder, or from what the caller knows. */
export interface FindRevisions {
  (effects: Effects, folder: string, id: string): Promise<readonly number[]>;
  /** Names were taken from the folder, which may not tell upper from lower case. */
  readonly listed?: true;
}

/**
 * Finds revisions behind the one that the caller knows of (0 for none) without listing a folder of thousands.
 */
export const revisionsAfter =
  (known: number): FindRevisions =>
  async (effects, folder, id) => {
    const found = known > 0 ? [known] : [];
    for (let next = known + 1; await effects.exists(join(folder, `${id}_r${next}.json`)); next++)
      found.push(next);
    return found;
  };

/** Null for a report that is no JSON any more or was taken away: it has no inputs to compare, its number stays taken. */
async function storedOrNull(effects: Effects, path: string): Promise<SetupReport | null> {
  if (!(await effects.exists(path))) return null;
  try {
    return await readReport(effects, path);
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

/** Finds revisions in a folder that is listed once, when the first is asked for: for reports of different ids. */
export function revisionsListed(): FindRevisions {
  let listed: Promise<ReadonlyMap<string, readonly number[]>> | null = null;
  const find = async (effects: Effects, folder: string, id: string): Promise<readonly number[]> => {
    listed ??= listRevisions(effects, folder);
    return (await listed).get(id) ?? [];
  };
  return Object.assign(find, { listed: true as const });
}

async function listRevisions(effects: Effects, folder: string): Promise<Map<string, number[]>> {
  const found = new Map<string, number[]>();
  if (!(await effects.exists(folder))) return found;
  for (const { name } of await effects.listFolder(folder)) {
    const [, id = "", revision = ""] = /^(.+)_r(\d+)\.json$/s.exec(name) ?? [];
    if (id !== "")
      found.set(
        id,
        [...(found.get(id) ?? []), Number(revision)].sort((a, b) => a - b),
      );
  }
  return found;
}

/** Reads a stored report. Throws Trouble `unreachable`, or SyntaxError for a file that is no JSON. */
export async function readReport(effects: Effects, path: string): Promise<SetupReport> {
  return JSON.parse(new TextDecoder().decode(await read(effects, path))) as SetupReport;
}

const baseOf = (folder: string, { report }: SetupReport): string =>
  join(folder, `${report.id}_r${report.revision}`);

/** The hashes of plan and logs, in an order that does not depend on the order the logs were given; and what the page is asked for. */
const inputsOf = ({ plan, logs, show, showAlso, language }: SetupReport): string =>
  [
    plan.sha256,
    ...logs.map((log) => `${log.sha256} ${log.name}`).sort(),
    `${show} ${showAlso ?? ""} ${language}`,
  ].join("\n");
