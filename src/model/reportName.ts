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
  return safe === text ? text : `${safe}-${createHash("sha256").update(text).digest("hex").slice(0, 6)}`;
}

/** JOB_OPERATION_PLAN, with _SETUP when the header has one. */
export function reportId(setup: Readonly<Record<string, string>>, planName: string): string {
  const given = (key: string, missing: string): string => namePart(setup[key]?.trim() || missing);
  const parts = [given("job", "no-job"), given("operation", "no-operation"), namePart(planName)];
  return [...parts, ...(setup.setup?.trim() ? [namePart(setup.setup.trim())] : [])].join("_");
}
