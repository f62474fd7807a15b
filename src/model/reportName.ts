import { createHash } from "node:crypto";

const LONGEST_PART = 40;

/**
 * One part of a report's name: characters outside `A-Z a-z 0-9 . -` and leading dots become `-`, it is cut to 40
 * characters, and when anything was changed `-` and six digits of the original's SHA-256 follow, so that two names
 * never meet.
 */
export function namePart(text: string): string {
  const safe = text
    .replace(/[^A-Za-z0-9.-]/gu, "-")
    .replace(/^\.+/, (dots) => "-".repeat(dots.length))
    .slice(0, LONGEST_PART);
  return safe === text ? text : `${safe}-${digits(text)}`;
}
const digits = (text: string): string => createHash("sha256").update(text).digest("hex").slice(0, 6);

/** No name, names that Windows keeps for devices whatever ending follows, and names that it cuts (Microsoft, "Naming Files, Paths, and Namespaces"). */
const NO_FOLDER = /^$|^(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\.|$)|\.$/i;

/** The folder of a job's record: as a part of a report's name, and with the six digits also where a share on Windows could not hold it. */
export function recordFolder(job: string): string {
  const part = namePart(job);
  return NO_FOLDER.test(part) ? `${part.replaceAll(".", "-")}-${digits(job)}` : part;
}

/** JOB_OPERATION_PLAN, with _SETUP when the header has one. */
export function reportId(setup: Readonly<Record<string, string>>, planName: string): string {
  const given = (key: string, missing: string): string => namePart(setup[key]?.trim() || missing);
  const parts = [given("job", "no-job"), given("operation", "no-operation"), namePart(planName)];
  return [...parts, ...(setup.setup?.trim() ? [namePart(setup.setup.trim())] : [])].join("_");
}

const TOLD_APART_BY = ["job", "operation", "plan", "setup", "machine", "pallet", "serial"] as const;
/**
 * The name of a further report that would bear the same id, because it differs in machine, pallet, serial or day only: six
 * digits of the hash of what its headers say follow.
 */
export function furtherReportId(id: string, setup: Readonly<Record<string, string>>, day = ""): string {
  const said = TOLD_APART_BY.map((key) => setup[key] ?? "");
  return `${id}_${createHash("sha256")
    .update(JSON.stringify([...said, day]))
    .digest("hex")
    .slice(0, 6)}`;
}
/** Whether a report may bear an id: its own, or that of a further report. */
export const isIdOf = (borne: string, id: string): boolean =>
  borne === id || (/^_[0-9a-f]{6}$/.test(borne.slice(id.length)) && borne.startsWith(id));
