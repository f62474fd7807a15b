import type { Language } from "../language.ts";
/**
 * A plan as the pipeline sees it: checked, lengths in mm, angles in radians, temperatures in degrees Celsius,
 * names as written. Keys are camelCase here and lower-case with hyphens in the file.
 */
export interface Plan {
  readonly name: string;
  readonly title: string;
  readonly show: "mm" | "in";
  /** The other unit of length, in brackets behind; null: one unit is enough. */
  readonly showAlso?: "mm" | "in" | null;
  readonly language: Language;
  readonly decision: Decision;
  readonly machine: MachinePlan;
  readonly instruments: Readonly<Record<string, InstrumentPlan>>;
  readonly logs: LogsPlan;
  readonly features: Readonly<Record<string, FeaturePlan>>;
  readonly characteristics: readonly CharacteristicPlan[];
  readonly advice: readonly AdvicePlan[];
  readonly signOffs: readonly SignOffPlan[];
  /** Fewest points for a form verdict, by fit, where the shop accepts other numbers than the defaults. */
  readonly points: Readonly<Record<string, number>>;
  readonly part: { readonly temperatureC: number | null; readonly expansionPerK: number | null };
  /** Features whose repeat at the end is a closure, and the limits on closure and cross-sum in mm. */
  readonly closure: readonly string[];
  readonly closureLimitMm: number | null;
  readonly crossSumLimitMm: number | null;
  /** Points left out on purpose, with the reason that is printed. */
  readonly exclude: readonly Exclusion[];
  /** Patterns of log names this plan is for; settings may name others. */
  readonly match?: readonly string[];
  readonly source: PlanSource;
}
/** Name of the plan that is made where none is given. */
export const NO_PLAN = "no-plan";
export interface PlanSource {
  /** File name without folders. */
  readonly name: string;
  readonly text: string;
  /** SHA-256 of the file's bytes, lower-case hex. */
  readonly sha256: string;
}
export interface Decision {
  readonly rule: "guarded" | "simple";
  /** Guard band as a multiple of the expanded uncertainty; 0 under `simple`. */
  readonly guard: number;
}
export interface MachinePlan {
  readonly name: string | null;
  /** +1: rising B swings +Z towards +X. -1: the other way. null: unknown. */
  readonly bSense: 1 | -1 | null;
  readonly travel: Readonly<Partial<Record<"x" | "y" | "z", readonly [number, number]>>>;
  /** Standard uncertainty of the straightness of a travel over a sweep, mm; null when not stated. */
  readonly straightnessMm: number | null;
}
export interface InstrumentPlan {
  /** Standard uncertainty of one reading in mm as stated; null when only its parts beside it are. */
  readonly uncertaintyMm: number | null;
  readonly resolutionMm: number | null;
  readonly repeatMm: number | null;
  readonly maxErrorMm: number | null;
  /** ISO date. */
  readonly calibrationDue: string | null;
  readonly where: "on-machine" | "independent" | null;
}
/** What the plan says about logs; each entry is null or empty when the plan says nothing. */
export interface LogsPlan {
  readonly unit: "mm" | "in" | "um" | null;
  readonly instrument: string | null;
  /** Our column name -> the log's column name, or its 1-based position. */
  readonly columns: Readonly<Record<string, string | number>>;
  readonly skipRows: number;
  /** Our column name -> what it says in every row of a log that does not have it: a quantity with its unit, or text. */
  readonly constant: Readonly<Record<string, string>>;
  /** The log's column name (or ours) or its 1-based position -> what a row must say there to be read. */
  readonly keep: Readonly<Record<string, readonly string[]>>;
  /** For bare readings: which feature and place each reading belongs to, in order. */
  readonly order: readonly OrderedReading[];
  readonly frame: "machine" | "work" | null;
  readonly sign: "toward-plus" | "toward-minus" | null;
  readonly decimal: "." | "," | null;
  readonly separator: "," | ";" | "\t" | null;
  readonly points: "surface" | "ball-center" | null;
  readonly tipDiameterMm: number | null;
  readonly leverAngleRad: number | null;
}
export interface OrderedReading {
  readonly sweep: string;
  /** Lengths in mm (traverse position, x, y), angles in radians. */
  readonly position: number | null;
  readonly angle: number | null;
  readonly x: number | null;
  readonly y: number | null;
}
export type FitName = "plane" | "line" | "circle" | "cylinder" | "sphere" | "point" | "axis";
export type AxisName = "x" | "y" | "z";
export type SweepName = "traverse" | "rim-sweep" | "face-sweep" | "map";
export interface FeaturePlan {
  readonly name: string;
  readonly fit: FitName;
  readonly normal: readonly [number, number, number] | null;
  readonly surface: "bore" | "boss" | null;
  readonly from: SweepName | null;
  readonly radiusMm: number | null;
  /** Direction of travel and of the readings, for a traverse. */
  readonly along: AxisName | null;
  readonly height: AxisName | null;
  /** Features whose centres an axis goes through. */
  readonly through: readonly string[];
  readonly instrument: string | null;
  readonly points: "surface" | "ball-center" | null;
  readonly tipDiameterMm: number | null;
}
export interface Limits {
  readonly nominal: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}
/** `inputs` holds the kind's own keys, typed by the kind. Limits are in mm or radians. */
export interface CharacteristicPlan {
  readonly id: string;
  readonly kind: string;
  readonly of: string;
  readonly to: string | null;
  readonly limits: Limits;
  readonly inputs: Readonly<Record<string, unknown>>;
}
export interface AdvicePlan {
  readonly kind: string;
  readonly inputs: Readonly<Record<string, unknown>>;
}
export interface SignOffPlan {
  readonly id: string;
  readonly ask: string;
  readonly unit: string | null;
  readonly lower: number | null;
  readonly upper: number | null;
}
export interface Exclusion {
  readonly log: string | null;
  readonly feature: string | null;
  readonly line: number;
  readonly reason: string;
}
