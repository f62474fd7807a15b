import type { ReportCharacteristic } from "../../../model/setupReport.ts";
import type { QifFeature } from "../qifFeatures.ts";
import type { XmlChildren } from "../xml.ts";

/** All that is known of one characteristic. */
export interface CharacteristicFacts {
  readonly record: ReportCharacteristic;
  /** The plan's own keys of this kind, lengths in mm and angles in radians; empty when the plan cannot be read any more. */
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly of: readonly QifFeature[];
  readonly to: QifFeature | null;
  feature(name: string): QifFeature | null;
  /** Number of the datum reference frame of a feature. */
  frameOf(datum: QifFeature): number;
}
export type Algorithm = "LEASTSQUARES" | "MINMAX" | "MAXINSCRIBED" | "MINCIRCUMSCRIBED";
/** What the aspects of a characteristic hold beyond what all share, each in the order of the schema. */
export interface CharacteristicForm {
  /** Start of its element names: `Flatness` in `FlatnessCharacteristicItem`. */
  readonly element: string;
  /** The features it is a characteristic of; datums stand in the reference frame. */
  readonly features: readonly QifFeature[];
  readonly definition: XmlChildren;
  readonly nominal?: XmlChildren;
  /** What stands before the measured value. */
  readonly measurement?: XmlChildren;
  readonly algorithm?: Algorithm;
}
/** A member of the shelf of characteristics (ISO 23952:2020, Characteristics). */
export interface CharacteristicKindForm {
  readonly kinds: readonly string[];
  /** Null where the standard has no characteristic for it: it is then written as a user-defined one. */
  form(facts: CharacteristicFacts): CharacteristicForm | null;
}
