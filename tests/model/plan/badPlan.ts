import { problemLine } from "../../../src/model/plan/problem.ts";
import { readPlan } from "../../../src/model/plan/readPlan.ts";
import { SAMPLE_KINDS } from "./sampleKinds.ts";

export const HEAD = "plinth: 1\ndecision: {rule: simple}\n";
export const FEATURES =
  "features:\n  f: {fit: plane}\n  g: {fit: plane}\n  c: {fit: circle}\n  d: {fit: cylinder}\n";
/** The entry stands in line 9, its first key in column 6. */
export const characteristic = (keys: string) => `${HEAD}${FEATURES}characteristics:\n  - {${keys}}\n`;
export const advice = (keys: string) => `${HEAD}${FEATURES}advice:\n  - {${keys}}\n`;

export interface BadPlan {
  readonly what: string;
  readonly text: string;
  /** line:column: sentence */
  readonly says: readonly string[];
}

/** What the reader says to a text, as line:column: sentence, in the order of the file. */
export function told(text: string): string[] {
  const read = readPlan({ text, name: "bad.yaml", sha256: "0", kinds: SAMPLE_KINDS });
  return read.ok ? [] : read.problems.map((problem) => problemLine(problem).replace(/^bad\.yaml:/, ""));
}
