import type { CharacteristicPlanKind, Inputs, PlanShape } from "../../model/plan/fields.ts";
import type { CharacteristicPlan } from "../../model/plan/plan.ts";
import type { Said } from "../../model/say.ts";
import type { Unit } from "../../model/setupReport.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import type { Uncertainty } from "../uncertainty.ts";

export interface CharacteristicEntry<S extends PlanShape> extends CharacteristicPlan {
  readonly inputs: Readonly<Inputs<S>>;
}
/** The features an entry names, fitted, in one state. */
export interface Operands {
  readonly of: FittedFeature;
  readonly to: FittedFeature | null;
}
/** Why data do not decide, whatever the value, and the cheapest way to change that. */
export interface UndecidedReason {
  readonly text: Said;
  readonly remedy: Said;
}
/** A value with its evidence, before the decision. */
export interface Evaluation {
  /** mm, or radians where `unit` is deg; null when it cannot be computed. */
  readonly value: number | null;
  readonly unit: Unit;
  /** In the value's inside unit; null when not known. */
  readonly uncertainty: Uncertainty | null;
  readonly points: number;
  /** Which definition was computed. */
  readonly method: Said;
  /** Empty when the value may be judged. */
  readonly undecided: readonly UndecidedReason[];
  readonly remarks: readonly Said[];
  /** What makes the uncertainty smaller: more readings (as one over the root of their number), a longer span in mm. */
  readonly shrinks: { readonly byPoints: boolean; readonly spanMm: number | null };
}
/** A member of the characteristics shelf. `evaluate` never throws for what the data are like. */
export interface CharacteristicKind<S extends PlanShape = PlanShape> extends CharacteristicPlanKind {
  readonly inputs: S;
  evaluate(entry: CharacteristicEntry<S>, operands: Operands, context: AnalysisContext): Evaluation;
}
