import type { ReportAdvice, ReportFeature } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";

/** A picture with the sentence that says what to see in it. */
export interface Plot {
  /** Markup of one `<svg role="img">`; every text in it is escaped. */
  readonly svg: string;
  readonly caption: string;
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
