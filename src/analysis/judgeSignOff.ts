import { ANSWERS } from "../model/language.ts";
import type { SignOffReading } from "../model/measurement.ts";
import type { SignOffPlan } from "../model/plan/plan.ts";
import { type Dimension, toInside, unitOf } from "../model/quantity.ts";
import { type Said, type SaidValue, say } from "../model/say.ts";
import type { ReportSignOff, Verdict } from "../model/setupReport.ts";

/** Yes or no by every word for it. */
const SAID = new Map(
  Object.values(ANSWERS).flatMap((words) =>
    (["yes", "no"] as const).flatMap((answer) => words[answer].map((word) => [word, answer] as const)),
  ),
);
const DIMENSIONS: readonly Dimension[] = [
  "torque",
  "length",
  "angle",
  "pressure",
  "force",
  "mass",
  "temperature",
  "temperature-difference",
  "expansion",
  "density",
];
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/**
 * A sign-off of the plan against what people wrote: the last entry counts. `yes` passes, `no` fails; a number is compared
 * with the plan's limits in the plan's unit, converted exactly. Nothing written is `missing`; a number without a unit where
 * the plan has one, or an answer that is neither, is `undecided`. The value is compared, never prescribed.
 * @example judgeSignOff({id: "chuck-torque", ask: "", unit: "N·m", lower: null, upper: 95}, readings)
 */
export function judgeSignOff(plan: SignOffPlan, readings: readonly SignOffReading[]): ReportSignOff<Said> {
  const last = readings.filter(({ check }) => check === plan.id).at(-1) ?? null;
  const limits = { lower: plan.lower, upper: plan.upper };
  const shared = { id: plan.id, ask: plan.ask, by: last?.by ?? null, time: last?.time ?? null, limits };
  if (last === null || last.value.trim() === "")
    return {
      ...shared,
      value: null,
      unit: plan.unit,
      verdict: "missing",
      because: say("Nobody has signed it.", {}),
    };
  const asked = plan.unit !== null || plan.lower !== null || plan.upper !== null;
  const judged = asked ? judgeNumber(plan, last) : judgeAnswer(last.value);
  return { ...shared, ...judged };
}

type Judged = Pick<ReportSignOff<Said>, "value" | "written" | "unit" | "verdict" | "because">;

function judgeAnswer(written: string): Judged {
  const answer = SAID.get(written.trim().toLowerCase());
  if (answer === "yes")
    return { value: written, unit: null, verdict: "pass", because: say("It was confirmed.", {}) };
  if (answer === "no")
    return { value: written, unit: null, verdict: "fail", because: say("It was answered with no.", {}) };
  return {
    value: written,
    unit: null,
    verdict: "undecided",
    because: say('"{answer}" is neither yes nor no.', { answer: written }),
  };
}

function judgeNumber(plan: SignOffPlan, { value: written, unit }: SignOffReading): Judged {
  const text = written.trim();
  const undecided = (because: Said, value: number | string): Judged => ({
    value,
    unit: unit ?? plan.unit,
    verdict: "undecided",
    because,
  });
  if (SAID.get(text.toLowerCase()) === "no")
    return { value: written, unit: null, verdict: "fail", because: say("It was answered with no.", {}) };
  if (!NUMBER.test(text)) return undecided(say('"{answer}" is not a number.', { answer: written }), written);
  const number = Number(text);
  const blank = unit === null || unit.trim() === "";
  if (plan.unit === null && !blank)
    return undecided(say("It has the unit {unit}, and the plan states none.", { unit: unit ?? "" }), number);
  if (plan.unit === null) return { value: number, unit: null, ...compare(number, plan, "") };
  if (blank)
    return {
      ...undecided(say("The number has no unit, and the plan asks for {unit}.", { unit: plan.unit }), number),
      unit: null,
    };
  const converted = convert(number, unit ?? "", plan.unit);
  if (converted === null)
    return undecided(
      say("{unit} cannot be compared with {wanted}.", { unit: unit ?? "", wanted: plan.unit }),
      number,
    );
  return {
    value: converted,
    ...(converted === number ? {} : { written: { value: number, unit: unit?.trim() ?? "" } }),
    unit: plan.unit,
    ...compare(converted, plan, plan.unit),
  };
}

/** A number in another unit of the same dimension; null when there is none. The same unit keeps every digit. */
function convert(value: number, from: string, to: string): number | null {
  if (from.trim() === to.trim()) return value;
  const dimension = DIMENSIONS.find(
    (candidate) => unitOf(from, candidate) !== null && unitOf(to, candidate) !== null,
  );
  if (dimension === undefined) return null;
  if (unitOf(from, dimension) === unitOf(to, dimension)) return value;
  const zero = toInside(0, to, dimension);
  return (toInside(value, from, dimension) - zero) / (toInside(1, to, dimension) - zero);
}

function compare(
  value: number,
  { lower, upper }: SignOffPlan,
  unit: string,
): { verdict: Verdict; because: Said } {
  const said = (number: number): SaidValue => ({ value: number, unit });
  const slack = 1e-12 * Math.max(1, Math.abs(value));
  if (upper !== null && value > upper + slack)
    return {
      verdict: "fail",
      because: say("{value} is above {limit}", { value: said(value), limit: said(upper) }),
    };
  if (lower !== null && value < lower - slack)
    return {
      verdict: "fail",
      because: say("{value} is below {limit}", { value: said(value), limit: said(lower) }),
    };
  return { verdict: "pass", because: say("{value} is inside the limits", { value: said(value) }) };
}
