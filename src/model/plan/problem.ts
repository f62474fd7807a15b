/** One thing wrong (or worth knowing) in a plan, with its place: one sentence that says what to do. */
export interface PlanProblem {
  /** File name of the plan. */
  readonly file: string;
  /** 1-based. */
  readonly line: number;
  /** 1-based, in characters. */
  readonly column: number;
  /** Where in the plan: `characteristics[2].max`; empty for the file as a whole. */
  readonly path: string;
  readonly text: string;
}

/** Keys and positions from the root of the plan to a value. */
export type KeyPath = readonly (string | number)[];

/** `characteristics[2].max` */
export function pathText(path: KeyPath): string {
  let text = "";
  for (const part of path) {
    if (typeof part === "number") text += `[${part}]`;
    else text += text === "" ? part : `.${part}`;
  }
  return text;
}

/** `file:line:column: text`, as editors and terminals jump to it. */
export const problemLine = (problem: PlanProblem): string =>
  `${problem.file}:${problem.line}:${problem.column}: ${problem.text}`;
