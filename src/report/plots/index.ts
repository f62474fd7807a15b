import type { ReportAdvice, ReportFeature } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import { centering } from "./centering.ts";
import { cleanUp } from "./cleanUp.ts";
import type { AdvicePlotKind, FeaturePlotKind, Plot } from "./contract.ts";
import { faceCut } from "./faceCut.ts";
import { fourFace } from "./fourFace.ts";
import { lineChart } from "./lineChart.ts";
import { planeMap } from "./planeMap.ts";
import { reSeat } from "./reSeat.ts";
import { rotationCenter } from "./rotationCenter.ts";
import { roundForm } from "./roundForm.ts";
import { seatCheck } from "./seatCheck.ts";
import { squareUp } from "./squareUp.ts";
import { turnedOver } from "./turnedOver.ts";
import { workOffset } from "./workOffset.ts";

export const FEATURE_PLOTS: readonly FeaturePlotKind[] = [planeMap, roundForm, lineChart];
export const ADVICE_PLOTS: readonly AdvicePlotKind[] = [
  centering,
  cleanUp,
  faceCut,
  fourFace,
  reSeat,
  rotationCenter,
  seatCheck,
  squareUp,
  turnedOver,
  workOffset,
];

/** The picture of a feature, or null where its fit has none. */
export function plotFeature(
  name: string,
  feature: ReportFeature,
  id: string,
  page: PageContext,
): Plot | null {
  const kind = FEATURE_PLOTS.find((candidate) => candidate.fits.includes(feature.fit));
  return kind?.draw(name, feature, id, page) ?? null;
}

/** The picture of an advice that gives numbers, or null where it brings none that this version can draw. */
export function plotAdvice(advice: ReportAdvice, id: string, page: PageContext): Plot | null {
  if (advice.plot === undefined || advice.status !== "advised") return null;
  const kind = ADVICE_PLOTS.find((candidate) => candidate.name === advice.plot?.kind);
  return kind?.draw(advice.plot.data, advice, id, page) ?? null;
}
