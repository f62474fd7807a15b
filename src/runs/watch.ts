import { randomUUID } from "node:crypto";
import type { DurableEffects } from "../model/effects.ts";
import { Trouble } from "../model/trouble.ts";
import { damaged, isDamaged, type Ledger, LedgerDamaged, openLedger } from "../records/ledger/openLedger.ts";
import { oweRefusedAgain } from "../records/ledger/outbox.ts";
import { endRun, isUnused, startRun } from "../records/ledger/runs.ts";
import { type PdfMaker, pdfFor } from "../records/pdfFor.ts";
import { isoSeconds, sourceDateMs } from "../records/sourceDate.ts";
import type { Workspace } from "../records/workspace.ts";
import type { RunContext, Tally } from "./context.ts";
import type { Courier } from "./courier.ts";
import { heartbeat } from "./heartbeat.ts";
import { sendDue, startMessenger } from "./messenger.ts";
import { isPassing, passingText } from "./passing.ts";
import { removeUnfinished, settleReports } from "./recover.ts";
import { keepRetention } from "./retention.ts";
import { type RunLog, runLog } from "./runLog.ts";
import { standBy } from "./standBy.ts";
import { watchInbox } from "./watchInbox.ts";
import { workOff } from "./workOff.ts";
import type { WorkspaceLock } from "./workspaceLock.ts";

export interface WatchOptions {
  /** Ends when the inbox is empty. */
  readonly once: boolean;
  /** Stops cleanly after the revision that is being made. */
  readonly signal: AbortSignal;
  /** Prints a sentence for a person. */
  readonly tell: (sentence: string) => void;
  /** Also tries messages again that were refused. */
  readonly resend?: boolean;
  /** What brings messages; else the network and commands. */
  readonly courier?: Courier;
  /** How the ledger is opened; tests open one that breaks. */
  readonly open?: (path: string) => Promise<Ledger>;
  /** What prints; else the browser that is found. */
  readonly printer?: () => PdfMaker;
}
export type WatchResult = Readonly<Tally>;

/**
 * The inbox, until stopped or empty: logs are claimed, read, gathered by setup, reported, archived, and done when the ledger
 * has them. What an earlier run left is finished first. Throws Trouble `unreachable` when with `once` a disk or share stays
 * away, or when the ledger is damaged.
 */
export async function watch(
  effects: DurableEffects,
  workspace: Workspace,
  options: WatchOptions,
): Promise<WatchResult> {
  const { paths } = workspace;
  const tally: Tally = { accepted: 0, rejected: 0, duplicates: 0, reports: [] };
  // Checked before anything is touched.
  sourceDateMs(effects.environment);
  const run = randomUUID();
  const log = runLog(effects, paths, run, options.tell);
  const standing = await standBy(effects, workspace, options, log);
  if (standing === null) return tally;
  try {
    const opened = await openedLedger({ effects, workspace, options, log });
    const ledger = reopening(opened, () => (options.open ?? openLedger)(paths.ledger));
    try {
      await withLedger({ effects, workspace, options, ledger, log, ...standing }, tally);
      if (options.once) await sendLast({ effects, workspace, options, ledger, log, ...standing });
    } finally {
      await closeQuietly(ledger);
    }
  } catch (error) {
    throw isDamaged(error) && !(error instanceof LedgerDamaged) ? damaged(paths.ledger, error) : error;
  } finally {
    await standing.lock.release().catch(ignoreDisk);
  }
  return tally;
}

interface Opened {
  readonly effects: DurableEffects;
  readonly workspace: Workspace;
  readonly options: WatchOptions;
  readonly ledger: ReopeningLedger;
  readonly log: RunLog;
  readonly lock: WorkspaceLock;
  readonly crashed: boolean;
}

/** With `once` messages go last and without the lock: a slow target must not hold up the reports of the next run. */
async function sendLast({ effects, workspace, options, ledger, log, lock }: Opened): Promise<void> {
  if (workspace.settings.notify.length === 0) return;
  await lock.release().catch(ignoreDisk);
  await sendDue({ effects, workspace, ledger, log, courier: options.courier }, options.signal);
}

