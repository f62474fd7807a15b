import type {
  ReportAdvice,
  ReportCharacteristic,
  ReportCorrection,
  ReportFeature,
} from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import { centering } from "./centering.ts";
import { cleanUp } from "./cleanUp.ts";
import type {
  AdvicePlotKind,
  CorrectionPlotKind,
  FeaturePlotKind,
  Plot,
  ResultPlotKind,
} from "./contract.ts";
import { faceCut } from "./faceCut.ts";
import { foundAndLeft } from "./foundAndLeft.ts";
import { fourFace } from "./fourFace.ts";
import { lineChart } from "./lineChart.ts";
import { planeMap } from "./planeMap.ts";
import { reSeat } from "./reSeat.ts";
import { rotationCenter } from "./rotationCenter.ts";
import { roundForm } from "./roundForm.ts";
import { seatCheck } from "./seatCheck.ts";
import { squareUp } from "./squareUp.ts";
import { sweepChart } from "./sweepChart.ts";
import { toleranceBar } from "./toleranceBar.ts";
import { turnedOver } from "./turnedOver.ts";
import { workOffset } from "./workOffset.ts";

export const FEATURE_PLOTS: readonly FeaturePlotKind[] = [planeMap, roundForm, lineChart, sweepChart];
export const RESULT_PLOTS: readonly ResultPlotKind[] = [toleranceBar];
export const CORRECTION_PLOTS: readonly CorrectionPlotKind[] = [foundAndLeft];
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

/** A picture with the name of its kind. */
export interface NamedPlot extends Plot {
  readonly kind: string;
}

/** The pictures of a feature; none where its fit has none. */
export function plotFeature(
  name: string,
  feature: ReportFeature,
  id: string,
  page: PageContext,
): readonly NamedPlot[] {
  return FEATURE_PLOTS.filter((kind) => kind.fits.includes(feature.fit)).flatMap((kind) => {
    const plot = kind.draw(name, feature, `${id}-${kind.name}`, page);
    return plot === null ? [] : [{ ...plot, kind: kind.name }];
  });
}

/** The picture of a characteristic against its limits, or null where it has no value or no limit. */
export const plotResult = (entry: ReportCharacteristic, page: PageContext): Plot | null =>
  RESULT_PLOTS.map((kind) => kind.draw(entry, page)).find((plot) => plot !== null) ?? null;

/** The picture of what was corrected, or null where nothing was. */
export const plotCorrections = (entries: readonly ReportCorrection[], page: PageContext): Plot | null =>
  CORRECTION_PLOTS.map((kind) => kind.draw(entries, page)).find((plot) => plot !== null) ?? null;

/** The picture of an advice that gives numbers, or null where it brings none that this version can draw. */
export function plotAdvice(advice: ReportAdvice, id: string, page: PageContext): Plot | null {
  if (advice.plot === undefined || advice.status !== "advised") return null;
  const kind = ADVICE_PLOTS.find((candidate) => candidate.name === advice.plot?.kind);
  return kind?.draw(advice.plot.data, advice, id, page) ?? null;
}
