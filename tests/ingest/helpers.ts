import { createHash } from "node:crypto";
import { understandLog } from "../../src/ingest/understandLog.ts";
import type { MeasuredFeature, RejectedLog, UnderstoodLog, WholeLog } from "../../src/model/measurement.ts";
import type { FeaturePlan, LogsPlan, Plan } from "../../src/model/plan/plan.ts";

export const logFile = (content: string | Uint8Array, name = "log.csv", seen?: string): WholeLog => {
  const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  return { name, bytes, sha256, ...(seen === undefined ? {} : { seen }) };
};

export const NO_LOGS: LogsPlan = {
  unit: null,
  instrument: null,
  columns: {},
  skipRows: 0,
  constant: {},
  keep: {},
  order: [],
  frame: null,
  sign: null,
  decimal: null,
  separator: null,
  points: null,
  tipDiameterMm: null,
  leverAngleRad: null,
};
export interface PlanParts {
  readonly logs?: Partial<LogsPlan>;
  readonly features?: Readonly<Record<string, Partial<FeaturePlan>>>;
  readonly closure?: readonly string[];
  readonly exclude?: Plan["exclude"];
  readonly name?: string;
}
export function planWith({
  logs = {},
  features = {},
  closure = [],
  exclude = [],
  name = "test-plan",
}: PlanParts): Plan {
  const entries = Object.entries(features).map(([feature, part]): [string, FeaturePlan] => [
    feature,
    {
      name: feature,
      fit: "plane",
      normal: null,
      surface: null,
      from: null,
      radiusMm: null,
      along: null,
      height: null,
      through: [],
      instrument: null,
      points: null,
      tipDiameterMm: null,
      ...part,
    },
  ]);
  return {
    name,
    title: "Test",
    show: "mm",
    language: "en",
    decision: { rule: "simple", guard: 0 },
    machine: { name: null, bSense: null, travel: {}, straightnessMm: null },
    instruments: {},
    logs: { ...NO_LOGS, ...logs },
    features: Object.fromEntries(entries),
    characteristics: [],
    advice: [],
    signOffs: [],
    points: {},
    part: { temperatureC: null, expansionPerK: null },
    closure,
    closureLimitMm: null,
    crossSumLimitMm: null,
    exclude,
    source: { name: "plan.yaml", text: "", sha256: "" },
  };
}

export const read = (content: string | Uint8Array, plan: Plan | null = null, name = "log.csv") =>
  understandLog(logFile(content, name), plan);

export function understood(
  content: string | Uint8Array,
  plan: Plan | null = null,
  name = "log.csv",
): UnderstoodLog {
  const log = read(content, plan, name);
  if (!log.ok) throw new Error(`rejected: ${log.finding.text.text}`);
  return log;
}
export function rejected(
  content: string | Uint8Array,
  plan: Plan | null = null,
  name = "log.csv",
): RejectedLog {
  const log = read(content, plan, name);
  if (log.ok) throw new Error("the log was understood");
  return log;
}
export const sentence = (content: string | Uint8Array, plan: Plan | null = null, name = "log.csv"): string =>
  rejected(content, plan, name).finding.text.text;

export function feature(log: UnderstoodLog, name?: string): MeasuredFeature {
  const found = name === undefined ? log.features[0] : log.features.find((entry) => entry.name === name);
  if (found === undefined) throw new Error(`no feature ${name}`);
  return found;
}
export const points = (log: UnderstoodLog, name?: string): number[][] => {
  const { x, y, z } = feature(log, name).readings;
  return Array.from(x, (value, at) => [value, y[at] ?? 0, z[at] ?? 0]);
};
export const decision = (log: UnderstoodLog, what: string): string | undefined => {
  const found = log.record.decisions.find((entry) => entry.what === what);
  return found && `${found.value}: ${found.because.text}`;
};
export const codes = (log: UnderstoodLog): string[] =>
  log.findings.map((finding) => `${finding.level} ${finding.code}`);
export const leftOut = (log: UnderstoodLog): string[] =>
  log.record.excluded.map((row) => `${row.line}: ${row.reason.text}`);
export const latin1 = (text: string): Uint8Array =>
  Uint8Array.from(text, (character) => character.charCodeAt(0));
export function utf16(text: string, order: "le" | "be"): Uint8Array {
  const bytes = new Uint8Array(2 + 2 * text.length);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, 0xfeff, order === "le");
  for (let at = 0; at < text.length; at++) view.setUint16(2 + 2 * at, text.charCodeAt(at), order === "le");
  return bytes;
}
