import type { ChildProcess } from "node:child_process";
import { spawn, spawnSync } from "node:child_process";
import type { Readable, Writable } from "node:stream";
import { setTimeout as setTimeoutPromise } from "node:timers/promises";
import type { Browser } from "puppeteer-core";
import { browserFlags } from "./browserFlags.ts";
import type { BrowserChoice } from "./findBrowser.ts";
import { pipeTransport } from "./pipeTransport.ts";
import { makeProfile, removeProfile, writeFontSettings } from "./profileFolder.ts";

const CLOSE_MS = 5_000;
const LAST_WORDS_MS = 2_000;
const SIGNALS = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

/** A started browser, which ends with this process whatever ends it. */
export interface BrowserProcess {
  readonly browser: Browser;
  readonly processId: number;
  /** Closes in good order, and by force when that takes too long. */
  close(): Promise<void>;
  /** Ends it at once. */
  kill(): void;
}

interface Running {
  readonly child: ChildProcess;
  readonly profile: string;
}

const running = new Set<Running>();

function end(one: Running): void {
  if (!running.delete(one)) return;
  const id = one.child.pid;
  if (id !== undefined && one.child.exitCode === null && one.child.signalCode === null) {
    try {
      // The browser is the head of its own group, so that its helpers end with it.
      if (process.platform === "win32") spawnSync("taskkill", ["/pid", String(id), "/T", "/F"]);
      else process.kill(-id, "SIGKILL");
    } catch {
      one.child.kill("SIGKILL");
    }
  }
  removeProfile(one.profile);
  if (running.size === 0) unwatch();
}

function endAll(): void {
  for (const one of [...running]) end(one);
}

function onSignal(signal: NodeJS.Signals): void {
  // Where the program has its own handler it decides when to stop; the browser then ends at exit.
  if (process.listenerCount(signal) > 1) return;
  endAll();
  unwatch();
  process.kill(process.pid, signal);
}

/** Before a browser is started, so that no signal between its start and this leaves it running. */
function watch(): void {
  if (process.listeners("exit").includes(endAll)) return;
  process.on("exit", endAll);
  for (const signal of SIGNALS) process.on(signal, onSignal);
}

function unwatch(): void {
  process.off("exit", endAll);
  for (const signal of SIGNALS) process.off(signal, onSignal);
}

async function environment(choice: BrowserChoice, profile: string): Promise<NodeJS.ProcessEnv> {
  // What the browser keeps between runs goes into the profile folder and is removed with it; a page without a language
  // of its own has the same one on every machine.
  const own = { ...process.env, XDG_CONFIG_HOME: profile, XDG_CACHE_HOME: profile, LANGUAGE: "en_US" };
  if (!choice.folders) return own;
  const libraries = [choice.folders.libraries, process.env.LD_LIBRARY_PATH].filter((path) => path).join(":");
  const fonts = await writeFontSettings(profile, choice.folders.fonts);
  return { ...own, LD_LIBRARY_PATH: libraries, FONTCONFIG_PATH: fonts };
}

/** What the browser said on its error channel, for the reason why it did not start. */
function lastWords(child: ChildProcess): () => string {
  let text = "";
  child.stderr?.on("data", (chunk: Buffer) => {
    text = (text + chunk.toString("utf8")).slice(-8_000);
  });
  return () => text.trim();
}

function early(
  child: ChildProcess,
  words: () => string,
  timeoutMs: number,
): { failed: Promise<never>; stop: () => void } {
  let timer: NodeJS.Timeout | undefined;
  const failed = new Promise<never>((_resolve, reject) => {
    child.once("error", (error) => reject(error));
    child.once("close", (code, signal) =>
      reject(new Error(words() || `it ended at once (${signal ?? code})`)),
    );
    timer = setTimeout(
      () => reject(new Error(words() || `it did not answer in ${timeoutMs / 1000} s`)),
      timeoutMs,
    );
  });
  failed.catch(() => undefined);
  return { failed, stop: () => clearTimeout(timer) };
}

async function laterThrow(error: unknown): Promise<never> {
  await setTimeoutPromise(LAST_WORDS_MS);
  throw error;
}

function closed(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve();
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, CLOSE_MS);
    child.once("exit", () => {
      clearTimeout(timer);
      resolve();
    });
  });
}

/**
 * Starts the chosen browser without a window and without a way to the network.
 * @param choice what to start; its `sandbox` is followed
 * @param timeoutMs how long it may take to answer, in milliseconds
 * @throws Error with the browser's own words when it does not start
 */
export async function startBrowser(choice: BrowserChoice, timeoutMs: number): Promise<BrowserProcess> {
  const puppeteer = (await import("puppeteer-core")).default;
  const profile = makeProfile();
  const flags = puppeteer.defaultArgs({
    headless: "shell",
    userDataDir: profile,
    args: ["--remote-debugging-pipe", ...browserFlags(choice.sandbox)],
  });
  let child: ChildProcess;
  try {
    const env = await environment(choice, profile);
    watch();
    child = spawn(choice.executable, flags, {
      env,
      detached: process.platform !== "win32",
      stdio: ["ignore", "ignore", "pipe", "pipe", "pipe"],
    });
  } catch (error) {
    if (running.size === 0) unwatch();
    removeProfile(profile);
    throw error;
  }
  const one: Running = { child, profile };
  running.add(one);
  const start = early(child, lastWords(child), timeoutMs);
  try {
    const [, , , toBrowser, fromBrowser] = child.stdio;
    const transport = pipeTransport(toBrowser as Writable, fromBrowser as Readable);
    const connected = puppeteer.connect({ transport, defaultViewport: null });
    // When the connection breaks, the browser's own last words say why, and come a moment later.
    const broken = connected.catch((error: unknown) => Promise.race([start.failed, laterThrow(error)]));
    const browser = await Promise.race([broken, start.failed]);
    const kill = () => end(one);
    const close = async () => {
      await Promise.race([browser.close().catch(() => undefined), closed(child)]);
      await closed(child);
      kill();
    };
    return { browser, processId: child.pid ?? 0, close, kill };
  } catch (error) {
    end(one);
    throw error;
  } finally {
    start.stop();
  }
}
