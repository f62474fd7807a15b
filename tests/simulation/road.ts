// The road of a real run, from the text of plan and logs to advice, for tests that ask and then move.
import { createHash } from "node:crypto";
import { adviceKinds } from "../../src/analysis/advice/index.ts";
import type { AnalysisContext, HistoryValue } from "../../src/analysis/context.ts";
import { fitFeatures } from "../../src/analysis/fitting/fitFeatures.ts";
import { understandLog } from "../../src/ingest/understandLog.ts";
import type { SaidFinding } from "../../src/model/finding.ts";
import type { LogRecord, MeasuredFeature, MeasurementSet } from "../../src/model/measurement.ts";
import type { Plan } from "../../src/model/plan/plan.ts";
import { readPlan } from "../../src/model/plan/readPlan.ts";
import type { Said } from "../../src/model/say.ts";
import type { AdviceValue, ReportAdvice } from "../../src/model/setupReport.ts";

export interface Asked {
  readonly plan: string;
  /** Text of each log. */
  readonly logs: readonly string[];
  readonly history?: readonly HistoryValue[];
}
export interface Told extends ReportAdvice<Said> {
  readonly findings: readonly SaidFinding[];
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const hashOf = (text: string): string => createHash("sha256").update(text).digest("hex");

/** A plan around the parts that matter: features and advice, as YAML at the left margin. */
export function planText(parts: {
  readonly features: readonly string[];
  readonly advice: readonly string[];
  readonly sense?: 1 | -1 | null;
  readonly uncertainty?: string;
  readonly more?: string;
}): string {
  const sense = parts.sense === undefined || parts.sense === null ? "" : `, b-sense: ${parts.sense}`;
  return [
    "plinth: 1",
    "name: simulated",
    "title: Simulated setup",
    "decision: {rule: simple}",
    `machine: {name: HM-9${sense}}`,
    `instruments: {gauge: {uncertainty: ${parts.uncertainty ?? "0.0005 mm"}}}`,
    "logs: {unit: mm, instrument: gauge, points: surface, sign: toward-plus, frame: work}",
    ...(parts.more === undefined ? [] : [parts.more]),
    "features:",
    ...parts.features.map((line) => `  ${line}`),
    "advice:",
    ...parts.advice.map((line) => `  - ${line}`),
    "",
  ].join("\n");
}

export function planOf(text: string): Plan {
  const kinds = { characteristics: [], advice: adviceKinds };
  const read = readPlan({ text, name: "simulated.yaml", sha256: hashOf(text), kinds });
  if (!read.ok)
    throw new Error(read.problems.map((problem) => `${problem.line}: ${problem.text}`).join("\n"));
  return read.plan;
}

export function contextOf({ plan: planSource, logs, history = [] }: Asked): AnalysisContext {
  const plan = planOf(planSource);
  const records: LogRecord[] = [];
  const features: MeasuredFeature[] = [];
  const findings: SaidFinding[] = [];
  logs.forEach((text, log) => {
    const name = `log-${log}.csv`;
    const read = understandLog({ name, bytes: bytesOf(text), sha256: hashOf(text) }, plan);
    if (!read.ok) throw new Error(`${name}: ${read.finding.text.text}`);
    records.push(read.record);
    features.push(...read.features.map((feature) => ({ ...feature, log })));
    findings.push(...read.findings);
  });
  const setup = { ...records[0]?.header };
  const set: MeasurementSet = { logs: records, features, signOffs: [], setup, findings };
  const lookup = fitFeatures(set, plan);
  return {
    plan,
    set,
    issued: "2026-11-25T07:00:00Z",
    history,
    feature: (name, state) => lookup.feature(name, state),
  };
}

/** What each entry of the plan's advice says. */
export function ask(asked: Asked): Told[] {
  const context = contextOf(asked);
  return context.plan.advice.map(({ kind: name, inputs }) => {
    const kind = adviceKinds.find((one) => one.kind === name);
    if (kind === undefined) throw new Error(`no kind ${name}`);
    return {
      kind: name,
      ...kind.advise(inputs as never, context),
      findings: kind.findings?.(inputs as never, context) ?? [],
    };
  });
}
export function askOne(asked: Asked): Told {
  const [first] = ask(asked);
  if (first === undefined) throw new Error("the plan asks for no advice");
  return first;
}
/** A number among the values; throws when it is none. `path` may go into an object: `change.x`. */
export function numberOf(told: Told, path: string): number {
  let at: AdviceValue | undefined = told.values as AdviceValue;
  for (const part of path.split("."))
    at =
      typeof at === "object" && at !== null
        ? ((at as Record<string, AdviceValue>)[part] as AdviceValue)
        : undefined;
  if (typeof at !== "number") throw new Error(`${path} is ${JSON.stringify(at)}: ${told.headline.text}`);
  return at;
}
/** The amount told for one thing and axis; 0 when nothing is told for it. */
export const amountFor = (told: Told, at: string, along: string): number =>
  told.moves.find((move) => move.at === at && move.along === along)?.amount ?? 0;

/** Rows as the text of a log with a header. */
export function logText(
  columns: string,
  rows: readonly (readonly (string | number)[])[],
  header: Record<string, string> = {},
): string {
  const comments = Object.entries(header).map(([key, value]) => `# ${key}: ${value}`);
  return [...comments, columns, ...rows.map((row) => row.map(cell).join(",")), ""].join("\n");
}
const cell = (value: string | number): string =>
  typeof value === "string" ? value : Math.abs(value) < 1e-6 ? value.toFixed(9) : String(value);
