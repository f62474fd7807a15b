import { Trouble } from "../../model/trouble.ts";
import { durableEffects } from "../../records/durableEffects.ts";
import { initWorkspace } from "../../records/initWorkspace.ts";
import { openWorkspace } from "../../records/workspace.ts";
import { rebuildLedger } from "../../runs/rebuildLedger.ts";
import { print, safe, tell } from "../output.ts";

export interface InitOptions {
  readonly rebuild?: true;
  readonly json?: true;
  readonly quiet?: true;
}

/** `plinth init`: a workspace to begin with, or the ledger of one made anew. */
export async function init(folder: string | undefined, options: InitOptions): Promise<void> {
  const effects = durableEffects();
  if (options.rebuild) {
    const workspace = await openWorkspace(effects, folder);
    const result = await rebuildLedger(
      effects,
      workspace,
      options.quiet ? () => undefined : (text) => tell(safe(text)),
    );
    if (options.json) print(JSON.stringify(result, null, 1));
    return;
  }
  if (folder === undefined)
    throw new Trouble(
      "usage",
      "plinth init: name the folder of the workspace; for example plinth init shop.",
    );
  const paths = await initWorkspace(effects, folder);
  if (options.json) return print(JSON.stringify(paths, null, 1));
  if (options.quiet) return;
  print(
    [
      `Workspace made: ${paths.root}`,
      "  plinth.yaml   settings, all explained",
      "  plans/        starter plans: change what is yours",
      "  inbox/        drop logs here",
      `Next: plinth watch --workspace ${asArgument(paths.root)}`,
    ].join("\n"),
  );
}

/** A path as one word of a shell's line. */
const asArgument = (path: string): string => (/^[\w@%+=:,./\\-]+$/.test(path) ? path : `"${path}"`);
