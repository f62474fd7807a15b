import { basename } from "node:path";
import { planKinds } from "../analysis/planKinds.ts";
import type { ReadingEffects } from "../model/effects.ts";
import type { Plan, PlanSource } from "../model/plan/plan.ts";
import { problemLine } from "../model/plan/problem.ts";
import { readPlan } from "../model/plan/readPlan.ts";
import { Trouble } from "../model/trouble.ts";
import { hashed, read } from "./readLogs.ts";

/** Reads and checks a plan file. Throws Trouble `usage` with one line for each mistake, `unreachable` when it is not there. */
export async function readPlanFile(effects: ReadingEffects, path: string): Promise<Plan> {
  const bytes = await read(effects, path);
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new Trouble("usage", `${path}: the plan is not UTF-8 text; save it as UTF-8.`);
  }
  return planFromText(hashed({ name: basename(path), text }, bytes));
}

/** Checks a plan given as text. Throws Trouble `usage` with one line for each mistake. */
export function planFromText(source: PlanSource): Plan {
  const result = readPlan({
    name: source.name,
    text: source.text,
    get sha256() {
      return source.sha256;
    },
    kinds: planKinds,
  });
  if (result.ok) return result.plan;
  throw new Trouble("usage", result.problems.map(problemLine).join("\n"));
}
