import { statSync } from "node:fs";
import type { BrowserPackage } from "./bundledBrowser.ts";
import { bundledPackage, unpackBrowser } from "./bundledBrowser.ts";
import type { Environment } from "./cacheFolders.ts";
import { cacheFolders } from "./cacheFolders.ts";
import { installedPlaces } from "./installedBrowser.ts";

/** Where the browser came from. */
export type BrowserSource = "settings" | "environment" | "bundled" | "installed";

/** The browser that prints, and why it is this one. */
export interface BrowserChoice {
  readonly executable: string;
  readonly source: BrowserSource;
  /** The version as the browser names itself once it has run; before that the package's, or null. */
  readonly version: string | null;
  /** Whether the browser's own sandbox is used; settled when the browser has started. */
  readonly sandbox: boolean;
  /** Sentences for a person: where it was found, and why the sandbox is off if it is. */
  readonly why: string;
  /** Folders the browser's process is told about; only the bundled one has them. */
  readonly folders?: { readonly libraries: string; readonly fonts: string };
}

/** No browser: one sentence that says what to do. */
export interface BrowserMissing {
  readonly missing: string;
}

/** What the search looks at. Everything has the running process as its default. */
export interface BrowserSearch {
  /** Path from the settings file. */
  readonly configured?: string | undefined;
  readonly env?: Environment;
  readonly platform?: string;
  readonly arch?: string;
  /** The folder for the unpacked browser; absent: PLINTH_CACHE, XDG_CACHE_HOME/plinth, ~/.cache/plinth, temporary. */
  readonly cacheDir?: string | undefined;
  /** Sources to pass over, because a browser from there did not start. */
  readonly except?: readonly BrowserSource[];
  /** The package of the bundled browser; null: none. */
  readonly bundled?: BrowserPackage | null;
  /** Places of installed browsers in place of the usual ones. */
  readonly places?: readonly string[];
  /** Number of the user; absent: this process's, where the system has one. */
  readonly userId?: number;
}

const ADVICE =
  "Install Chrome, Edge or Chromium, or set PLINTH_BROWSER to the path of one; HTML and JSON are written without it.";

function isFile(path: string): boolean {
  try {
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

/** The C library decides whether the bundled program can run at all; node's own report names it. */
function hasGlibc(): boolean {
  const report: unknown = process.report?.getReport();
  if (typeof report !== "object" || report === null || !("header" in report)) return false;
  const header = report.header;
  return typeof header === "object" && header !== null && "glibcVersionRuntime" in header;
}

/** The user's number; the browser offers its sandbox to every user but number 0. */
function userOf(search: BrowserSearch): number | undefined {
  return search.userId ?? process.getuid?.();
}

function named(search: BrowserSearch, env: Environment): BrowserChoice | BrowserMissing | undefined {
  const names: [string, string | undefined, BrowserSource][] = [
    ["the settings", search.configured, "settings"],
    ["the environment variable PLINTH_BROWSER", env.PLINTH_BROWSER, "environment"],
    ["the environment variable PUPPETEER_EXECUTABLE_PATH", env.PUPPETEER_EXECUTABLE_PATH, "environment"],
  ];
  for (const [where, path, source] of names) {
    if (!path) continue;
    if (!isFile(path)) {
      return {
        missing: `The browser named in ${where}, ${path}, is not there. Correct the path or take it out.`,
      };
    }
    return {
      executable: path,
      source,
      version: null,
      sandbox: userOf(search) !== 0,
      why: `It is named in ${where}.`,
    };
  }
  return undefined;
}

async function bundled(search: BrowserSearch, env: Environment): Promise<BrowserChoice | BrowserMissing> {
  const platform = search.platform ?? process.platform;
  const arch = search.arch ?? process.arch;
  if (platform !== "linux" || arch !== "x64" || !hasGlibc()) {
    return {
      missing: `The bundled browser runs on Linux x64 with glibc only, not on ${platform} ${arch} as found here.`,
    };
  }
  const from = search.bundled === undefined ? bundledPackage() : search.bundled;
  if (!from) return { missing: "The optional package with the bundled browser is not installed." };
  try {
    const caches = search.cacheDir ? [search.cacheDir] : cacheFolders(env, userOf(search));
    const found = await unpackBrowser(from, caches);
    return {
      executable: found.executable,
      source: "bundled",
      version: found.version,
      sandbox: userOf(search) !== 0,
      why: "It is the browser that comes with the package.",
      folders: { libraries: found.libraryFolder, fonts: found.fontFolder },
    };
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return { missing: `The bundled browser could not be unpacked (${reason}).` };
  }
}

/**
 * Finds the browser that prints: the one named in the settings or the environment, else the bundled one (unpacked
 * on first use), else an installed one. A named path that does not exist ends the search, so that nobody prints
 * with another browser than the one asked for. Nothing is started here.
 * @returns the choice, or a sentence that says what to install
 */
export async function findBrowser(search: BrowserSearch = {}): Promise<BrowserChoice | BrowserMissing> {
  const env = search.env ?? process.env;
  const except = search.except ?? [];
  const byName = named(search, env);
  if (byName) return byName;
  const own = except.includes("bundled") ? undefined : await bundled(search, env);
  if (own && "executable" in own) return own;
  const places = search.places ?? installedPlaces(env, search.platform ?? process.platform);
  const path = except.includes("installed") ? undefined : places.find(isFile);
  const before = own ? `${own.missing} ` : "";
  if (path === undefined) return { missing: `No browser for printing PDFs was found. ${before}${ADVICE}` };
  const why = `${before}It is installed on this machine.`;
  return { executable: path, source: "installed", version: null, sandbox: userOf(search) !== 0, why };
}
