import { posix, win32 } from "node:path";
import type { Environment } from "./cacheFolders.ts";

const LINUX_NAMES = [
  "google-chrome-stable",
  "google-chrome",
  "chromium",
  "chromium-browser",
  "chromium-headless-shell",
  "chrome-headless-shell",
  "microsoft-edge-stable",
  "microsoft-edge",
];
const LINUX_PLACES = [
  "/opt/google/chrome/chrome",
  "/usr/lib/chromium/chromium",
  "/usr/lib/chromium-browser/chromium-browser",
  "/opt/microsoft/msedge/msedge",
];
const MAC_PLACES = [
  "Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
  "Applications/Chromium.app/Contents/MacOS/Chromium",
];
const WINDOWS_PLACES = [
  "Google\\Chrome\\Application\\chrome.exe",
  "Microsoft\\Edge\\Application\\msedge.exe",
  "Chromium\\Application\\chrome.exe",
];

function onPath(
  env: Environment,
  names: readonly string[],
  join: (folder: string, name: string) => string,
  separator: string,
) {
  const folders = (env.PATH ?? env.Path ?? "").split(separator).filter((folder) => folder !== "");
  return folders.flatMap((folder) => names.map((name) => join(folder, name)));
}

function linuxPlaces(env: Environment): string[] {
  const standard = ["/usr/local/bin", "/usr/bin"].flatMap((folder) =>
    LINUX_NAMES.map((name) => posix.join(folder, name)),
  );
  // A browser confined by its package format often cannot read our temporary files: it comes last.
  const confined = "/snap/bin/";
  const all = [
    ...onPath(env, LINUX_NAMES, posix.join, ":"),
    ...standard,
    ...LINUX_PLACES,
    `${confined}chromium`,
  ];
  return [
    ...all.filter((path) => !path.startsWith(confined)),
    ...all.filter((path) => path.startsWith(confined)),
  ];
}

function macPlaces(env: Environment): string[] {
  const homes = env.HOME ? ["/", env.HOME] : ["/"];
  return homes.flatMap((home) => MAC_PLACES.map((place) => posix.join(home, place)));
}

function windowsPlaces(env: Environment): string[] {
  const roots = [
    env.PROGRAMFILES,
    env.ProgramFiles,
    env["PROGRAMFILES(X86)"],
    env["ProgramFiles(x86)"],
    env.LOCALAPPDATA,
  ];
  const known = roots.filter((root) => root !== undefined && root !== "");
  const usual = known.flatMap((root) => WINDOWS_PLACES.map((place) => win32.join(root ?? "", place)));
  return [...usual, ...onPath(env, ["chrome.exe", "msedge.exe"], win32.join, ";")];
}

/**
 * The usual places of an installed Chrome, Edge or Chromium, and of the same on the search path; best first.
 * @param env environment of the process (search path and program folders)
 * @param platform as `process.platform`
 * @returns absolute paths without repetition; most of them will not exist
 */
export function installedPlaces(env: Environment, platform: string): string[] {
  const places =
    platform === "win32" ? windowsPlaces(env) : platform === "darwin" ? macPlaces(env) : linuxPlaces(env);
  return [...new Set(places)];
}
