import type { SaidFinding } from "../model/finding.ts";
import type {
  LogRecord,
  MeasuredFeature,
  MeasurementSet,
  SignOffReading,
  UnderstoodLog,
} from "../model/measurement.ts";
import { NO_PLAN, type Plan } from "../model/plan/plan.ts";
import { type Said, type SaidValue, say } from "../model/say.ts";
import { isoTime, timeValue } from "./isoTime.ts";
import { quotable } from "./notebook.ts";
import { clashOf, setupOf } from "./setupIdentity.ts";

export type MergeResult =
  | { readonly ok: true; readonly set: MeasurementSet }
  | { readonly ok: false; readonly finding: SaidFinding };

/**
 * Logs of one setup as one set of measurements. A feature measured by two logs in the same state counts as measured
 * last; the earlier one is named in a warning. Logs of different setups, machines, pallets or serials are refused.
 * `findings` of whoever grouped the logs come first.
 */
export function mergeLogs(
  logs: readonly UnderstoodLog[],
  plan: Plan | null,
  findings: readonly SaidFinding[] = [],
): MergeResult {
  const clash = clashOf(logs);
  if (clash !== null) return { ok: false, finding: error("setups-differ", clash) };
  const said: SaidFinding[] = [...findings];
  const once = withoutCopies(logs, said);
  const otherPlan = planClash(once, plan);
  if (otherPlan !== null) said.push(otherPlan);
  const records = once.map((log) => log.record);
  const features = lastMeasured(
    once.flatMap((log, index) => log.features.map((feature) => ({ ...feature, log: index }))),
    records,
    said,
  );
  const signOffs = lastAnswered(
    once.flatMap((log, index) => log.signOffs.map((entry) => ({ ...entry, log: index }))),
    records,
    said,
  );
  const set = {
    logs: records,
    features,
    signOffs,
    setup: setupOf(records),
    findings: [...said, ...once.flatMap((log) => log.findings)],
  };
  return { ok: true, set };
}

const error = (code: string, text: Said): SaidFinding => ({ level: "error", code, text });

/** The same bytes under two names are one log. */
function withoutCopies(logs: readonly UnderstoodLog[], said: SaidFinding[]): readonly UnderstoodLog[] {
  const known = new Map<string, string>();
  return logs.filter(({ record }) => {
    const bytes = record.text ?? record.sha256;
    const first = known.get(bytes);
    if (first === undefined) {
      known.set(bytes, record.name);
      return true;
    }
    said.push({
      level: "note",
      code: "same-log-twice",
      text: say("{name} has the same bytes as {first} and counts once", {
        name: quotable(record.name),
        first: quotable(first),
      }),
      log: record.name,
    });
    return false;
  });
}

function planClash(logs: readonly UnderstoodLog[], plan: Plan | null): SaidFinding | null {
  const other = logs.find((log) => {
    const named = log.record.header.plan;
    return plan !== null && named !== undefined && named.replace(/\.ya?ml$/i, "") !== plan.name;
  });
  if (other === undefined || plan === null || plan.name === NO_PLAN) return null;
  return {
    level: "warning",
    code: "other-plan",
    text: say("{log} names the plan {named}, but the plan used is {used}", {
      log: quotable(other.record.name),
      named: quotable(other.record.header.plan ?? ""),
      used: plan.name,
    }),
    log: other.record.name,
  };
}

/** Whether `second` was made after `first`, and by what that is known. */
function isLater(first: LogRecord, second: LogRecord): { readonly later: boolean; readonly by: string } {
  const stated = (record: LogRecord): boolean =>
    record.time !== null && isoTime(record.header.time ?? "") === record.time;
  // Times of different clocks are not compared.
  if (stated(first) === stated(second) && first.time !== null && second.time !== null) {
    const apart = timeValue(second.time) - timeValue(first.time);
    if (apart !== 0) return { later: apart > 0, by: "their times" };
  }
  return { later: true, by: "the order in which they were given" };
}

function lastMeasured(
  features: readonly MeasuredFeature[],
  records: readonly LogRecord[],
  said: SaidFinding[],
): readonly MeasuredFeature[] {
  const kept: MeasuredFeature[] = [];
  for (const feature of features) {
    const at = kept.findIndex((other) => other.name === feature.name && other.state === feature.state);
    const other = kept[at];
    const [before, after] = [records[other?.log ?? -1], records[feature.log]];
    if (other === undefined || before === undefined || after === undefined) {
      kept.push(feature);
      continue;
    }
    const { later, by } = isLater(before, after);
    if (later) kept[at] = feature;
    said.push(
      superseded(later ? before : after, later ? after : before, by, {
        template:
          "{name} was measured {state} by {earlier} and by {later}; {later} counts, being later by {by}, and the earlier one is superseded",
        values: {
          name: quotable(feature.name),
          state: feature.state === "as-found" ? "as found" : "as left",
        },
        feature: feature.name,
      }),
    );
  }
  return kept;
}

function lastAnswered(
  entries: readonly SignOffReading[],
  records: readonly LogRecord[],
  said: SaidFinding[],
): readonly SignOffReading[] {
  const kept: SignOffReading[] = [];
  for (const entry of entries) {
    const at = kept.findIndex((other) => other.check === entry.check);
    const [before, after] = [records[kept[at]?.log ?? -1], records[entry.log]];
    if (before === undefined || after === undefined) {
      kept.push(entry);
      continue;
    }
    const { later, by } = isLater(before, after);
    if (later) kept[at] = entry;
    said.push(
      superseded(later ? before : after, later ? after : before, by, {
        template:
          "{name} was answered in {earlier} and in {later}; {later} counts, being later by {by}, and the earlier one is superseded",
        values: { name: quotable(entry.check) },
      }),
    );
  }
  return kept;
}

interface Wording {
  readonly template: string;
  readonly values: Readonly<Record<string, SaidValue>>;
  readonly feature?: string;
}
function superseded(earlier: LogRecord, later: LogRecord, by: string, wording: Wording): SaidFinding {
  const values = { ...wording.values, earlier: quotable(earlier.name), later: quotable(later.name), by };
  return {
    level: "warning",
    code: "superseded",
    text: say(wording.template, values),
    log: earlier.name,
    ...(wording.feature === undefined ? {} : { feature: wording.feature }),
  };
}
