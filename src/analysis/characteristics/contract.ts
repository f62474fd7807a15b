import type { CharacteristicPlanKind, Inputs, PlanShape } from "../../model/plan/fields.ts";
import type { CharacteristicPlan } from "../../model/plan/plan.ts";
import type { Said } from "../../model/say.ts";
import type { Unit } from "../../model/setupReport.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";

export interface CharacteristicEntry<S extends PlanShape> extends CharacteristicPlan {
  readonly inputs: Readonly<Inputs<S>>;
}
/** The features an entry names, fitted, in one state. */
export interface Operands {
  readonly of: FittedFeature;
  readonly to: FittedFeature | null;
}
/** A value with its evidence, before the decision. */
export interface Evaluation {
  /** mm, or radians where `unit` is deg; null when it cannot be computed. */
  readonly value: number | null;
  readonly unit: Unit;
  /** Standard uncertainty in the value's inside unit; null when not known. */
  readonly standardUncertainty: number | null;
  /** Degrees of freedom behind it; infinite where stated uncertainties govern. */
  readonly degreesOfFreedom: number;
  readonly points: number;
  readonly method: Said;
  /** Why these data do not decide, whatever the value; empty when they may. */
  readonly undecided: readonly Said[];
  readonly remarks: readonly Said[];
}
/** A member of the characteristics shelf. */
export interface CharacteristicKind<S extends PlanShape = PlanShape> extends CharacteristicPlanKind {
  readonly inputs: S;
  /** Form, orientation zone of a plane and lobing need `formPoints` of the fit; sizes, places and tilts do not. */
  readonly needsFormPoints: boolean;
  /** Depends on size or place of a surface, and so on the tip being compensated. */
  readonly needsTip: boolean;
  evaluate(entry: CharacteristicEntry<S>, operands: Operands, context: AnalysisContext): Evaluation;
}