async function withLedger(opened: Opened, tally: Tally): Promise<void> {
  const { effects, workspace, options, ledger, log, lock, crashed } = opened;
  const runNow = (): number => sourceDateMs(effects.environment) ?? effects.now();
  const pulse = heartbeat(effects, workspace.paths, lock.owner);
  const messenger = options.once
    ? null
    : startMessenger({ effects, workspace, ledger, log, courier: options.courier });
  const context: RunContext = {
    effects,
    workspace,
    ledger,
    reopen: () => ledger.reopen(),
    log,
    runNow,
    owed: () => messenger?.wake(),
    beat: (state) => pulse.beat(state, { done: tally.accepted + tally.rejected + tally.duplicates }),
    printer: options.printer ?? pdfFor,
    signal: options.signal,
  };
  await log.note("started", `Watching ${workspace.paths.inbox}${options.once ? " until it is empty" : ""}.`, {
    pid: lock.owner.pid,
    once: options.once,
  });
  try {
    if (options.resend) await oweAgain(context);
    await finishLeft(context, tally, crashed);
    await keepRetention(context);
    await watchInbox(context, tally, { once: options.once, lock });
  } finally {
    await messenger?.stop();
    const { accepted, rejected, reports } = tally;
    await context.beat("ended");
    await endRun(ledger, log.run, {
      ended: isoSeconds(runNow()),
      accepted,
      rejected,
      reports: reports.length,
    }).catch(ignoreDisk);
    await log.note(
      "ended",
      `Ended: ${accepted} logs accepted, ${rejected} rejected, ${reports.length} revisions.`,
      { ...tally, reports: reports.length },
    );
  }
}

async function oweAgain({ ledger, effects, log, owed }: RunContext): Promise<void> {
  const count = await oweRefusedAgain(ledger, new Date(effects.now()).toISOString());
  owed();
  await log.note("started", `${count} refused messages are tried again.`, { count });
}

/** Finishes or undoes what an earlier run left when it was cut off. A disk that refuses is waited for in the watching. */
async function finishLeft(context: RunContext, tally: Tally, crashed: boolean): Promise<void> {
  try {
    const removed = await removeUnfinished(context);
    if (removed > 0 || crashed)
      await context.log.note(
        "recovered",
        `The last run was cut off; ${removed} unfinished files removed, its claims go first.`,
        { removed },
      );
    await workOff(context, tally, new Map());
    await settleReports(context, crashed || removed > 0);
  } catch (error) {
    if (!isPassing(error)) throw error;
    await context.log.note("waiting", `Waiting: ${passingText(error)}.`, { error: String(error) });
  }
}

/** The ledger, looked through and with this run noted; waits while another program or the disk is in the way. */
async function openedLedger({
  effects,
  workspace,
  options,
  log,
}: Omit<Opened, "ledger" | "lock" | "crashed">): Promise<Ledger> {
  const path = workspace.paths.ledger;
  const open = options.open ?? openLedger;
  const run = {
    id: log.run,
    what: options.once ? "watch --once" : "watch",
    started: isoSeconds(sourceDateMs(effects.environment) ?? effects.now()),
  };
  for (let pause = FIRST_PAUSE_MS; ; pause = Math.min(2 * pause, LONGEST_PAUSE_MS)) {
    let ledger: Ledger | null = null;
    try {
      const beaten = await effects.exists(workspace.paths.heartbeat);
      if (beaten && ((await effects.disk.look(path))?.size ?? 0) === 0)
        throw damaged(path, new Error(NOT_THE_ONE));
      ledger = await open(path);
      const wrong = ledger.check();
      if (wrong !== null) throw damaged(path, new Error(wrong));
      // Whoever has beaten here had noted a run before: a ledger without one is not the one that was.
      if (beaten && (await isUnused(ledger))) throw damaged(path, new Error(NOT_THE_ONE));
      await startRun(ledger, run);
      return ledger;
    } catch (error) {
      if (ledger !== null) await closeQuietly(ledger);
      if (error instanceof LedgerDamaged || !isPassing(error)) throw error;
      const text = passingText(error).replace(/\.$/, "");
      if (options.once && pause > MOST_PAUSE_ONCE_MS) throw new Trouble("unreachable", `${text}.`);
      await log.note("waiting", `Waiting ${pause / 1000} s: ${text}.`, { error: String(error) });
      await effects.sleep(pause, options.signal);
      if (options.signal.aborted) throw new Trouble("unreachable", `${text}.`);
    }
  }
}
const NOT_THE_ONE = "it is empty or gone although this workspace has been in use";
const FIRST_PAUSE_MS = 500;
const LONGEST_PAUSE_MS = 60_000;
const MOST_PAUSE_ONCE_MS = 2000;

interface ReopeningLedger extends Ledger {
  reopen(): Promise<void>;
}
function reopening(first: Ledger, open: () => Promise<Ledger>): ReopeningLedger {
  let now = first;
  return {
    get tables() {
      return now.tables;
    },
    transact: (work) => now.transact(work),
    check: () => now.check(),
    close: () => now.close(),
    async reopen() {
      const next = await open();
      await closeQuietly(now);
      now = next;
    },
  };
}

/** What is committed stays committed, also where the last tidying of the ledger fails. */
async function closeQuietly(ledger: Ledger): Promise<void> {
  await ledger.close().catch(ignoreDisk);
}
function ignoreDisk(error: unknown): void {
  if (!isPassing(error) && !isDamaged(error)) throw error;
}
