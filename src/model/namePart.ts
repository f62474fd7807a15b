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
  return safe === text
    ? text
    : `${safe}-${createHash("sha256").update(text, "utf8").digest("hex").slice(0, 6)}`;
}
