import type { ReportFeature } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import { deviationText } from "./scales.ts";
import type { Touch } from "./touches.ts";

/** Highest and lowest touch with their lines in the log. */
export function endsText(
  { highest, lowest }: { readonly highest: Touch; readonly lowest: Touch },
  page: PageContext,
): string {
  const { plots } = page.texts;
  const one = (word: string, touch: Touch): string =>
    `${word} ${deviationText(touch.deviation, page)} (${page.text(plots.atLine, { line: String(touch.line) })})`;
  return `${one(plots.highest, highest)}, ${one(plots.lowest, lowest)}`;
}

/** Sentences that are there. */
export const sentences = (parts: readonly string[]): string => parts.filter((part) => part !== "").join(" ");

/** How many touches are drawn when not all are; empty when all are. */
export function thinnedText(feature: ReportFeature, drawn: number, page: PageContext): string {
  const of = feature.plot?.of ?? drawn;
  if (drawn >= of) return "";
  return `${page.text(page.texts.plots.drawn, { drawn: String(drawn), of: String(of) })}.`;
}
