import { randomUUID } from "node:crypto";
import type { Digest } from "../model/digest.ts";
import type { DurableEffects } from "../model/effects.ts";
import { digestOf } from "../records/digest.ts";
import { allRecords, Entries } from "../records/entries.ts";
import { mirrorEntries } from "../records/ledger/mirrorEntries.ts";
import { openLedger } from "../records/ledger/openLedger.ts";
import { outboxState, oweDigest, type TargetState } from "../records/ledger/outbox.ts";
import { digestMessages } from "../records/messages.ts";
import { type PublishedBoard, publishBoard } from "../records/publishBoard.ts";
import { type PublishedDigest, publishDigest } from "../records/publishDigest.ts";
import { sourceDateMs } from "../records/sourceDate.ts";
import { dayOf, type Workspace } from "../records/workspace.ts";
import type { RunContext } from "./context.ts";
import type { Courier } from "./courier.ts";
import { sendDue } from "./messenger.ts";
import { runLog } from "./runLog.ts";

export interface NightlyResult extends PublishedDigest {
  readonly digest: Digest;
  readonly board: PublishedBoard;
  /** What each target was told and what not. */
  readonly told: readonly TargetState[];
}

export interface NightlyOptions {
  /** YYYY-MM-DD; null: today. */
  readonly date: string | null;
  /** Prints a sentence for a person. */
  readonly tell?: (sentence: string) => void;
  readonly courier?: Courier;
}

/** The digest of a day, and the board of all days: today in the workspace's time zone where none is named (SOURCE_DATE_EPOCH counts as the clock). */
export async function nightly(
  effects: DurableEffects,
  workspace: Workspace,
  { date, tell = () => undefined, courier }: NightlyOptions,
): Promise<NightlyResult> {
  const now = sourceDateMs(effects.environment) ?? effects.now();
  const ledger = await openLedger(workspace.paths.ledger);
  try {
    const night = await makeNight(
      { effects, workspace, ledger },
      date ?? dayOf(now, workspace.settings.timeZone),
    );
    const run = randomUUID();
    const { date: day, counts } = night.digest;
    // The caller prints what the night has made; here it is only written down.
    await runLog(effects, workspace.paths, run, () => undefined).note("digest", `Digest of ${day}.`, {
      date: day,
      status: night.status,
      counts,
    });
    const log = runLog(effects, workspace.paths, run, tell);
    const signal = new AbortController().signal;
    await sendDue({ effects, workspace, ledger, log, courier }, signal);
    return { ...night, told: await outboxState(ledger.tables) };
  } finally {
    await ledger.close();
  }
}
/** Digest and board of a day, and what is owed of them. */
export async function makeNight(
  { effects, workspace, ledger }: Pick<RunContext, "effects" | "workspace" | "ledger">,
  date: string,
): Promise<Omit<NightlyResult, "told">> {
  const { paths, settings } = workspace;
  const records = await allRecords(effects, paths.records);
  const entries = new Entries(records.flatMap((record) => record.entries));
  await mirrorEntries(ledger, entries.all());
  const digest = await digestOf(ledger.tables, entries, {
    date,
    timeZone: settings.timeZone,
    shop: settings.shop,
  });
  const published = await publishDigest(effects, digest, {
    folder: paths.digests,
    page: settings.page,
    show: settings.show ?? "mm",
    language: settings.language ?? "en",
  });
  const board = await publishBoard(effects, {
    reports: paths.reports,
    records: paths.records,
    language: settings.language ?? "en",
    shop: settings.shop,
    timeZone: settings.timeZone,
  });
  await oweDigest(ledger, await digestMessages(effects, workspace, digest));
  return { ...published, digest, board };
}
