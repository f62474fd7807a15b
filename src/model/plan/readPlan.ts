import type { PlanKinds } from "./fields.ts";
import { readLimits } from "./limitRules.ts";
import type { Plan, PlanSource } from "./plan.ts";
import type { PlanProblem } from "./problem.ts";
import { checkRules } from "./rules.ts";
import { Remarks, readSections } from "./sections.ts";
import { toPlan } from "./toPlan.ts";
import { readYaml } from "./yamlSource.ts";

export interface PlanText extends PlanSource {
  /** What may stand under `characteristics` and `advice`. */
  readonly kinds: PlanKinds;
}
export type PlanReading =
  | { readonly ok: true; readonly plan: Plan; readonly notes: readonly PlanProblem[] }
  | { readonly ok: false; readonly problems: readonly PlanProblem[] };

/** Reads and checks a plan. Every problem is told at once, in the order of the file; never throws for what a text says. */
export function readPlan(given: PlanText): PlanReading {
  const { text, name, kinds } = given;
  const yaml = readYaml(text, name);
  if (!yaml.ok) return yaml;
  const remarks = new Remarks(yaml.source);
  const sections = readSections(yaml.source, kinds, remarks);
  checkRules(sections, remarks);
  const limits = new Map(sections.characteristics.map((entry) => [entry, readLimits(entry, remarks)]));
  // What was refused as it stands is not also told to be of the wrong sort.
  const refused = new Set(yaml.problems.map((problem) => problem.path).filter((path) => path !== ""));
  const others = remarks.problems.filter((problem) => !refused.has(problem.path));
  const problems = inOrder([...yaml.problems, ...others]);
  if (problems.length > 0) return { ok: false, problems };
  const source = {
    name,
    text,
    get sha256() {
      return given.sha256;
    },
  };
  return { ok: true, plan: toPlan(sections, limits, source), notes: inOrder(remarks.notes) };
}

/** By place; what is told twice in the same words at the same place is told once. */
function inOrder(problems: readonly PlanProblem[]): PlanProblem[] {
  const seen = new Set<string>();
  return problems
    .filter((problem) => {
      const key = `${problem.line}:${problem.column}:${problem.text}`;
      return !seen.has(key) && seen.add(key);
    })
    .toSorted((a, b) => a.line - b.line || a.column - b.column);
}
