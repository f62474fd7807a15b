import type { Said } from "./say.ts";

export type Level = "note" | "warning" | "error";

/**
 * Something noticed about data or a result. `code` is stable and lower-case with hyphens; a reader may rely on it.
 * In the pipeline the text is `Said`; in the finished report it is the plain English sentence.
 */
export interface Finding<Text = string> {
  readonly level: Level;
  readonly code: string;
  /** What it is and what it means, one sentence. */
  readonly text: Text;
  /** The next check, or what to do. */
  readonly hint?: Text;
  readonly log?: string;
  /** 1-based line in the log. */
  readonly line?: number;
  /** 1-based cell in the line. */
  readonly column?: number;
  readonly feature?: string;
  readonly characteristic?: string;
}
export type SaidFinding = Finding<Said>;
