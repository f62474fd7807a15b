import { dirname, join, resolve } from "node:path";
import type { Effects } from "../model/effects.ts";
import { problemLine } from "../model/plan/problem.ts";
import { readSettings, type Settings } from "../model/settings.ts";
import { Trouble } from "../model/trouble.ts";
import { read } from "./readLogs.ts";

/** Where things are in a workspace. All paths are whole; `relative` ones in the ledger are written with `/`. */
export interface WorkspacePaths {
  readonly root: string;
  readonly settings: string;
  readonly plans: string;
  readonly inbox: string;
  readonly rejected: string;
  readonly archive: string;
  readonly reports: string;
  readonly digests: string;
  readonly records: string;
  readonly ledger: string;
  /** Claimed logs, lock, heartbeat and run logs: what a person need not look at. */
  readonly hidden: string;
  readonly work: string;
  /** Files that were read and to which somebody may still write. */
  readonly aside: string;
  readonly lock: string;
  readonly heartbeat: string;
  readonly runLogs: string;
}
export interface Workspace {
  readonly paths: WorkspacePaths;
  readonly settings: Settings;
}

export function workspacePaths(root: string): WorkspacePaths {
  const at = (...parts: string[]): string => join(root, ...parts);
  return {
    root,
    settings: at("plinth.yaml"),
    plans: at("plans"),
    inbox: at("inbox"),
    rejected: at("inbox", "rejected"),
    archive: at("archive"),
    reports: at("reports"),
    digests: at("reports", "digests"),
    records: at("records"),
    ledger: at("plinth.db"),
    hidden: at(".plinth"),
    work: at(".plinth", "work"),
    aside: at(".plinth", "aside"),
    lock: at(".plinth", "watch.lock"),
    heartbeat: at(".plinth", "heartbeat.json"),
    runLogs: at(".plinth", "log"),
  };
}

/**
 * The workspace at `folder`, or without one the nearest around the current folder. Throws Trouble `unreachable` where none
 * is, `usage` with one line for each mistake in its settings.
 */
export async function openWorkspace(effects: Effects, folder: string | undefined): Promise<Workspace> {
  const root = folder === undefined ? await nearestWorkspace(effects) : resolve(folder);
  const paths = workspacePaths(root);
  if (!(await effects.exists(paths.settings)))
    throw new Trouble(
      "unreachable",
      `${root}: no workspace here (plinth.yaml is not there); name one with --workspace, or make one with plinth init ${folder ?? "DIR"}.`,
    );
  return { paths, settings: await settingsOf(effects, paths.settings) };
}

async function nearestWorkspace(effects: Effects): Promise<string> {
  let place = resolve(".");
  while (!(await effects.exists(workspacePaths(place).settings))) {
    const above = dirname(place);
    if (above === place) return resolve(".");
    place = above;
  }
  return place;
}

async function settingsOf(effects: Effects, path: string): Promise<Settings> {
  const bytes = await read(effects, path);
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new Trouble("usage", `${path}: the settings are not UTF-8 text; save the file as UTF-8.`);
  }
  const reading = readSettings(text, "plinth.yaml");
  if (reading.ok) return reading.settings;
  throw new Trouble("usage", reading.problems.map(problemLine).join("\n"));
}

/** The calendar day of a moment in the workspace's time zone, as YYYY-MM-DD. */
export function dayOf(ms: number, timeZone: string | null): string {
  const parts = new Intl.DateTimeFormat("en", {
    ...(timeZone !== null && { timeZone }),
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  }).formatToParts(ms);
  const part = (type: string): string => parts.find((one) => one.type === type)?.value ?? "";
  return `${part("year").padStart(4, "0")}-${part("month")}-${part("day")}`;
}
