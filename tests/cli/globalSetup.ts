import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { TestProject } from "vitest/node";
import { bundle } from "../../src/bundle.mjs";

declare module "vitest" {
  export interface ProvidedContext {
    /** Folder with the command line and the library as built from today's sources. */
    readonly built: string;
  }
}

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
let home = "";

/** Builds command line and library once for all tests, into a folder of their own beside links to what they ship with. */
export async function setup(project: TestProject): Promise<void> {
  home = mkdtempSync(join(tmpdir(), "plinth-built-"));
  for (const name of ["templates", "package.json", "node_modules", "sample-logs"])
    symlinkSync(join(ROOT, name), join(home, name));
  await bundle({ outdir: join(home, "dist"), version: "0.0.0-test" });
  project.provide("built", home);
}

export function teardown(): void {
  if (home !== "") rmSync(home, { recursive: true, force: true });
}
