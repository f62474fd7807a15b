import type { ChildProcess } from "node:child_process";
import { spawn } from "node:child_process";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** A program of its own, made from a few lines that may import from `src` as "#/...". */
export interface ChildProgram {
  readonly path: string;
  remove(): void;
}

/** Bundles the lines into one file which node can run; packages are found as they are from the root. */
export async function childProgram(name: string, lines: string): Promise<ChildProgram> {
  // Below node_modules, so that packages are found from there and no tool looks at it.
  const folder = `${root}node_modules/.cache/plinth-tests/${name}-${process.pid}`;
  mkdirSync(folder, { recursive: true });
  writeFileSync(`${folder}/child.ts`, lines.replaceAll('"#/', `"${root}src/`));
  const path = `${folder}/child.mjs`;
  await build({
    entryPoints: [`${folder}/child.ts`],
    outfile: path,
    bundle: true,
    platform: "node",
    format: "esm",
    packages: "external",
    logLevel: "error",
  });
  return { path, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** A running child: its process, the first line it prints, and its end. */
export interface Child {
  readonly process: ChildProcess;
  readonly firstLine: Promise<string>;
  readonly ended: Promise<{ code: number | null; signal: NodeJS.Signals | null; output: string }>;
}

/** Runs a child program in a folder, with the given environment beside this process's own. */
export function runChild(
  program: ChildProgram,
  env: Record<string, string>,
  args: string[] = [],
  cwd = root,
): Child {
  const child = spawn(process.execPath, [program.path, ...args], {
    cwd,
    env: { ...process.env, ...env },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let output = "";
  const firstLine = new Promise<string>((resolve, reject) => {
    const take = (chunk: Buffer) => {
      output += chunk.toString("utf8");
      if (output.includes("\n")) resolve(output.slice(0, output.indexOf("\n")));
    };
    child.stdout.on("data", take);
    child.stderr.on("data", (chunk: Buffer) => {
      output += chunk.toString("utf8");
    });
    child.once("close", () => reject(new Error(`ended without a line: ${output}`)));
  });
  firstLine.catch(() => undefined);
  const ended = new Promise<{ code: number | null; signal: NodeJS.Signals | null; output: string }>(
    (resolve) => {
      child.once("close", (code, signal) => resolve({ code, signal, output }));
    },
  );
  return { process: child, firstLine, ended };
}

/** True while a process runs; one that has ended but was not yet collected by its parent does not count. */
export function isAlive(processId: number): boolean {
  try {
    process.kill(processId, 0);
  } catch {
    return false;
  }
  try {
    const state = /\) (\w)/.exec(readFileSync(`/proc/${processId}/stat`, "utf8"))?.[1];
    return state !== "Z";
  } catch {
    return true;
  }
}

/** Waits until the condition holds, up to the limit. @returns whether it did */
export async function until(condition: () => boolean, milliseconds: number): Promise<boolean> {
  const end = Date.now() + milliseconds;
  while (!condition()) {
    if (Date.now() > end) return false;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  return true;
}
