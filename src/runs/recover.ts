import { join } from "node:path";
import type { SetupReport } from "../model/setupReport.ts";
import { REPORT_SCHEMA } from "../model/setupReport.ts";
import { isAbandoned } from "../records/durableEffects.ts";
import { adoptRevision } from "../records/ledger/acceptRevision.ts";
import { chainOfReport, hasRevision, knownLog } from "../records/ledger/chains.ts";
import { reportMessages } from "../records/messages.ts";
import { sha256Of } from "../records/readLogs.ts";
import { openClaims } from "./claims.ts";
import type { RunContext } from "./context.ts";

/** Removes unfinished files whose writer is gone. To be called before anything is written. */
export async function removeUnfinished(context: RunContext): Promise<number> {
  const { effects, workspace } = context;
  const { paths } = workspace;
  const claims = await openClaims(effects, paths);
  const days = [...new Set(claims.map(({ day }) => join(paths.archive, ...day.split("-"))))];
  const records = (await namesIn(context, paths.records)).map((name) => join(paths.records, name));
  const folders = [
    paths.root,
    paths.hidden,
    paths.reports,
    paths.digests,
    paths.rejected,
    ...days,
    ...records,
  ];
  let removed = 0;
  for (const folder of folders)
    for (const name of await namesIn(context, folder))
      if (isAbandoned(name)) {
        await effects.disk.remove(join(folder, name));
        removed++;
      }
  return removed;
}

/** Names in a folder; none where there is no such folder. */
async function namesIn({ effects }: RunContext, folder: string): Promise<readonly string[]> {
  const entry = await effects.disk.look(folder);
  return entry?.kind === "folder" ? effects.disk.names(folder) : [];
}

const REVISION = /^(.+)_r([1-9]\d*)\.(json|html|pdf)$/;

/**
 * Settles report files that a crash left beside the ledger, once the claims are worked off: a whole revision whose logs
 * all stand in its chain is taken into the ledger; pages without their record, after a crash, are half a revision and go.
 * Reports that are not the ledger's (made by hand into this folder) are left alone.
 */
export async function settleReports(context: RunContext, crashed: boolean): Promise<void> {
  const { effects, workspace, ledger, log } = context;
  const { reports } = workspace.paths;
  const names = new Set(await namesIn(context, reports));
  for (const name of names) {
    const [, id = "", revision = "", ending] = REVISION.exec(name) ?? [];
    if (ending === undefined || (await hasRevision(ledger.tables, `reports/${id}_r${revision}`))) continue;
    if (ending === "json") {
      if (await adopt(context, join(reports, name), id))
        await log.note("adopted", `${id}_r${revision}: whole, but not in the ledger; taken in.`, {
          report: id,
        });
    } else if (crashed && !names.has(`${id}_r${revision}.json`)) {
      await effects.disk.remove(join(reports, name));
      await log.note("recovered", `${name}: half of a revision that was cut off; removed.`, { name });
    }
  }
}

async function adopt(
  { effects, ledger, workspace, owed }: RunContext,
  path: string,
  id: string,
): Promise<boolean> {
  const chain = await chainOfReport(ledger.tables, id);
  if (chain === null) return false;
  const bytes = await effects.readFile(path);
  const report = parsed(bytes);
  if (report === null) return false;
  for (const { sha256 } of report.logs)
    if ((await knownLog(ledger.tables, sha256))?.reportId !== id) return false;
  const revision = {
    report,
    base: `reports/${id}_r${report.report.revision}`,
    jsonSha256: sha256Of(bytes),
  };
  const messages = await reportMessages(effects, workspace, revision);
  await adoptRevision(ledger, chain.id, { ...revision, messages });
  owed();
  return true;
}

function parsed(bytes: Uint8Array): SetupReport | null {
  try {
    const report = JSON.parse(new TextDecoder().decode(bytes)) as SetupReport | null;
    return report?.schema === REPORT_SCHEMA && Array.isArray(report.logs) ? report : null;
  } catch {
    return null;
  }
}
