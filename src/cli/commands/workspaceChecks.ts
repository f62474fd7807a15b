import { statfs } from "node:fs/promises";
import { hostname } from "node:os";
import { Trouble } from "../../model/trouble.ts";
import { durableEffects, isRunning } from "../../records/durableEffects.ts";
import { isLedgerDiskTrouble, type Ledger, openLedger } from "../../records/ledger/openLedger.ts";
import { outboxState, type TargetState } from "../../records/ledger/outbox.ts";
import { openWorkspace, type Workspace } from "../../records/workspace.ts";
import { DISK_FULL, isFull } from "../errors.ts";
import type { Check } from "./doctor.ts";

/** A watcher beats every few seconds; one that is silent for so long is dead or hangs. */
const SILENCE_MS = 60_000;
/** A message that is owed for so long needs a person. */
const OWED_TOO_LONG_MS = 3_600_000;

/** How the outside is looked at; tests hand in disks that are full. */
export interface Look {
  readonly open?: (path: string) => Promise<Ledger>;
  readonly freeMb?: (folder: string) => Promise<number>;
}
/** Room on the disk of a folder that is there, in whole MB. */
export async function freeMegabytes(folder: string): Promise<number> {
  const { bavail, bsize } = await statfs(folder);
  return Math.floor((bavail * bsize) / 1e6);
}

/** What is well in a workspace: settings, ledger, watcher, and what its targets were told. */
export async function workspaceChecks(folder: string, look: Look = {}): Promise<Check[]> {
  const effects = durableEffects();
  let workspace: Workspace;
  try {
    workspace = await openWorkspace(effects, folder);
  } catch (error) {
    if (!(error instanceof Trouble)) throw error;
    return [{ what: "workspace", works: false, found: error.message }];
  }
  const well = { what: "workspace", works: true, found: `${workspace.paths.root}: its settings are right` };
  return [well, await watcher(workspace), ...(await ledgerChecks(workspace, look))];
}

/** Whether somebody works off the inbox, as the heartbeat tells. */
async function watcher({ paths }: Workspace): Promise<Check> {
  const effects = durableEffects();
  const what = "watcher";
  if (!(await effects.exists(paths.heartbeat)))
    return { what, works: true, found: "never ran here; plinth watch starts it" };
  const text = new TextDecoder().decode(await effects.readFile(paths.heartbeat));
  const { state, beat, pid, host } = parsed(text);
  const silent = effects.now() - Date.parse(beat ?? "");
  const who = `process ${pid} on ${host}`;
  if (state === "ended") return { what, works: true, found: `ended ${beat}; plinth watch starts it` };
  if (host === hostname() && pid !== undefined && !isRunning(pid))
    return { what, works: false, found: `${who} is gone since ${beat}; start plinth watch again` };
  if (silent < SILENCE_MS) return { what, works: true, found: `${state}, ${who}` };
  return {
    what,
    works: false,
    found: `silent since ${beat} (${who}): it died or hangs; start plinth watch again`,
  };
}
function parsed(text: string): { state?: string; beat?: string; pid?: number; host?: string } {
  try {
    return JSON.parse(text) as object;
  } catch {
    return {};
  }
}

async function ledgerChecks({ paths, settings }: Workspace, look: Look): Promise<Check[]> {
  const { open = openLedger, freeMb = freeMegabytes } = look;
  try {
    const ledger = await open(paths.ledger);
    try {
      const wrong = ledger.check();
      if (wrong !== null)
        return [
          { what: "ledger", works: false, found: `damaged (${wrong}); plinth init --rebuild makes it anew` },
        ];
      const known = new Set(settings.notify.map(({ name }) => name));
      const told = (await outboxState(ledger.tables)).map((state) => toldCheck(state, known));
      return [{ what: "ledger", works: true, found: "whole" }, ...told];
    } finally {
      await ledger.close();
    }
  } catch (error) {
    if (!(error instanceof Trouble) && !isLedgerDiskTrouble(error)) throw error;
    // A full disk shows as any of several troubles of the ledger; the room that is left tells.
    const full = isFull(error) || (isLedgerDiskTrouble(error) && (await freeMb(paths.root)) === 0);
    const words = error instanceof Error ? error.message : String(error);
    const found = full ? `${DISK_FULL} (${words.replace(/\.$/, "")})` : words;
    return [{ what: "ledger", works: false, found }];
  }
}

function toldCheck(state: TargetState, known: ReadonlySet<string>): Check {
  const { target, sent, owed, owedSince, hindrance, refused } = state;
  const late = owedSince !== null && Date.now() - Date.parse(owedSince) > OWED_TOO_LONG_MS;
  const parts = [
    `${sent} sent`,
    `${owed} owed${owedSince === null ? "" : ` since ${owedSince}`}${hindrance === null ? "" : ` (${hindrance})`}`,
    ...(owed > 0 && !known.has(target)
      ? ["plinth.yaml does not name this target any more: they wait for it"]
      : []),
    ...(refused.length > 0
      ? [
          `${refused.length} refused: ${refused
            .slice(0, 3)
            .map(({ subject, because }) => `${subject} (${because})`)
            .join("; ")}${refused.length > 3 ? " and others" : ""}; plinth watch --resend tries them again`,
        ]
      : []),
  ];
  return { what: `told ${target}`, works: refused.length === 0 && !late, found: parts.join(", ") };
}
