import type { Outcome } from "../../math/outcome.ts";
import type { Points3 } from "../../math/points.ts";
import type { Vec3 } from "../../math/vector.ts";
import type { FeaturePlan, FitName } from "../../model/plan/plan.ts";
import type { Said } from "../../model/say.ts";
import type { FormZone, RoundSize } from "../../model/setupReport.ts";
import type { FitParameters, FittedFeature, Geometry } from "../fittedFeature.ts";

/** What a fit is given. */
export interface FitInput {
  /** Points in mm: surface points, or ball centres when `ballRadius` is not zero. */
  readonly points: Points3;
  /** Outward directions of the touches where the log has them, one for each point; null otherwise. */
  readonly touches: Points3 | null;
  readonly plan: FeaturePlan;
  /** Effective radius of the ball to take off along the fitted normal, mm; 0 for surface points. */
  readonly ballRadius: number;
  /** Fitted features an axis goes through, in order. */
  readonly through: readonly FittedFeature[];
}
export interface FitResult {
  readonly geometry: Geometry;
  /** Surface points after compensation. */
  readonly points: Points3;
  readonly residuals: Float64Array;
  readonly rmsMm: number;
  readonly degreesOfFreedom: number;
  readonly scatterMm: number | null;
  readonly condition: number | null;
  readonly iterations: number;
  readonly parameters: FitParameters;
  readonly extent: readonly [number, number] | null;
  /** Why `ballRadius` could not be taken off: the side of the material is not known. Null otherwise. */
  readonly tipProblem: Said | null;
  /** See `FittedFeature.derived`. */
  readonly derived: ((through: readonly Geometry[]) => Geometry) | null;
}
/** Form and extreme sizes of a fitted feature, computed when asked for. */
export interface FormResult {
  readonly zone: FormZone | null;
  /** Place of each point across the zone, mm, rising to its upper or outer side; empty without a zone. */
  readonly places: (zone: ZoneKind) => Float64Array;
  readonly inscribed: HeldSize | null;
  readonly circumscribed: HeldSize | null;
}
/** Nothing that could have a form. */
export const NO_FORM: FormResult = {
  zone: null,
  places: () => new Float64Array(0),
  inscribed: null,
  circumscribed: null,
};
/** An extreme size with the share that each holding point has in its radius; shares sum to one. */
export interface HeldSize {
  readonly size: RoundSize;
  readonly weights: readonly number[];
  /** Distance of each point from the middle of that round, mm. */
  readonly radii: () => Float64Array;
}
/** The least zone, or the one about the least-squares fit. */
export type ZoneKind = "minimum" | "least-squares";
/** A member of the features shelf: one fit. */
export interface FitKind {
  readonly fit: FitName;
  /** Fewest points that determine it. */
  readonly minimumPoints: number;
  /** Fewest points for a verdict on its form; null where it has no form. */
  readonly formPoints: number | null;
  /** A single surface, whose place depends on the tip being taken off (plane, line, point); rounds keep their centres. */
  readonly singleSurface: boolean;
  fitTo(input: FitInput): Outcome<{ readonly value: FitResult }>;
  /** What so few points cannot show, where `count` is below what a form needs; null where that says nothing. */
  blindness(count: number): Said | null;
  /** Distance of a place from the feature in mm: positive out of the material or away from the axis; of a line unsigned. */
  distance(geometry: Geometry, place: Vec3): number;
  formOf(feature: FittedFeature): Outcome<{ readonly value: FormResult }>;
}
