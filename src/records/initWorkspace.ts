import { join, resolve } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import { Trouble } from "../model/trouble.ts";
import { shippedText } from "./assets.ts";
import { openLedger } from "./ledger/openLedger.ts";
import { type WorkspacePaths, workspacePaths } from "./workspace.ts";

const STARTERS = ["column", "chuck", "stock", "first-side", "second-side"] as const;

/**
 * Makes a workspace: folders, settings in remarks, starter plans, an empty ledger. What is there is never overwritten: a folder
 * that is a workspace already, or holds any of the files, is refused with Trouble `usage` and left as it was.
 */
export async function initWorkspace(effects: DurableEffects, folder: string): Promise<WorkspacePaths> {
  const paths = workspacePaths(resolve(folder));
  const files = await starterFiles(paths);
  const present = await presentOf(effects, [...files.map(([path]) => path), paths.ledger]);
  if (present.length > 0)
    throw new Trouble(
      "usage",
      `${present.join(", ")}: already there, so nothing was made; name another folder. (A lost ledger comes back with plinth init --rebuild.)`,
    );
  await makeFolders(effects, paths);
  // The settings make the folder a workspace, so they come last.
  for (const [path, text] of files.toReversed()) await effects.writeFile(path, text);
  await (await openLedger(paths.ledger)).close();
  return paths;
}

/** The folders of a workspace, made where they are missing. */
export async function makeFolders(effects: DurableEffects, paths: WorkspacePaths): Promise<void> {
  for (const folder of [
    paths.plans,
    paths.rejected,
    paths.archive,
    paths.digests,
    paths.records,
    paths.work,
    paths.aside,
    paths.runLogs,
  ])
    await effects.makeFolder(folder);
}

async function starterFiles(paths: WorkspacePaths): Promise<[string, string][]> {
  const plans = await Promise.all(
    STARTERS.map(
      async (name): Promise<[string, string]> => [
        join(paths.plans, `${name}.yaml`),
        await shippedText(`templates/plans/${name}.yaml`),
      ],
    ),
  );
  return [[paths.settings, await shippedText("templates/workspace/plinth.yaml")], ...plans];
}

async function presentOf(effects: DurableEffects, paths: readonly string[]): Promise<string[]> {
  const present: string[] = [];
  for (const path of paths) if (await effects.exists(path)) present.push(path);
  return present;
}
