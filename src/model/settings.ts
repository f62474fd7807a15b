import * as v from "valibot";
import { duration } from "./duration.ts";
import { LANGUAGES, type Language } from "./language.ts";
import { type NotifyTarget, notifyEntry, notifyProblems, notifyTargets } from "./notify.ts";
import { checkShape } from "./plan/checkShape.ts";
import {
  about,
  choice,
  list,
  mapOf,
  name,
  object,
  oneOf,
  optional,
  refined,
  shownUnits,
} from "./plan/fields.ts";
import type { PlanProblem } from "./plan/problem.ts";
import { mapWritten } from "./plan/schemaWalk.ts";
import { isMapping, Remarks } from "./plan/sections.ts";
import { readYaml } from "./plan/yamlSource.ts";

/** Settings of a workspace, checked; times in milliseconds and days as said in each name. */
export interface Settings {
  readonly shop: string | null;
  /** Unit on pages of plans that say none; null: each plan's own default. */
  readonly show: "mm" | "in" | null;
  /** The other unit, in brackets behind; null: one is enough. */
  readonly showAlso: "mm" | "in" | null;
  /** Language of pages of plans that say none, and of board, digest and trends. */
  readonly language: Language | null;
  readonly page: "a4" | "letter";
  /** IANA name; null: the zone of the machine that runs Plinth. */
  readonly timeZone: string | null;
  readonly match: readonly MatchRule[];
  readonly watch: WatchSettings;
  /** Time of day of the nightly run as `HH:MM`; null: whatever starts it decides. */
  readonly nightlyAt: string | null;
  readonly retention: RetentionSettings;
  readonly notify: readonly NotifyTarget[];
}
/** Logs whose name fits one of the patterns belong to a plan. */
export interface MatchRule {
  readonly plan: string;
  readonly patterns: readonly string[];
}
export interface WatchSettings {
  /** `auto`: events on local disks, looking again and again on shares. */
  readonly polling: "auto" | "always" | "never";
  readonly pollEveryMs: number;
  /** Files older than this stay in the inbox untouched; null: all are taken. */
  readonly leaveOlderThanDays: number | null;
}
/** What may be removed, after how many days; null: never. Archive, records and ledger are in no list. */
export interface RetentionSettings {
  readonly runLogDays: number | null;
  readonly rejectedDays: number | null;
}
export type SettingsReading =
  | { readonly ok: true; readonly settings: Settings }
  | { readonly ok: false; readonly problems: readonly PlanProblem[] };

const MS_PER_DAY = 86_400_000;

/** A duration of whole or broken days, or `never`. */
const keepFor = () =>
  about(
    { expects: "a duration such as 90 days, or never" },
    oneOf([v.literal("never"), duration("90 days")]),
  );
const zone = () =>
  refined(
    about({ expects: "a time zone such as Europe/Vienna or UTC" }, v.string()),
    isTimeZone,
    "expected a time zone that this system knows, such as Europe/Vienna or UTC",
  );
const oneOrMore = () =>
  about({ expects: "a pattern such as face-*.csv, or a list of them" }, oneOf([name(), list(name())]));

const wholeSettings = object({
  plinth: optional(about({ expects: "1, the version of this format" }, v.literal(1))),
  shop: optional(name()),
  show: optional(shownUnits()),
  language: optional(choice(LANGUAGES)),
  page: optional(choice(["a4", "letter"])),
  "time-zone": optional(zone()),
  match: optional(about({ expects: "plans with the names of their logs" }, mapOf(oneOrMore()))),
  watch: optional(
    object({
      polling: optional(choice(["auto", "always", "never"])),
      "poll-every": optional(duration("2 s")),
      "leave-older-than": optional(keepFor()),
    }),
  ),
  schedule: optional(
    object({
      nightly: optional(
        v.pipe(
          v.string(),
          v.regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'expected a time of day in quotes, such as "02:00"'),
        ),
      ),
    }),
  ),
  retention: optional(object({ "run-log": optional(keepFor()), rejected: optional(keepFor()) })),
  notify: optional(v.array(notifyEntry())),
});

const DEFAULT_POLL_MS = 2000;
const DEFAULT_RUN_LOG_DAYS = 90;

/**
 * Reads and checks `plinth.yaml`. Every problem is told at once with its line and column; an empty file means the defaults.
 * Never throws for what a text says.
 */
export function readSettings(text: string, file: string): SettingsReading {
  if (withoutRemarks(text) === "") return { ok: true, settings: toSettings({}) };
  const yaml = readYaml(text, file, { noun: "the settings file", start: 'start with "shop: NAME"' });
  if (!yaml.ok) return yaml;
  const { source } = yaml;
  const remarks = new Remarks(source);
  // A section whose entries are all commented out says nothing, as if its key were not there.
  const present = Object.fromEntries(Object.entries(source.root).filter(([, value]) => value !== null));
  const raw = mapWritten(wholeSettings, present, [], (value, meta, at) =>
    meta.text === true && typeof value === "number" ? (source.writtenAt(at) ?? String(value)) : value,
  );
  const { value, misfits } = checkShape(wholeSettings, raw, "the settings");
  for (const misfit of misfits) remarks.problem(misfit.path, misfit.text, misfit.place);
  for (const { index, text } of notifyProblems(isMapping(raw) ? raw.notify : []))
    remarks.problem(["notify", index], text);
  const problems = [...yaml.problems, ...remarks.problems].toSorted(
    (a, b) => a.line - b.line || a.column - b.column,
  );
  if (problems.length > 0 || value === null) return { ok: false, problems };
  return { ok: true, settings: toSettings(value) };
}

const withoutRemarks = (text: string): string =>
  text
    .replace(/^\uFEFF/, "")
    .split(/\r\n|\r|\n/)
    .filter((line) => !/^\s*(#|$)/.test(line))
    .join("\n");

function toSettings(value: v.InferOutput<typeof wholeSettings>): Settings {
  return {
    shop: value.shop ?? null,
    show: value.show?.show ?? null,
    showAlso: value.show?.also ?? null,
    language: value.language ?? null,
    page: value.page ?? "a4",
    timeZone: value["time-zone"] ?? null,
    match: Object.entries(value.match ?? {}).map(([plan, patterns]) => ({
      plan,
      patterns: typeof patterns === "string" ? [patterns] : patterns,
    })),
    watch: {
      polling: value.watch?.polling ?? "auto",
      pollEveryMs: value.watch?.["poll-every"] ?? DEFAULT_POLL_MS,
      leaveOlderThanDays: days(value.watch?.["leave-older-than"], null),
    },
    nightlyAt: value.schedule?.nightly ?? null,
    retention: {
      runLogDays: days(value.retention?.["run-log"], DEFAULT_RUN_LOG_DAYS),
      rejectedDays: days(value.retention?.rejected, null),
    },
    notify: notifyTargets(value.notify ?? []),
  };
}

function days(written: "never" | number | undefined, otherwise: number | null): number | null {
  if (written === undefined) return otherwise;
  return written === "never" ? null : written / MS_PER_DAY;
}

function isTimeZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}
