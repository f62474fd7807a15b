import { Trouble } from "../model/trouble.ts";
import { makeFolders } from "../records/initWorkspace.ts";
import { isLedgerDiskTrouble } from "../records/ledger/openLedger.ts";
import { dayOf } from "../records/workspace.ts";
import { claim, openClaims, putBack } from "./claims.ts";
import type { RunContext, Tally } from "./context.ts";
import { type InboxEvents, inboxEvents } from "./inboxEvents.ts";
import { type InboxFiles, inboxFiles } from "./inboxFiles.ts";
import { KeptAside } from "./keptAside.ts";
import { NightClock } from "./nightClock.ts";
import { isPassing, passingText } from "./passing.ts";
import { Settling } from "./settling.ts";
import { type ReadTroubles, workOff } from "./workOff.ts";
import type { WorkspaceLock } from "./workspaceLock.ts";

interface Watching {
  readonly once: boolean;
  readonly lock: WorkspaceLock;
}
/** Between two looks while files come to rest. */
const SETTLING_MS = 200;
/** Events may get lost; so often the inbox is looked at anyway. */
const LOOK_ANYWAY_MS = 10_000;
const FIRST_PAUSE_MS = 500;
const LONGEST_PAUSE_MS = 60_000;
/** With `once` waiting has an end: after this many tries in a row without success. */
const MOST_TRIES_ONCE = 4;

/** Looks, claims, works off, waits; until stopped, or with `once` until nothing is left. */
export async function watchInbox(context: RunContext, tally: Tally, watching: Watching): Promise<void> {
  const { effects, workspace, signal } = context;
  const { watch } = workspace.settings;
  const shared =
    watch.polling === "auto"
      ? await effects.disk.isShared(workspace.paths.inbox).catch(() => true)
      : watch.polling === "always";
  const everyMs = shared ? watch.pollEveryMs : LOOK_ANYWAY_MS;
  const events = watching.once ? null : inboxEvents(workspace.paths.inbox, shared ? { everyMs } : null);
  const queue = new Queue(context, tally);
  const night = new NightClock(context);
  let failures = 0;
  try {
    while (!signal.aborted) {
      try {
        const left = await queue.round();
        if (failures > 0) await context.log.note("working-again", "It works again.");
        failures = 0;
        if (left === 0 && watching.once && (await queue.lookAside()) === 0) return;
        if (!watching.once) await night.look();
        await context.beat("watching");
        await pause(context, events, left === 0 ? everyMs : SETTLING_MS);
      } catch (error) {
        await waitOut(context, error, ++failures, watching.once);
      }
      if (!(await stillOurs(context, watching))) return;
    }
    await queue.lookAside().catch(ignorePassing);
  } finally {
    await events?.close();
  }
}

/** One look at the inbox and the work that follows from it. */
class Queue {
  readonly #context: RunContext;
  readonly #tally: Tally;
  readonly #settling = new Settling();
  readonly #troubles: ReadTroubles = new Map();
  readonly #aside: KeptAside;
  #told = "";
  constructor(context: RunContext, tally: Tally) {
    this.#context = context;
    this.#tally = tally;
    this.#aside = new KeptAside(context);
  }

  /** What grew while it lay aside goes back into the inbox now, if only for the next run. How many files. */
  lookAside(): Promise<number> {
    return this.#aside.look(true);
  }

  /** How many files are still to be done. */
  async round(): Promise<number> {
    const { effects, workspace, signal } = this.#context;
    await this.#aside.look();
    const found = await inboxFiles(effects, workspace.paths, workspace.settings);
    await this.#tellLeft(found);
    const { ready, waiting } = this.#settling.look(found.files, effects.ticks());
    const day = dayOf(this.#context.runNow(), workspace.settings.timeZone);
    let held: unknown = null;
    const came = new Set<string>();
    for (const entry of ready) {
      if (signal.aborted) break;
      await this.#context.beat("claiming");
      const claimed = await claim(effects, workspace.paths, entry, day).catch((error: unknown) => {
        ignorePassing(error);
        held = error;
        return null;
      });
      if (claimed !== null) came.add(claimed.id);
    }
    await workOff(this.#context, this.#tally, this.#troubles, came);
    // A file that another program holds is waited for when the others are done.
    if (held !== null) throw held;
    const claimed = (await openClaims(effects, workspace.paths)).length;
    // What was ready is done or claimed; what came while working is seen at the next look.
    return waiting + claimed + (ready.length > 0 ? 1 : 0);
  }

  /** What is not touched is said once. */
  async #tellLeft({ folders, old }: InboxFiles): Promise<void> {
    const told = JSON.stringify([folders, old]);
    if (told === this.#told) return;
    this.#told = told;
    const { log, workspace } = this.#context;
    if (folders.length > 0)
      await log.note(
        "left-alone",
        `Folders in the inbox are not looked into: ${folders.slice(0, 5).join(", ")}. Drop the logs themselves.`,
        { folders },
      );
    if (old > 0)
      await log.note(
        "left-alone",
        `${old} files in the inbox are older than ${workspace.settings.watch.leaveOlderThanDays} days and stay there (watch: leave-older-than in plinth.yaml).`,
        { old },
      );
  }
}

async function pause({ effects, signal }: RunContext, events: InboxEvents | null, ms: number): Promise<void> {
  if (events === null) await effects.sleep(ms, signal);
  else if (ms <= SETTLING_MS) await effects.sleep(ms, signal);
  else await events.next(ms, signal);
}

/** Waits longer each time. What is claimed stays claimed; with `once` it goes back into the inbox in the end. */
async function waitOut(context: RunContext, error: unknown, failures: number, once: boolean): Promise<void> {
  if (!isPassing(error)) throw error;
  const { effects, workspace, log, signal } = context;
  const text = passingText(error).replace(/\.$/, "");
  if (once && failures >= MOST_TRIES_ONCE) {
    await giveBack(context).catch(ignorePassing);
    throw new Trouble(
      "unreachable",
      `${text}. Nothing is lost: what was not done is in the inbox or still claimed; run it again when this is mended.`,
    );
  }
  const ms = Math.min(FIRST_PAUSE_MS * 2 ** (failures - 1), LONGEST_PAUSE_MS);
  await log.note("waiting", `Waiting ${ms / 1000} s: ${text}.`, { error: String(error), failures });
  await context.beat("waiting");
  await effects.sleep(ms, signal);
  // Only where the workspace is: on the bare mount point of a share there must not grow a second one.
  if (await effects.exists(workspace.paths.settings).catch(() => false))
    await makeFolders(effects, workspace.paths).catch(ignorePassing);
  // A file that was open when its share went away does not come back with it.
  if (isLedgerDiskTrouble(error)) await context.reopen().catch(ignorePassing);
}
async function giveBack({ effects, workspace }: RunContext): Promise<void> {
  for (const claimed of await openClaims(effects, workspace.paths))
    await putBack(effects, workspace.paths, claimed);
}
function ignorePassing(error: unknown): void {
  if (!isPassing(error)) throw error;
}

/** A lock that somebody else has taken ends the watching: two must not work here. */
async function stillOurs(context: RunContext, { lock }: Watching): Promise<boolean> {
  const { effects, workspace, log } = context;
  // A share that is away has taken the lock with it; it comes back with the share.
  const here = (): Promise<boolean> => effects.exists(workspace.paths.settings);
  const held = await Promise.resolve()
    .then(async () => (await lock.held()) || !(await here()))
    .catch((error: unknown) => {
      ignorePassing(error);
      return true;
    });
  if (!held) await log.note("ended", "The lock of this workspace is gone or another watcher's; stopping.");
  return held;
}
