import { spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

export const ROOT = fileURLToPath(new URL("../../", import.meta.url));
export const SAMPLES = join(ROOT, "sample-logs");

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}
export interface Program {
  /** Runs the command line as its own process. */
  run(args: readonly string[], options?: { cwd?: string; env?: Record<string, string> }): Promise<Ran>;
  /** An empty folder of this program's own. */
  folder(): string;
  remove(): void;
}

/** The command line built from today's sources into a folder of its own, beside links to what it ships with. */
export async function buildProgram(): Promise<Program> {
  const home = mkdtempSync(join(tmpdir(), "plinth-cli-"));
  for (const name of ["templates", "package.json", "node_modules", "sample-logs"])
    symlinkSync(join(ROOT, name), join(home, name));
  await build({
    absWorkingDir: ROOT,
    entryPoints: ["src/cli/plinth.ts"],
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
  const program = join(home, "dist/cli/plinth.js");
  if (!existsSync(program)) throw new Error("the command line was not built");
  let folders = 0;
  return {
    run: (args, options = {}) =>
      runNode([program, ...args], { cwd: options.cwd ?? home, env: options.env ?? {} }),
    folder() {
      const path = join(home, `run-${++folders}`);
      mkdirSync(path);
      return path;
    },
    remove: () => rmSync(home, { recursive: true, force: true }),
  };
}

function runNode(args: string[], { cwd, env }: { cwd: string; env: Record<string, string> }): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const { SOURCE_DATE_EPOCH: _epoch, NO_COLOR: _color, ...inherited } = process.env;
    const child = spawn(process.execPath, args, {
      cwd,
      env: { ...inherited, ...env },
      stdio: ["ignore", "pipe", "pipe"],
    });
    let [out, err] = ["", ""];
    child.stdout.on("data", (chunk) => (out += chunk));
    child.stderr.on("data", (chunk) => (err += chunk));
    child.on("error", reject);
    child.on("close", (code) => resolve({ code, out, err }));
  });
}
