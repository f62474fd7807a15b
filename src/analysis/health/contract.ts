import type { SaidFinding } from "../../model/finding.ts";
import type { Said } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";

/** Something a check noticed, and what it stops. */
export interface HealthResult {
  readonly finding: SaidFinding;
  /** Features whose characteristics cannot be decided because of it; `all` for the whole setup; empty for a mere note. */
  readonly undecides: readonly string[] | "all";
  /** What to do before any move of the card. */
  readonly again?: Said;
}
/** A member of the health shelf: one check on the data. `code` is the code of its findings. */
export interface HealthCheck {
  readonly code: string;
  check(context: AnalysisContext): readonly HealthResult[];
}
