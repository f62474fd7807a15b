import type { FeaturePlan } from "../../../model/plan/plan.ts";
import type { ReportFeature } from "../../../model/setupReport.ts";
import type { XmlChildren } from "../xml.ts";

/** All that is known of one feature. */
export interface FeatureFacts {
  readonly name: string;
  /** `plane`, `circle`, ...; `feature` when neither record nor plan says. */
  readonly fit: string;
  /** Null when nothing was measured. */
  readonly record: ReportFeature | null;
  /** Null when the plan cannot be read any more. */
  readonly plan: FeaturePlan | null;
  /** The diameter aimed at, from a characteristic or the plan's radius; null when nobody states one. */
  readonly nominalDiameter: number | null;
}
/** What the three aspects of a feature hold beyond what all features share, each in the order of the schema. */
export interface FeatureAspects {
  readonly definition: XmlChildren;
  readonly nominal: XmlChildren;
  readonly measurement: XmlChildren;
}
/** A member of the shelf of feature shapes (ISO 23952:2020, Features). */
export interface FeatureShape {
  /** The fits it stands for. */
  readonly fits: readonly string[];
  /** Start of its element names: `Plane` in `PlaneFeatureItem`. */
  readonly element: string;
  /** False for a feature made from others. */
  readonly touched: boolean;
  /** Null when less is known than the schema asks for. */
  aspects(facts: FeatureFacts): FeatureAspects | null;
}
