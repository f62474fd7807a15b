import { normalProbability } from "../math/normalDistribution.ts";
import type { Decision, Limits } from "../model/plan/plan.ts";
import { type Said, type SaidValue, say } from "../model/say.ts";
import type { Unit, Verdict } from "../model/setupReport.ts";
import { expanded, type Uncertainty } from "./uncertainty.ts";

export interface Question {
  /** Value and limits in mm, or in radians where `unit` is deg. */
  readonly value: number | null;
  readonly uncertainty: Uncertainty | null;
  readonly limits: Limits;
  readonly decision: Decision;
  readonly unit: Unit;
  /** Reasons why the data do not decide, whatever the value. */
  readonly reasons: readonly Said[];
}
export interface Judgement {
  readonly verdict: Verdict;
  readonly because: Said;
  /** Probability that the true value lies inside the limits; null without value, uncertainty or limits. */
  readonly conformance: number | null;
  /** Guard band in the value's inside unit; null where none can be told. */
  readonly guardBand: number | null;
}

/** Differences below this part of a millimetre or radian (or of the numbers, if larger) are rounding, not measurement. */
const ROUNDING = 1e-11;

/**
 * The one decision rule. With a guard band w (0 under `simple`, `guard` times the expanded uncertainty under `guarded`):
 * pass inside each limit by w or more, fail outside by more than w, else undecided. A reason that the data do not decide
 * comes before any comparison. Source: JCGM 106:2012, 8.3; ISO 14253-1 (guard bands; from memory).
 * @example decide({value: 0.3, uncertainty: null, limits: {nominal: null, lower: null, upper: 0.5}, decision: {rule: "simple", guard: 0}, unit: "mm", reasons: []}) // pass
 */
export function decide(question: Question): Judgement {
  const { value, uncertainty, limits, decision, reasons } = question;
  const conformance = value === null ? null : conformanceOf(value, uncertainty, limits);
  const stop = (because: Said): Judgement => ({
    verdict: "undecided",
    because,
    conformance,
    guardBand: null,
  });
  if (reasons[0] !== undefined) return stop(reasons[0]);
  if (value === null) return stop(say("There is no value to judge.", {}));
  if (limits.lower === null && limits.upper === null) return stop(say("The plan states no limit.", {}));
  if (decision.rule === "guarded" && uncertainty === null)
    return stop(say("No uncertainty is known, and the rule asks for a guard band.", {}));
  const guardBand =
    decision.rule === "simple" || uncertainty === null ? 0 : decision.guard * expanded(uncertainty);
  const compared = compare(value, limits, guardBand);
  return {
    verdict: compared.verdict,
    because: sentence(compared, question, guardBand),
    conformance,
    guardBand,
  };
}

interface Compared {
  readonly verdict: "pass" | "fail" | "undecided";
  /** The limit that settled it: the one broken, else the nearer one. */
  readonly side: "upper" | "lower";
  readonly limit: number;
}

function compare(value: number, { lower, upper }: Limits, guardBand: number): Compared {
  const sides = [
    ...(upper === null ? [] : [{ side: "upper" as const, limit: upper, room: upper - value }]),
    ...(lower === null ? [] : [{ side: "lower" as const, limit: lower, room: value - lower }]),
  ].sort((a, b) => a.room - b.room);
  const nearest = sides[0]!;
  const slack = ROUNDING * Math.max(1, Math.abs(value), Math.abs(nearest.limit));
  const verdict =
    nearest.room < -guardBand - slack ? "fail" : nearest.room >= guardBand - slack ? "pass" : "undecided";
  return { verdict, side: nearest.side, limit: nearest.limit };
}

const TEMPLATES = {
  upper: {
    pass: "{value} is not above {limit}",
    fail: "{value} is above {limit}",
    passGuarded: "{value} is below {limit} less the guard band {guard}",
    failGuarded: "{value} is above {limit} by more than the guard band {guard}",
    undecided: "{value} is within the guard band {guard} of the limit {limit}",
  },
  lower: {
    pass: "{value} is not below {limit}",
    fail: "{value} is below {limit}",
    passGuarded: "{value} is above {limit} plus the guard band {guard}",
    failGuarded: "{value} is below {limit} by more than the guard band {guard}",
    undecided: "{value} is within the guard band {guard} of the limit {limit}",
  },
} as const;

function sentence({ verdict, side, limit }: Compared, question: Question, guardBand: number): Said {
  const words = TEMPLATES[side];
  const values = { value: saidResult(question), limit: saidValue(limit, question.unit, "limit") };
  if (verdict !== "undecided" && guardBand <= 0)
    return say(verdict === "pass" ? words.pass : words.fail, values);
  const template =
    verdict === "undecided" ? words.undecided : verdict === "pass" ? words.passGuarded : words.failGuarded;
  return say(template, { ...values, guard: saidValue(guardBand, question.unit, "uncertainty") });
}

/** The result with the digits that its uncertainty allows and its limits ask for, as the table of results has it. */
export function saidResult({
  value,
  uncertainty,
  limits,
  unit,
}: Pick<Question, "value" | "uncertainty" | "limits" | "unit">): SaidValue {
  const inUnit = (inside: number | null): number | null =>
    inside === null || unit === "mm" ? inside : toDegrees(inside);
  const rounding = {
    uncertainty: uncertainty === null ? null : inUnit(expanded(uncertainty)),
    beside: [inUnit(limits.lower), inUnit(limits.upper)],
  };
  const shown = inUnit(value) ?? Number.NaN;
  return unit === "mm" ? { mm: shown, ...rounding } : { deg: shown, ...rounding };
}

/** A value in mm, or in radians where the unit is deg, for a sentence. */
const saidValue = (inside: number, unit: Unit, as: "limit" | "uncertainty"): SaidValue =>
  unit === "mm" ? { mm: inside, as } : { deg: toDegrees(inside), as };
export const toDegrees = (radians: number): number => (radians * 180) / Math.PI;

/**
 * Probability that the true value lies inside the limits, the value being normally distributed about what was measured.
 * Source: JCGM 106:2012, 7.
 */
export function conformanceOf(
  value: number,
  uncertainty: Uncertainty | null,
  { lower, upper }: Limits,
): number | null {
  if (uncertainty === null || (lower === null && upper === null)) return null;
  const below = (limit: number): number =>
    uncertainty.standard > 0
      ? normalProbability((limit - value) / uncertainty.standard)
      : limit >= value
        ? 1
        : 0;
  const above = lower === null ? 0 : uncertainty.standard > 0 ? below(lower) : lower > value ? 1 : 0;
  return Math.max(0, (upper === null ? 1 : below(upper)) - above);
}
