import type { Level, SaidFinding } from "../model/finding.ts";
import type { LogDecision } from "../model/measurement.ts";
import { type Said, type SaidValue, say } from "../model/say.ts";

export interface Place {
  readonly line?: number;
  readonly column?: number;
  readonly feature?: string;
}
/** Why a log cannot be understood: a value, never thrown. */
export interface Refusal {
  readonly ok: false;
  readonly finding: SaidFinding;
}
type Values = Readonly<Record<string, SaidValue>>;

/** What is decided and noticed while one log is being understood. */
export class Notebook {
  readonly decisions: LogDecision<Said>[] = [];
  readonly findings: SaidFinding[] = [];
  readonly log: string;

  constructor(log: string) {
    this.log = log;
  }

  decide(what: string, value: string, template: string, values: Values = {}): void {
    this.decisions.push({ what, value, because: say(template, values) });
  }

  notice(level: Level, code: string, template: string, values: Values = {}, place: Place = {}): void {
    this.findings.push({ level, code, text: say(template, values), log: this.log, ...place });
  }

  /** One sentence with the log, the line where there is one, what was expected and what to do. */
  refuse(code: string, template: string, values: Values = {}, place: Place = {}): Refusal {
    const where = place.line === undefined ? "{logName}: " : "{logName}, line {logLine}: ";
    const named = { ...values, logName: quotable(this.log), logLine: place.line ?? 0 };
    const text = say(where + template, named);
    return { ok: false, finding: { level: "error", code, text, log: this.log, ...place } };
  }
}

export const isRefusal = (value: unknown): value is Refusal =>
  typeof value === "object" && value !== null && "ok" in value && value.ok === false;

const LONGEST_QUOTE = 40;
/** Text from a log as it may stand in a sentence: no control characters, not endless. */
export function quotable(text: string): string {
  const clean = withoutControls(text.slice(0, LONGEST_QUOTE + 1));
  return clean.length > LONGEST_QUOTE ? `${clean.slice(0, LONGEST_QUOTE)}…` : clean;
}

const CONTROLS = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;
/** Control characters, and those that turn the direction of writing, become blanks. */
export const withoutControls = (text: string): string => text.replace(CONTROLS, " ");

/** `1 row`, `2 rows`. */
export const counted = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? "" : "s"}`;

/** `a`, `a and b`, `a, b and c`. */
export const listed = (items: readonly string[], joint = "and"): string =>
  items.length < 2 ? (items[0] ?? "") : `${items.slice(0, -1).join(", ")} ${joint} ${items.at(-1)}`;
