import { dirname, resolve } from "node:path";
import type { Effects } from "../model/effects.ts";
import { workspacePaths } from "./workspace.ts";

/** The workspace that a file lies in; null where it lies in none. */
export async function workspaceAround(effects: Effects, path: string): Promise<string | null> {
  let folder = dirname(resolve(path));
  while (!(await effects.exists(workspacePaths(folder).settings))) {
    if (dirname(folder) === folder) return null;
    folder = dirname(folder);
  }
  return folder;
}
