import { resolve } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import type { NotifyTarget } from "../model/notify.ts";
import { isDamaged, type Ledger } from "../records/ledger/openLedger.ts";
import { beginTry, endTry, nextDue, nextDueTime, type Owed } from "../records/ledger/outbox.ts";
import type { Workspace } from "../records/workspace.ts";
import type { Courier, Delivery } from "./courier.ts";
import { parcelOf } from "./parcel.ts";
import { isPassing, passingText } from "./passing.ts";
import { realCourier } from "./realCourier.ts";
import type { RunLog } from "./runLog.ts";

export interface MessengerContext {
  readonly effects: DurableEffects;
  readonly workspace: Workspace;
  readonly ledger: Ledger;
  readonly log: RunLog;
  /** What brings messages; else the network and commands. */
  readonly courier?: Courier | undefined;
}
export interface Messenger {
  /** Something may be owed: looks at once. */
  wake(): void;
  /** Breaks off what is on its way (it is tried again with the same key) and ends. */
  stop(): Promise<void>;
}

const FIRST_PAUSE_MS = 2000;
const LONGEST_PAUSE_MS = 3_600_000;
/** After its time-out a try may need so long to be noted; then it counts as cut off. */
const NOTING_MS = 5000;
/** Somebody else may owe something, or mend what hinders. */
const LOOK_ANYWAY_MS = 60_000;

/** Pause after so many tries in a row that did not arrive: twice as long each time, an hour at most. No chance in it. */
export const pauseMs = (failures: number): number =>
  Math.min(FIRST_PAUSE_MS * 2 ** Math.min(failures - 1, 20), LONGEST_PAUSE_MS);

/** Tries everything that is due once, each target by itself and in the order in which it came to be owed. */
export async function sendDue(context: MessengerContext, signal: AbortSignal): Promise<void> {
  const rounds = context.workspace.settings.notify.map((target) =>
    new Line(context, target).round(signal).catch((error: unknown) => troubled(context, error)),
  );
  await Promise.all(rounds);
}

/**
 * Sends what is owed while reports are made, apart from them: each target has a line of its own, so that one that is slow or
 * dead holds up neither reports nor other targets.
 */
export function startMessenger(context: MessengerContext): Messenger {
  const stopping = new AbortController();
  const lines = context.workspace.settings.notify.map((target) => {
    const line = new Line(context, target);
    return { line, ended: line.run(stopping.signal) };
  });
  return {
    wake: () => {
      for (const { line } of lines) line.wake();
    },
    async stop() {
      stopping.abort();
      await Promise.all(lines.map(({ ended }) => ended));
    },
  };
}

/** The messages to one target. */
class Line {
  readonly #context: MessengerContext;
  readonly #target: NotifyTarget;
  readonly #courier: Courier;
  #failures = 0;
  /** Not before this time, whatever is due: the target did not answer the last time. */
  #pausedUntil = 0;
  #alarm = new AbortController();
  #woken = false;

  constructor(context: MessengerContext, target: NotifyTarget) {
    this.#context = context;
    this.#target = target;
    const { effects, workspace } = context;
    this.#courier = context.courier ?? realCourier(effects, workspace.paths, secretVariables(workspace));
  }

  wake(): void {
    this.#woken = true;
    this.#alarm.abort();
  }

  async run(stop: AbortSignal): Promise<void> {
    const { effects } = this.#context;
    while (!stop.aborted) {
      this.#woken = false;
      this.#alarm = new AbortController();
      const wait = await this.#roundAndWait(stop).catch(async (error: unknown) => {
        await troubled(this.#context, error);
        return LOOK_ANYWAY_MS;
      });
      // A target in a pause is not asked before its time because something more is owed to it.
      const signal = this.#failures > 0 ? stop : AbortSignal.any([stop, this.#alarm.signal]);
      if (!this.#woken || this.#failures > 0) await effects.sleep(wait, signal);
    }
  }

