import type {
  ReportAdvice,
  ReportCharacteristic,
  ReportCorrection,
  ReportFeature,
} from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";

/** A picture with the sentence that says what to see in it. */
export interface Plot {
  /** Markup of one `<svg role="img">`; every text in it is escaped. */
  readonly svg: string;
  /** What this picture shows, with its scale. */
  readonly caption: string;
  /** How pictures of this kind are read, sentence by sentence: said once where there are many. */
  readonly key?: readonly string[];
}

/** A member of the shelf that draws a fitted feature. `id` is unique on the page. */
export interface FeaturePlotKind {
  readonly name: string;
  /** Fits that it draws. */
  readonly fits: readonly string[];
  /** null when the feature has nothing to draw. Never throws for what a record holds. */
  draw(name: string, feature: ReportFeature, id: string, page: PageContext): Plot | null;
}

/** A member of the shelf that draws an advice by the kind of its plot data. */
export interface AdvicePlotKind {
  readonly name: string;
  /** null when `data` is not of this plot's shape. Never throws for what a record holds. */
  draw(data: unknown, advice: ReportAdvice, id: string, page: PageContext): Plot | null;
}

/** A member of the shelf that draws one characteristic against its limits, small enough for a table's cell. */
export interface ResultPlotKind {
  readonly name: string;
  /** null when there is no value or no limit. Never throws for what a record holds. */
  draw(entry: ReportCharacteristic, page: PageContext): Plot | null;
}

/** A member of the shelf that draws what was corrected. */
export interface CorrectionPlotKind {
  readonly name: string;
  /** null when nothing was corrected. Never throws for what a record holds. */
  draw(entries: readonly ReportCorrection[], page: PageContext): Plot | null;
}
