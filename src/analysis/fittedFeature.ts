import type { Points3 } from "../math/points.ts";
import type { Vec3 } from "../math/vector.ts";
import type { MeasuredFeature, State } from "../model/measurement.ts";
import type { FeaturePlan, FitName } from "../model/plan/plan.ts";
import type { Said } from "../model/say.ts";
import type { FitQuality } from "../model/setupReport.ts";

/** Where a fitted feature is: lengths in mm in the frame of the log. */
export interface Geometry {
  readonly center: Vec3;
  /** Unit normal (plane, circle: out of the material) or axis (line, cylinder, axis); null where there is none. */
  readonly direction: Vec3 | null;
  /** Radius in mm; null where there is none. */
  readonly radius: number | null;
}

/** The scatter that scales the covariance of a fit. */
export interface ReadingScale {
  /** Standard deviation of one reading in mm: the larger of the stated and the seen one; null when neither is known. */
  readonly sigmaMm: number | null;
  /** Degrees of freedom behind it: those of the fit where the seen scatter governs, infinite where the stated one does. */
  readonly degreesOfFreedom: number;
  readonly by: "stated" | "seen" | "none";
  /** Stated standard uncertainty of one reading in mm (for form, which the seen scatter contains); null when not stated. */
  readonly statedMm: number | null;
}

/** Small changes of a fit's own parameters, for propagation. */
export interface FitParameters {
  /** Covariance of the parameters for a reading scatter of one (mm), square, in the order that `at` takes. */
  readonly covariance: readonly (readonly number[])[];
  /** The geometry when the parameters change by `delta` (mm, or radians for slopes). */
  at(delta: readonly number[]): Geometry;
}

/** A feature that could be fitted. */
export interface FittedFeature {
  readonly ok: true;
  readonly name: string;
  readonly fit: FitName;
  readonly state: State;
  readonly plan: FeaturePlan | null;
  /** What it was fitted to; null for an axis through other features. */
  readonly measured: MeasuredFeature | null;
  /** Surface points in mm after tip compensation. */
  readonly points: Points3;
  readonly count: number;
  readonly geometry: Geometry;
  /** Signed distance of each point from the fit in mm, positive out of the material or away from the axis. */
  readonly residuals: Float64Array;
  readonly rmsMm: number;
  readonly quality: FitQuality;
  readonly scale: ReadingScale;
  readonly parameters: FitParameters;
  /** Lowest and highest place along the direction from `center`, mm (measured length); null where it has no sense. */
  readonly extent: readonly [number, number] | null;
  /** The features an axis goes through, in order; empty otherwise. */
  readonly through: readonly FittedFeature[];
  /**
   * Geometry from the geometries of `through`, for a feature that is built from others; null for a measured one, whose
   * own `parameters` then carry its covariance.
   */
  readonly derived: ((through: readonly Geometry[]) => Geometry) | null;
  /** The tip state is unknown: sizes and places of single surfaces cannot be told, slopes, form and round centres can. */
  readonly tipUnknown: boolean;
  /** Why the tip could not be taken off; null where it was, or where there was none. */
  readonly tipProblem: Said | null;
  /** Key of the gauge in the plan or the log's header; null when none is named. */
  readonly instrument: string | null;
}
/** A feature that is measured and gave no number, or is not measured at all. */
export interface UnfittedFeature {
  readonly ok: false;
  readonly name: string;
  readonly fit: FitName;
  /** `missing`: nothing was measured. `trouble`: measured, but no number. */
  readonly why: "missing" | "trouble";
  readonly state: State | null;
  readonly count: number;
  readonly text: Said;
}
export type FeatureResult = FittedFeature | UnfittedFeature;