  async #roundAndWait(stop: AbortSignal): Promise<number> {
    await this.round(stop);
    const { effects, ledger } = this.#context;
    const next = await nextDueTime(ledger.tables, this.#target.name);
    const due = Math.max(next === null ? Number.POSITIVE_INFINITY : Date.parse(next), this.#pausedUntil);
    return Math.max(0, Math.min(due - effects.now(), LOOK_ANYWAY_MS));
  }

  /** What is due, oldest first, until one does not arrive. */
  async round(stop: AbortSignal): Promise<void> {
    const { effects, ledger } = this.#context;
    while (!stop.aborted && effects.now() >= this.#pausedUntil) {
      const owed = await nextDue(ledger.tables, this.#target.name, isoMs(effects.now()));
      if (owed === null) return;
      const until = effects.now() + this.#target.timeoutMs + NOTING_MS;
      if (!(await beginTry(ledger, owed, isoMs(until)))) continue;
      const delivery = await this.#try(owed, stop);
      // What was broken off because we stop says nothing of the target.
      if (delivery.how === "again" && stop.aborted)
        return endTry(ledger, owed, { again: isoMs(effects.now()), because: delivery.because });
      await this.#note(owed, delivery);
      if (delivery.how === "again") return;
    }
  }

  async #try(owed: Owed, signal: AbortSignal): Promise<Delivery> {
    const { effects, workspace } = this.#context;
    try {
      const secret = await secretOf(effects, workspace, this.#target);
      if (typeof secret === "string") return { how: "again", because: secret, afterMs: 0 };
      const parcel = await parcelOf(effects, workspace, owed);
      if ("how" in parcel) return parcel;
      const once = { nowMs: effects.now(), attempt: owed.attempts + 1, secret, signal };
      return await this.#courier(this.#target, parcel, once);
    } catch (error) {
      if (!isPassing(error)) throw error;
      return { how: "again", because: passingText(error), afterMs: 0 };
    }
  }

  async #note(owed: Owed, delivery: Delivery): Promise<void> {
    const { effects, ledger, log } = this.#context;
    const { name } = this.#target;
    const attempt = owed.attempts + 1;
    const facts = { target: name, subject: owed.subject, key: owed.key, attempt };
    const now = effects.now();
    if (delivery.how === "arrived") {
      await endTry(ledger, owed, { sent: isoMs(now) });
      this.#failures = 0;
      const tries = attempt > 1 ? ` (try ${attempt})` : "";
      return log.note("told", `Told ${name}: ${owed.subject}${tries}.`, facts);
    }
    const { because } = delivery;
    if (delivery.how === "refused") {
      await endTry(ledger, owed, { refused: isoMs(now), because });
      this.#failures = 0;
      const sentence = `${name} does not take ${owed.subject}: ${because}. It is not sent again; plinth doctor shows it, plinth watch --resend tries it once more.`;
      return log.note("refused-message", sentence, { ...facts, because });
    }
    this.#failures++;
    // The message waits by its own count, the target by the count of all in a row.
    this.#pausedUntil = now + Math.max(pauseMs(this.#failures), delivery.afterMs);
    const wait = Math.max(pauseMs(attempt), delivery.afterMs);
    await endTry(ledger, owed, { again: isoMs(now + wait), because });
    const sentence = `${name} was not told of ${owed.subject}: ${because}. It stays owed; next try in ${wait / 1000} s.`;
    return log.note("not-told", sentence, { ...facts, because, waitMs: wait });
  }
}

const isoMs = (ms: number): string => new Date(ms).toISOString();

const secretVariables = ({ settings }: Workspace): string[] =>
  settings.notify.flatMap(({ hook }) =>
    "url" in hook && hook.secret !== null && "environment" in hook.secret ? [hook.secret.environment] : [],
  );

/** The secret of a target's signature, null where it wants none; a sentence where it cannot be had. */
async function secretOf(
  effects: DurableEffects,
  { paths }: Workspace,
  { hook }: NotifyTarget,
): Promise<Uint8Array | null | string> {
  if (!("url" in hook) || hook.secret === null) return null;
  if ("environment" in hook.secret) {
    const value = effects.environment[hook.secret.environment] ?? "";
    if (value === "")
      return `the environment variable ${hook.secret.environment}, which holds its secret, is not set`;
    return new TextEncoder().encode(value);
  }
  const path = resolve(paths.root, hook.secret.file);
  if (!(await effects.exists(path))) return `the file of its secret, ${hook.secret.file}, is not there`;
  const bytes = await effects.readFile(path);
  // An editor ends the file with a line end; the secret has none.
  const text = new TextDecoder("latin1").decode(bytes).replace(/\r?\n$/, "");
  if (text === "") return `the file of its secret, ${hook.secret.file}, is empty`;
  return bytes.subarray(0, text.length);
}

/** Trouble with messages never stops the reports: it is told, and tried again. */
async function troubled({ log }: MessengerContext, error: unknown): Promise<void> {
  if (isPassing(error))
    await log.note("waiting", `Messages wait: ${passingText(error)}.`, { error: String(error) });
  // The watcher ends a damaged ledger's run by itself, and has opened one anew that was away.
  else if (isDamaged(error) || /driver has already been destroyed/.test(String(error))) return;
  else {
    const stack = error instanceof Error ? error.stack : null;
    await log.note("bug", `Messages could not be sent: ${error instanceof Error ? error.message : error}.`, {
      stack,
    });
  }
}
