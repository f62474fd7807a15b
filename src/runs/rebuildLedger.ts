import { randomUUID } from "node:crypto";
import { basename, join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import { namePart } from "../model/reportName.ts";
import { REPORT_SCHEMA, type SetupReport } from "../model/setupReport.ts";
import { Trouble } from "../model/trouble.ts";
import { archivedFiles, archiveLog } from "../records/archive.ts";
import type { ChainKeys } from "../records/chainKeys.ts";
import { decodeEnclosed } from "../records/decodeEnclosed.ts";
import { allRecords } from "../records/entries.ts";
import { makeFolders } from "../records/initWorkspace.ts";
import { type AcceptedLog, acceptRevision } from "../records/ledger/acceptRevision.ts";
import { chainOfReport, knownLog } from "../records/ledger/chains.ts";
import { mirrorEntries } from "../records/ledger/mirrorEntries.ts";
import { type Ledger, openLedger } from "../records/ledger/openLedger.ts";
import { endRun, startRun } from "../records/ledger/runs.ts";
import { sha256Of } from "../records/readLogs.ts";
import { isoSeconds } from "../records/sourceDate.ts";
import { dayOf, type Workspace } from "../records/workspace.ts";
import { keepMessages } from "./keepMessages.ts";
import { takeLock } from "./workspaceLock.ts";

export interface Rebuilt {
  readonly revisions: number;
  readonly logs: number;
  /** Archived logs that stand in no report: they are in the inbox again. */
  readonly again: number;
  /** Report files that could not be taken in, with the reason. */
  readonly leftOut: readonly { readonly name: string; readonly because: string }[];
  /** Where the old ledger is kept; null when there was none. */
  readonly kept: string | null;
}
interface Source {
  readonly name: string;
  readonly report: SetupReport;
  readonly jsonSha256: string;
}

/**
 * Makes the ledger anew from the reports and the archive. The old one is kept beside. Nothing in archive and reports is
 * changed; a log that a report encloses and the archive lacks is put into it, an archived log that stands in no report goes
 * back into the inbox. Throws Trouble `unreachable` while a watcher works here.
 */
export async function rebuildLedger(
  effects: DurableEffects,
  workspace: Workspace,
  tell: (sentence: string) => void,
): Promise<Rebuilt> {
  const { paths } = workspace;
  await makeFolders(effects, paths);
  const attempt = await takeLock(effects, paths);
  if ("owner" in attempt)
    throw new Trouble(
      "unreachable",
      `${paths.root}: a watcher works here (process ${attempt.owner.pid} on ${attempt.owner.host}); stop it first.`,
    );
  try {
    const fresh = join(paths.hidden, "rebuilt.db");
    await removeLedger(effects, fresh);
    const ledger = await openLedger(fresh);
    let result: Omit<Rebuilt, "kept">;
    try {
      const run = { id: randomUUID(), what: "rebuild", started: isoSeconds(effects.now()) };
      await startRun(ledger, run);
      result = await fill(effects, workspace, ledger);
      const records = await allRecords(effects, paths.records);
      await mirrorEntries(
        ledger,
        records.flatMap(({ entries }) => entries),
      );
      await keepMessages(effects, workspace, ledger, tell);
      const done = { accepted: result.logs, rejected: 0, reports: result.revisions };
      await endRun(ledger, run.id, { ended: isoSeconds(effects.now()), ...done });
    } finally {
      await ledger.close();
    }
    const kept = await exchange(effects, workspace, fresh);
    tell(sentence(result, kept));
    for (const { name, because } of result.leftOut) tell(`left out ${name}: ${because}.`);
    return { ...result, kept };
  } finally {
    await attempt.lock.release();
  }
}

function sentence({ revisions, logs, again }: Omit<Rebuilt, "kept">, kept: string | null): string {
  const old = kept === null ? "" : ` The old one is kept as ${basename(kept)}.`;
  const back = again === 0 ? "" : ` ${again} archived logs stood in no report and are in the inbox again.`;
  return `The ledger is made anew: ${revisions} revisions, ${logs} logs.${back}${old}`;
}

async function fill(
  effects: DurableEffects,
  workspace: Workspace,
  ledger: Ledger,
): Promise<Omit<Rebuilt, "kept">> {
  const archive = new Map<string, string>();
  for (const { sha256, archived } of await archivedFiles(effects, workspace.paths))
    if (!archive.has(sha256)) archive.set(sha256, archived);
  const { sources, leftOut } = await readSources(effects, workspace);
  let logs = 0;
  let revisions = 0;
  for (const source of sources) {
    const because = await takeIn({ effects, workspace, ledger, archive }, source, (count) => {
      logs += count;
    });
    if (because === null) revisions++;
    else leftOut.push({ name: source.name, because });
  }
  let again = 0;
  for (const [sha256, archived] of archive) {
    if ((await knownLog(ledger.tables, sha256)) !== null) continue;
    await backToInbox(effects, workspace, archived);
    again++;
  }
  return { revisions, logs, again, leftOut };
}

/** All reports of the folder in the order in which they were issued. */
async function readSources(
  effects: DurableEffects,
  { paths }: Workspace,
): Promise<{ sources: Source[]; leftOut: { name: string; because: string }[] }> {
  const sources: Source[] = [];
  const leftOut: { name: string; because: string }[] = [];
  for (const name of await effects.disk.names(paths.reports)) {
    if (!/_r[1-9]\d*\.json$/.test(name)) continue;
    const bytes = await effects.readFile(join(paths.reports, name));
    const report = parsed(bytes);
    if (report === null) leftOut.push({ name, because: "it is no whole setup report" });
    else if (name !== `${report.report.id}_r${report.report.revision}.json`)
      leftOut.push({ name, because: "its name is not that of the report in it" });
    else sources.push({ name, report, jsonSha256: sha256Of(bytes) });
  }
  sources.sort(
    (a, b) =>
      a.report.report.issued.localeCompare(b.report.report.issued) ||
      a.report.report.id.localeCompare(b.report.report.id) ||
      a.report.report.revision - b.report.report.revision,
  );
  return { sources, leftOut };
}

function parsed(bytes: Uint8Array): SetupReport | null {
  try {
    const report = JSON.parse(new TextDecoder().decode(bytes)) as SetupReport | null;
    return report?.schema === REPORT_SCHEMA && Array.isArray(report.logs) ? report : null;
  } catch {
    return null;
  }
}

interface Filling {
  readonly effects: DurableEffects;
  readonly workspace: Workspace;
  readonly ledger: Ledger;
  /** Path in the archive by hash. */
  readonly archive: Map<string, string>;
}
/** Takes one report in; the reason where it cannot be. */
async function takeIn(
  filling: Filling,
  { report, jsonSha256 }: Source,
  count: (logs: number) => void,
): Promise<string | null> {
  const { workspace, ledger } = filling;
  const { id, issued, revision } = report.report;
  const day = dayOf(Date.parse(issued), workspace.settings.timeZone);
  const chain = await chainOfReport(ledger.tables, id);
  const logs: AcceptedLog[] = [];
  for (const log of report.logs) {
    const known = await knownLog(ledger.tables, log.sha256);
    if (known !== null && known.reportId !== id) return `its log ${log.name} stands in ${known.reportId}`;
    if (known !== null) continue;
    const archived = filling.archive.get(log.sha256) ?? (await archiveEnclosed(filling, log, day));
    if (archived === null) return `its log ${log.name} is not in the archive`;
    const bytes = (await filling.effects.disk.look(join(workspace.paths.root, archived)))?.size ?? 0;
    logs.push({ name: log.name, sha256: log.sha256, bytes, archived, accepted: issued, measured: null });
  }
  await acceptRevision(ledger, {
    setupId: chain?.id ?? null,
    keys: keysOf(report),
    day,
    report,
    base: `reports/${id}_r${revision}`,
    jsonSha256,
    logs,
    elapsedMs: 0,
  });
  count(logs.length);
  return null;
}

function keysOf({ setup, plan }: SetupReport): ChainKeys {
  const { job, operation, setup: number, machine, pallet, serial } = setup;
  return {
    plan: plan.name,
    job: job ?? null,
    operation: operation ?? null,
    setup: number ?? null,
    machine: machine ?? null,
    pallet: pallet ?? null,
    serial: serial ?? null,
  };
}

async function archiveEnclosed(
  { effects, workspace, archive }: Filling,
  log: SetupReport["logs"][number],
  day: string,
): Promise<string | null> {
  const bytes = decodeEnclosed(log);
  if (bytes === null || sha256Of(bytes) !== log.sha256) return null;
  const path = await archiveLog(effects, workspace.paths, { name: log.name, bytes, sha256: log.sha256 }, day);
  archive.set(log.sha256, path);
  return path;
}

/** A log whose report never came to be is dropped again; its own name is the part behind the hash. */
async function backToInbox(effects: DurableEffects, { paths }: Workspace, archived: string): Promise<void> {
  const bytes = await effects.readFile(join(paths.root, archived));
  const [hash = "", ...rest] = basename(archived).split("_");
  const name = rest.join("_").replace(/^\.+/, "") || "log";
  const free = (await effects.exists(join(paths.inbox, name)))
    ? `${hash.slice(0, 8)}-${namePart(name)}`
    : name;
  await effects.writeFile(join(paths.inbox, free), bytes);
}

async function exchange(
  effects: DurableEffects,
  { paths }: Workspace,
  fresh: string,
): Promise<string | null> {
  const kept = `${paths.ledger}.before-${new Date(effects.now()).toISOString().replace(/\D/g, "").slice(0, 14)}`;
  const old = await effects.exists(paths.ledger);
  if (old) await effects.disk.rename(paths.ledger, kept);
  // The old log of writes belongs to the old file only.
  for (const part of ["-wal", "-shm"])
    if (await effects.exists(paths.ledger + part))
      await effects.disk.rename(paths.ledger + part, kept + part);
  await effects.disk.rename(fresh, paths.ledger);
  await effects.disk.syncFolder(paths.root);
  return old ? kept : null;
}

async function removeLedger(effects: DurableEffects, path: string): Promise<void> {
  for (const part of ["", "-wal", "-shm", "-journal"])
    if (await effects.exists(path + part)) await effects.disk.remove(path + part);
}
