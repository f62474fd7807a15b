import type { SaidFinding } from "../../model/finding.ts";
import type { Inputs, PlanKind, PlanShape } from "../../model/plan/fields.ts";
import type { Said } from "../../model/say.ts";
import type { Move, ReportAdvice } from "../../model/setupReport.ts";
import type { AnalysisContext } from "../context.ts";

/** What a member of the shelf answers; the pipeline adds the kind. */
export type Advice = Omit<ReportAdvice<Said>, "kind">;

/**
 * A member of the advice shelf. `inputs` are the keys of the plan's entry besides `kind`, as they stand in the file.
 * The result never throws for what the data are like: without a number it is `undecided` or `missing` and the headline
 * says why.
 */
export interface AdviceKind<S extends PlanShape = PlanShape> extends PlanKind {
  readonly inputs: S;
  /** Place in the order of doing: the seat first, then turns and shifts of metal, then cuts, then what is typed in. */
  readonly turn: number;
  /** Kinds of characteristic of its features that become better when it is done. */
  readonly mends: readonly string[];
  /** Lines of the card for the moves that its headline leaves out, in the order of doing. */
  others?(moves: readonly Move[]): readonly Said[];
  advise(inputs: Readonly<Inputs<S>>, context: AnalysisContext): Advice;
  /** What this advice noticed about data or plan beyond its own page: an assumed frame, data against the plan. */
  findings?(inputs: Readonly<Inputs<S>>, context: AnalysisContext): readonly SaidFinding[];
}
