import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { inject } from "vitest";

export interface Running {
  readonly child: ChildProcess;
  readonly ended: Promise<{
    readonly code: number | null;
    readonly signal: string | null;
    readonly out: string;
    readonly told: string;
  }>;
  /** When stderr holds the text. */
  says(text: string): Promise<void>;
}

/** Starts the program that is built for all tests, as a person would, without a browser unless `environment` names one. */
export function startPlinth(given: readonly string[], environment: Record<string, string> = {}): Running {
  const program = join(inject("built"), "dist/cli/plinth.js");
  const child = spawn(process.execPath, [program, ...given], {
    env: { ...process.env, PLINTH_BROWSER: "/nowhere/browser", ...environment },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let out = "";
  let told = "";
  let look: () => void = () => undefined;
  child.stdout.on("data", (data) => {
    out += data;
  });
  child.stderr.on("data", (data) => {
    told += data;
    look();
  });
  const ended = once(child, "close").then(([code, signal]) => ({
    code: code as number | null,
    signal: signal as string | null,
    out,
    told,
  }));
  return {
    child,
    ended,
    says: (text) =>
      new Promise((resolve, reject) => {
        look = () => {
          if (told.includes(text)) resolve();
        };
        look();
        ended.then((end) => reject(new Error(`ended (${end.code}) before it said "${text}": ${end.told}`)));
      }),
  };
}
