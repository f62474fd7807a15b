import { type ChildProcess, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { inject } from "vitest";

export const ROOT = fileURLToPath(new URL("../../", import.meta.url));
export const SAMPLES = join(ROOT, "sample-logs");

export interface Ran {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}
export interface RunOptions {
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
  /** Told once the process runs: to signal it, or to close its pipes. */
  readonly started?: (child: ChildProcess) => void;
}
export interface Program {
  /** Runs the command line as its own process. */
  run(args: readonly string[], options?: RunOptions): Promise<Ran>;
  /** An empty folder of this program's own. */
  folder(): string;
  remove(): void;
}

/** The command line that the global setup built, with a folder for what one test file writes. */
export function openProgram(): Program {
  const script = join(inject("built"), "dist/cli/plinth.js");
  const home = mkdtempSync(join(tmpdir(), "plinth-cli-"));
  let folders = 0;
  return {
    run: (args, options = {}) => runNode([script, ...args], { cwd: home, ...options }),
    folder() {
      const path = join(home, `run-${++folders}`);
      mkdirSync(path);
      return path;
    },
    remove: () => rmSync(home, { recursive: true, force: true }),
  };
}

function runNode(args: readonly string[], options: RunOptions & { cwd: string }): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const { SOURCE_DATE_EPOCH: _epoch, NO_COLOR: _color, FORCE_COLOR: _force, ...inherited } = process.env;
    const child = spawn(process.execPath, args, {
      cwd: options.cwd,
      env: { ...inherited, ...options.env },
      stdio: ["ignore", "pipe", "pipe"],
    });
    let [out, err] = ["", ""];
    child.stdout.on("data", (chunk) => (out += chunk));
    child.stderr.on("data", (chunk) => (err += chunk));
    child.on("error", reject);
    child.on("close", (code, signal) => resolve({ code, signal, out, err }));
    child.on("spawn", () => options.started?.(child));
  });
}
