import type { Inputs, PlanKind, PlanShape } from "../../model/plan/fields.ts";
import type { Said } from "../../model/say.ts";
import type { ReportAdvice } from "../../model/setupReport.ts";
import type { AnalysisContext } from "../context.ts";

/**
 * A member of the advice shelf. `inputs` are the keys of the plan's entry besides `kind`, as they stand in the file.
 * The result never throws for what the data are like: without a number it is `undecided` or `missing` and the headline
 * says why.
 */
export interface AdviceKind<S extends PlanShape = PlanShape> extends PlanKind {
  readonly inputs: S;
  advise(inputs: Readonly<Inputs<S>>, context: AnalysisContext): Omit<ReportAdvice<Said>, "kind">;
}
