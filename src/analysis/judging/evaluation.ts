import { type Said, say } from "../../model/say.ts";
import type { Unit } from "../../model/setupReport.ts";
import type { Evaluation, Operands, UndecidedReason } from "../characteristics/contract.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";

/** An evaluation with the parts that are usually empty left out. */
export type EvaluationParts = Pick<Evaluation, "value" | "uncertainty" | "points" | "method"> &
  Partial<Evaluation>;

export const evaluation = (parts: EvaluationParts): Evaluation => ({
  unit: "mm",
  undecided: [],
  remarks: [],
  shrinks: { byPoints: false, spanMm: null },
  ...parts,
});

/** No value, with the one reason why. */
export const noValue = (
  { of }: Operands,
  reason: UndecidedReason,
  { unit = "mm" as Unit, method = say("not computed", {}) as Said } = {},
): Evaluation =>
  evaluation({ value: null, unit, uncertainty: null, points: of.count, method, undecided: [reason] });

/** The stated straightness of a travel, scaled to the value, as an extra standard uncertainty; empty when not stated. */
export function travelTerm({ plan }: AnalysisContext, factor = 1): readonly number[] {
  const { straightnessMm } = plan.machine;
  return straightnessMm === null ? [] : [straightnessMm * factor];
}

/** Length of the measured part of a line, cylinder or axis, mm. */
export const measuredLength = ({ extent }: FittedFeature): number =>
  extent === null ? 0 : extent[1] - extent[0];

/** Number of points behind operands. */
export const pointsOf = (feature: FittedFeature): number =>
  feature.derived === null
    ? feature.count
    : feature.through.reduce((total, part) => total + pointsOf(part), 0);
