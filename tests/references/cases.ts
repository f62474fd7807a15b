import { type Points2, type Points3, points2, points3 } from "../../src/math/points.ts";
import circlesFile from "./circles.json" with { type: "json" };
import guardFactorsFile from "./guardFactors.json" with { type: "json" };
import shapesFile from "./linesPlanesSpheresCylinders.json" with { type: "json" };
import nistAnovaFile from "./nistAnova.json" with { type: "json" };
import nistLinearFile from "./nistLinear.json" with { type: "json" };
import nistNonlinearFile from "./nistNonlinear.json" with { type: "json" };
import nistUnivariateFile from "./nistUnivariate.json" with { type: "json" };
import calibrationFile from "./straightLineCalibration.json" with { type: "json" };
import straightnessFile from "./straightness.json" with { type: "json" };
import studentTFile from "./studentT.json" with { type: "json" };

/**
 * One published case: what the source prints, and what an independent program makes of the same points. Where
 * `agrees` is false the printed figure is wrong, and tests go by `recomputed`.
 */
export interface Case<Points, Values, Params = unknown> {
  readonly id: string;
  readonly points: Points;
  readonly params: Params;
  readonly published: Values;
  readonly recomputed: Values;
  readonly tol: Readonly<Record<string, number>>;
  readonly source: { readonly title: string; readonly where: string };
  readonly from: string;
  readonly agrees: boolean;
}
type Numbers = Readonly<Record<string, number>>;
export type PointCase = Case<readonly (readonly number[])[], Numbers>;
type Table = Readonly<Record<string, readonly number[]>>;
interface Regression {
  readonly coef: readonly string[];
  readonly sd: readonly string[];
  readonly residual_sd: number | string;
}
type RegressionCase<Params> = Case<readonly (readonly [number, number])[], Regression, Params>;

export const circles = circlesFile as unknown as readonly PointCase[];
export const shapes = shapesFile as unknown as readonly PointCase[];
export const calibration = calibrationFile as unknown as readonly PointCase[];
export const studentT = studentTFile as unknown as readonly Case<{ alpha: readonly number[] }, Table>[];
export const guardFactors = guardFactorsFile as unknown as readonly Case<
  readonly number[],
  { z: number[] }
>[];
export const straightness = straightnessFile as unknown as readonly Case<
  { forward_sec: number[]; backward_sec: number[] },
  Numbers & { profile_um: never; deviations_um: never }
>[];
export const nistLinear = nistLinearFile as unknown as readonly RegressionCase<{
  degree: number;
  intercept: boolean;
}>[];
export const nistNonlinear = nistNonlinearFile as unknown as readonly RegressionCase<{
  model: string;
  start1: readonly number[];
}>[];
export const nistUnivariate = nistUnivariateFile as unknown as readonly Case<
  readonly string[],
  { mean: number; sd: number; r1: number }
>[];
export const nistAnova = nistAnovaFile as unknown as readonly Case<
  readonly (readonly string[])[],
  Readonly<Record<"ss_b" | "ss_w" | "F" | "residual_sd", string | number>>
>[];

/** The case with this id. */
export function caseOf<C extends { readonly id: string }>(cases: readonly C[], id: string): C {
  const found = cases.find((entry) => entry.id === id);
  if (!found) throw new RangeError(`no case ${id}`);
  return found;
}
/** Points of a case in a plane. */
export const planePoints = (entry: PointCase): Points2 => points2(entry.points.map((p) => [p[0]!, p[1]!]));
/** Points of a case in space. */
export const spacePoints = (entry: PointCase): Points3 =>
  points3(entry.points.map((p) => [p[0]!, p[1]!, p[2]!]));
