import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

export interface BuiltPlinth {
  /** Starts the program as a person would, without a browser unless `environment` names one. */
  start(given: readonly string[], environment?: Record<string, string>): Running;
  remove(): Promise<void>;
}
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

/** The program as one bundle, beside the packages it loads; made for one test file. */
export async function builtPlinth(): Promise<BuiltPlinth> {
  const folder = join(ROOT, "node_modules", ".cache", `plinth-test-${process.pid}`);
  await mkdir(folder, { recursive: true });
  await build({
    absWorkingDir: ROOT,
    entryPoints: ["src/cli/plinth.ts"],
    outdir: folder,
    bundle: true,
    splitting: true,
    format: "esm",
    platform: "node",
    target: "node20",
    external: ["puppeteer-core", "pdfjs-dist", "@sparticuz/chromium", "libsql"],
    define: { PLINTH_VERSION: '"0.0.0-test"' },
    banner: {
      js: 'import { createRequire as __r } from "node:module"; const require = __r(import.meta.url);',
    },
    logLevel: "error",
  });
  return {
    start: (given, environment = {}) => start(join(folder, "plinth.js"), given, environment),
    remove: () => rm(folder, { recursive: true, force: true }),
  };
}

function start(program: string, given: readonly string[], environment: Record<string, string>): Running {
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
