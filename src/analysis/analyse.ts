import type { SaidFinding } from "../model/finding.ts";
import type { LogRecord, MeasurementSet } from "../model/measurement.ts";
import type { AdvicePlan, Plan } from "../model/plan/plan.ts";
import { reportId } from "../model/reportName.ts";
import { type Said, say } from "../model/say.ts";
import type {
  HistoryValue,
  ReportAdvice,
  ReportFeature,
  ReportInstrument,
  ReportLog,
  SetupReport,
  Verdict,
} from "../model/setupReport.ts";
import { REPORT_SCHEMA } from "../model/setupReport.ts";
import { VERSION } from "../model/version.ts";
import { adviceKinds } from "./advice/index.ts";
import type { AnalysisContext } from "./context.ts";
import { corrections } from "./corrections.ts";
import { withoutExclusions } from "./fitting/exclusions.ts";
import { type FeatureLookup, fitFeatures } from "./fitting/fitFeatures.ts";
import { instrumentOf, readingUncertainty } from "./fitting/instruments.ts";
import { healthChecks } from "./health/index.ts";
import { judgeCharacteristic } from "./judgeCharacteristic.ts";
import { judgeSignOff } from "./judgeSignOff.ts";
import { card } from "./nextMoves.ts";
import { reportFeature } from "./reportFeature.ts";
import { unfitted } from "./unfitted.ts";
import { unproved } from "./unproved.ts";

export { finishReport } from "./finishReport.ts";

export interface AnalyseInput {
  readonly set: MeasurementSet;
  /** The same logs with the rows that the plan leaves out, where reading them left these out already. */
  readonly unabridged?: MeasurementSet | null;
  readonly plan: Plan;
  /** Time of issue, ISO 8601. */
  readonly issued: string;
  /** Values of earlier reports, oldest first, for drift and re-seat. */
  readonly history?: readonly HistoryValue[];
}
/** Nominal coverage factor of the guard band. */
const COVERAGE = 2;

/** One setup computed and judged: revision 1, its logs not yet enclosed. Same input, same result. */
export function analyse(input: AnalyseInput): SetupReport<Said> {
  const { set: measured, plan, issued, history = [] } = input;
  const { set, unused } = withoutExclusions(measured, plan);
  const lookup = fitFeatures(set, plan);
  const context = contextOf({ set, plan, issued, history }, lookup);
  const all = input.unabridged ?? (plan.exclude.length > unused.length ? measured : null);
  const withAll = all === null ? null : fitFeatures(all, plan);
  const health = healthChecks.flatMap((check) => check.check(context));
  const setting = { context, lookup, withAll, health };
  const characteristics = plan.characteristics.map((entry) => judgeCharacteristic(entry, setting));
  const signOffs = plan.signOffs.map((entry) => judgeSignOff(entry, set.signOffs));
  const advised = plan.advice.map((entry) => advise(entry, context));
  const advice = advised.map((entry) => entry.advice);
  const corrected = corrections(lookup, plan);
  const fitted = features(lookup, plan);
  const verdicts = [...characteristics, ...signOffs].map(({ verdict }) => verdict);
  return {
    schema: REPORT_SCHEMA,
    report: { id: reportId(set.setup, plan.name), revision: 1, issued, replaces: null },
    verdict: overall(verdicts),
    counts: counted(verdicts),
    setup: set.setup,
    plan: planOf(plan),
    decision: { rule: plan.decision.rule, guard: plan.decision.guard, coverage: COVERAGE },
    unit: "mm",
    angleUnit: "deg",
    show: plan.show,
    ...(plan.showAlso && plan.showAlso !== plan.show ? { showAlso: plan.showAlso } : {}),
    language: plan.language,
    logs: set.logs.map(logOf),
    instruments: instruments(set, plan),
    features: fitted,
    characteristics,
    advice,
    card: card({ advice, corrections: corrected, characteristics, signOffs, health }),
    corrections: corrected,
    signOffs,
    findings: [
      ...set.findings,
      ...unused.map((entry) => unusedExclusion(entry.line, entry.log ?? entry.feature ?? "")),
      ...unplanned(set, plan),
      ...health.map(({ finding }) => finding),
      ...unfitted(fitted),
      ...unproved(fitted),
      ...advised.flatMap((entry) => entry.findings),
    ],
    generator: { name: "plinth", version: VERSION },
  };
}

