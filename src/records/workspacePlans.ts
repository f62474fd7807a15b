import { join } from "node:path";
import type { Effects } from "../model/effects.ts";
import type { Plan } from "../model/plan/plan.ts";
import type { Settings } from "../model/settings.ts";
import { Trouble } from "../model/trouble.ts";
import { readPlanFile } from "./planFile.ts";
import type { WorkspacePaths } from "./workspace.ts";

/** A file in the plans folder: a plan, or why it is none. */
export interface WorkspacePlan {
  /** File name without ending. */
  readonly stem: string;
  readonly plan: Plan | null;
  /** Its mistakes, one a line; empty for a plan that is right. */
  readonly mistakes: string;
}
export type PlanChoice = { readonly plan: Plan } | { readonly because: string };

/** All plans of a workspace, by file name. A plan with mistakes is listed with them: only logs that need it suffer. */
export async function workspacePlans(effects: Effects, paths: WorkspacePaths): Promise<WorkspacePlan[]> {
  const entries = await effects.listFolder(paths.plans);
  const plans: WorkspacePlan[] = [];
  for (const { name, kind } of entries) {
    const stem = /^([^.].*)\.ya?ml$/i.exec(name)?.[1];
    if (kind !== "file" || stem === undefined) continue;
    try {
      plans.push({ stem, plan: await readPlanFile(effects, join(paths.plans, name)), mistakes: "" });
    } catch (error) {
      if (!(error instanceof Trouble && error.kind === "usage")) throw error;
      plans.push({ stem, plan: null, mistakes: error.message });
    }
  }
  return plans;
}

/**
 * The plan of a log: the one its header names, else the one whose patterns fit its file name (those in the settings first,
 * in their order, then those of the plans). Where none or several fit, the question that the person must answer.
 */
export function choosePlan(
  log: { readonly name: string; readonly header: Readonly<Record<string, string>> },
  plans: readonly WorkspacePlan[],
  settings: Pick<Settings, "match">,
): PlanChoice {
  const named = log.header.plan?.trim();
  if (named !== undefined && named !== "") return byName(named, plans, `the header says plan: ${named}`);
  const rule = settings.match.find(({ patterns }) => patterns.some((pattern) => matches(pattern, log.name)));
  if (rule !== undefined) return byName(rule.plan, plans, `plinth.yaml says match: ${rule.plan}`);
  const fitting = plans.filter(({ plan }) => plan?.match?.some((pattern) => matches(pattern, log.name)));
  const [only] = fitting;
  if (fitting.length === 1 && only?.plan) return { plan: only.plan };
  if (fitting.length > 1)
    return {
      because: `the patterns of several plans fit its name (${fitting.map(({ stem }) => stem).join(", ")}). Which is it? Add a line "# plan: NAME" at the top of the log.`,
    };
  return {
    because: `it names no plan, and no pattern fits its name. Which plan is it for? Add a line "# plan: NAME" at the top of the log, or a pattern under match: in plinth.yaml. Plans: ${listOf(plans)}.`,
  };
}

function byName(name: string, plans: readonly WorkspacePlan[], because: string): PlanChoice {
  const bare = name.replace(/\.ya?ml$/i, "");
  const found = plans.find(({ plan }) => plan?.name === bare) ?? plans.find(({ stem }) => stem === bare);
  if (found === undefined)
    return { because: `${because}, but plans/ has no such plan. Plans: ${listOf(plans)}.` };
  if (found.plan !== null) return { plan: found.plan };
  return {
    because: `${because}, but that plan has mistakes: ${found.mistakes}\nMend the plan and drop the log again.`,
  };
}
const listOf = (plans: readonly WorkspacePlan[]): string =>
  plans.length === 0 ? "none yet" : plans.map(({ plan, stem }) => plan?.name ?? stem).join(", ");

/** `*` is any text, `?` one character; case does not count. */
function matches(pattern: string, name: string): boolean {
  const expression = pattern
    .replace(/[.+^${}()|[\]\\]/g, "\\$&")
    .replace(/\*+/g, "[^]*")
    .replaceAll("?", "[^]");
  return new RegExp(`^${expression}$`, "iu").test(name);
}
