import { existsSync, mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import type { TestProject } from "vitest/node";

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
  await build({
    absWorkingDir: ROOT,
    entryPoints: ["src/cli/plinth.ts", "src/index.ts"],
    outdir: join(home, "dist"),
    outbase: "src",
    bundle: true,
    splitting: true,
    format: "esm",
    platform: "node",
    packages: "external",
    define: { PLINTH_VERSION: '"0.0.0-test"' },
    logLevel: "error",
  });
  if (!existsSync(join(home, "dist/cli/plinth.js"))) throw new Error("the command line was not built");
  project.provide("built", home);
}

export function teardown(): void {
  if (home !== "") rmSync(home, { recursive: true, force: true });
}