const planOf = ({ name, title, source }: Plan): SetupReport["plan"] => ({
  name,
  title,
  get sha256() {
    return source.sha256;
  },
  text: source.text,
});

const logOf = (record: LogRecord): ReportLog<Said> => ({
  name: record.name,
  get sha256() {
    return record.sha256;
  },
  kind: record.kind,
  rows: record.rows,
  used: record.used,
  excluded: record.excluded,
  decisions: record.decisions,
  header: record.header,
});

function contextOf(
  given: Omit<Required<AnalyseInput>, "unabridged">,
  lookup: FeatureLookup,
): AnalysisContext {
  return { ...given, feature: lookup.feature };
}

/** Fail if any fails, else missing, else undecided, else pass. */
function overall(verdicts: readonly Verdict[]): Verdict {
  const worst = (["fail", "missing", "undecided"] as const).find((verdict) => verdicts.includes(verdict));
  return worst ?? "pass";
}
function counted(verdicts: readonly Verdict[]): Record<Verdict, number> {
  const counts = { pass: 0, fail: 0, undecided: 0, missing: 0 };
  for (const verdict of verdicts) counts[verdict]++;
  return counts;
}

const kinds = new Map(adviceKinds.map((kind) => [kind.kind, kind]));
function advise(
  { kind, inputs }: AdvicePlan,
  context: AnalysisContext,
): { advice: ReportAdvice<Said>; findings: readonly SaidFinding[] } {
  const member = kinds.get(kind);
  if (member === undefined) throw new RangeError(`no advice ${kind}`);
  // The plan reader has checked these inputs against the member's own shape.
  const checked = inputs as never;
  return {
    advice: { kind, ...member.advise(checked, context) },
    findings: member.findings?.(checked, context) ?? [],
  };
}

function features(lookup: FeatureLookup, plan: Plan): Record<string, ReportFeature<Said>> {
  const entries = Object.keys(plan.features).flatMap((name) => {
    const described = reportFeature(name, lookup, plan);
    return described === null ? [] : [[name, described] as const];
  });
  return Object.fromEntries(entries);
}

/** The gauges that were used, as the plan describes them; one that it does not describe is listed with what is not known. */
function instruments(set: MeasurementSet, plan: Plan): ReportInstrument[] {
  const used = set.features.map((feature) => instrumentOf(feature, plan)).filter((name) => name !== null);
  return [...new Set(used)].map((name) => {
    const entry = Object.hasOwn(plan.instruments, name) ? plan.instruments[name] : undefined;
    return {
      name,
      uncertainty: entry === undefined ? null : readingUncertainty(entry),
      calibrationDue: entry?.calibrationDue ?? null,
      where: entry?.where ?? null,
    };
  });
}

const unusedExclusion = (line: number, where: string): SaidFinding => ({
  level: "warning",
  code: "exclusion-unused",
  text: say("The plan leaves out line {line} of {where}, but no reading of this setup stands there.", {
    line,
    where,
  }),
  hint: say("Correct the line in the plan, or take the entry away.", {}),
});

/** What was measured and the plan does not expect: kept in the log, judged by nothing. */
function unplanned(set: MeasurementSet, plan: Plan): SaidFinding[] {
  const names = new Set(
    set.features.map(({ name }) => name).filter((name) => !Object.hasOwn(plan.features, name)),
  );
  const checks = new Set(
    set.signOffs.map(({ check }) => check).filter((check) => !plan.signOffs.some(({ id }) => id === check)),
  );
  const finding = (code: string, template: string, name: string): SaidFinding => ({
    level: "warning",
    code,
    text: say(template, { name }),
    hint: say("Check its spelling in log and plan; nothing of it is judged.", {}),
    ...(code === "feature-not-in-plan" && { feature: name }),
  });
  return [
    ...[...names].map((name) =>
      finding("feature-not-in-plan", "{name} was measured, but the plan has no such feature.", name),
    ),
    ...[...checks].map((name) =>
      finding("sign-off-not-in-plan", "{name} was signed, but the plan has no such sign-off.", name),
    ),
  ];
}
