import type { DurableEffects } from "../../model/effects.ts";
import { type Decision, type EntryKind, entryWords } from "../../model/entry.ts";
import { Trouble } from "../../model/trouble.ts";
import { durableEffects } from "../../records/durableEffects.ts";
import { type AddedEntry, addEntry } from "../../records/entries.ts";
import { mirrorEntries } from "../../records/ledger/mirrorEntries.ts";
import { type Ledger, openLedger } from "../../records/ledger/openLedger.ts";
import { openWorkspace, type WorkspacePaths } from "../../records/workspace.ts";
import { workspaceAround } from "../../records/workspaceAround.ts";
import { print, safe } from "../output.ts";

export interface NoteOptions {
  readonly kind: EntryKind;
  readonly who: string;
  readonly why: string;
  readonly decision?: Decision;
  readonly characteristic?: string;
  readonly set?: readonly string[];
  readonly workspace?: string;
  readonly json?: true;
  readonly quiet?: true;
}

/** `plinth note`: an entry about a report; the report stays as it is. */
export async function note(path: string, options: NoteOptions): Promise<void> {
  const effects = durableEffects();
  const workspace = options.workspace ?? (await workspaceAround(effects, path)) ?? undefined;
  const { paths } = await openWorkspace(effects, workspace);
  const ledger = (await effects.exists(paths.ledger)) ? await openLedger(paths.ledger) : null;
  const { entry, folder, status } = await addedEntry({ effects, paths, ledger }, path, options).finally(() =>
    ledger?.close(),
  );
  if (options.json) print(JSON.stringify({ folder, status, ...entry }, null, 1));
  else if (!options.quiet)
    print(
      safe(
        `${entry.report} revision ${entry.revision}: ${entryWords(entry)} ${status === "kept" ? "was noted before, nothing changed" : "noted"}\n  ${entry.made}  ${entry.who}: ${entry.why}\n  ${folder}/manifest.json`,
      ),
    );
}

interface Place {
  readonly effects: DurableEffects;
  readonly paths: WorkspacePaths;
  readonly ledger: Ledger | null;
}
/** The entry in the job's record, and in the ledger where there is one. */
async function addedEntry(
  { effects, paths, ledger }: Place,
  path: string,
  options: NoteOptions,
): Promise<AddedEntry> {
  const request = {
    path,
    kind: options.kind,
    who: options.who,
    why: options.why,
    decision: options.decision ?? null,
    characteristic: options.characteristic ?? null,
    corrected: Object.fromEntries((options.set ?? []).map(keyAndValue)),
  };
  const own = { reports: paths.reports, tables: ledger?.tables ?? null };
  const added = await addEntry(effects, paths.records, request, own);
  if (ledger !== null) await mirrorEntries(ledger, [added.entry]);
  return added;
}

function keyAndValue(text: string): [string, string] {
  const at = text.indexOf("=");
  if (at < 1) throw new Trouble("usage", `--set ${text}: expected KEY=VALUE, for example pallet=4.`);
  return [text.slice(0, at).trim(), text.slice(at + 1)];
}
