import type { LogRecord, UnderstoodLog } from "../model/measurement.ts";
import { type Said, say } from "../model/say.ts";
import { quotable } from "./notebook.ts";

/** Header keys that tell setups apart. A log that does not state one may belong to any. */
export const IDENTITY_KEYS = ["job", "operation", "plan", "setup", "machine", "pallet", "serial"] as const;
export type IdentityKey = (typeof IDENTITY_KEYS)[number];
export type Identity = Readonly<Partial<Record<IdentityKey, string>>>;

export function identityOf(record: LogRecord): Identity {
  const identity: Partial<Record<IdentityKey, string>> = {};
  for (const key of IDENTITY_KEYS) {
    const value = Object.hasOwn(record.header, key) ? record.header[key] : undefined;
    if (value !== undefined && value !== "")
      identity[key] = key === "plan" ? value.replace(/\.ya?ml$/i, "") : value;
  }
  return identity;
}

/** The first key that both state differently; null when they can be one setup. */
export const differingKey = (one: Identity, other: Identity): IdentityKey | null =>
  IDENTITY_KEYS.find(
    (key) => one[key] !== undefined && other[key] !== undefined && one[key] !== other[key],
  ) ?? null;

/** Why these logs cannot be one setup; null when they can. */
export function clashOf(logs: readonly UnderstoodLog[]): Said | null {
  for (const [at, { record }] of logs.entries())
    for (const { record: other } of logs.slice(0, at)) {
      const [one, two] = [identityOf(other), identityOf(record)];
      const key = differingKey(one, two);
      if (key === null) continue;
      return say(
        "{first} says {key}: {firstValue} and {second} says {key}: {secondValue}; logs of different setups are not merged, so report them apart or correct the header",
        {
          key,
          first: quotable(other.name),
          second: quotable(record.name),
          firstValue: quotable(one[key] ?? ""),
          secondValue: quotable(two[key] ?? ""),
        },
      );
    }
  return null;
}

const DESCRIBING_KEYS = [
  ...IDENTITY_KEYS,
  "fixture",
  "part",
  "operator",
  "clamping",
  "bolt",
  "temperature",
  "note",
];

/** What the headers say about the setup; where several logs say different things, all are named in turn. */
export function setupOf(records: readonly LogRecord[]): Readonly<Record<string, string>> {
  const setup: [string, string][] = [];
  for (const key of DESCRIBING_KEYS) {
    const values = records.flatMap(({ header }) =>
      Object.hasOwn(header, key) && header[key] ? [header[key]] : [],
    );
    if (values.length > 0) setup.push([key, [...new Set(values)].join("; ")]);
  }
  return Object.fromEntries(setup);
}
