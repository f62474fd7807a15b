import type { ReportFeature } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import { endsText, thinnedText } from "./captions.ts";
import type { FeaturePlotKind } from "./contract.ts";
import { heightMap } from "./heightMap.ts";
import { deviationText } from "./scales.ts";
import { extremes, touchesOf } from "./touches.ts";
import { inView, viewFrame } from "./viewFrame.ts";

/** Heights of a face above its fitted plane: a few tones, the plane itself as a heavy line, every touch. */
export const planeMap: FeaturePlotKind = {
  name: "plane-map",
  fits: ["plane"],
  draw: (name, feature, id, page) => {
    const touches = touchesOf(feature);
    if (touches === null) return null;
    const frame = viewFrame(feature.direction);
    const ends = endsText(extremes(touches), page);
    const map = heightMap(
      {
        spots: touches.map((touch) => ({
          at: inView(touch.place, frame),
          height: touch.deviation,
          line: touch.line,
          holds: touch.holds,
        })),
        frame,
        id,
        description: `${page.text(page.texts.plots.planeLabel, { name })}. ${ends}`,
        labelOf: (spot) => deviationText(spot.height, page),
      },
      page,
    );
    return map && { svg: map.svg, caption: captionOf(feature, ends, map.hasSurface, page) };
  },
};

function captionOf(feature: ReportFeature, ends: string, hasSurface: boolean, page: PageContext): string {
  const { plots } = page.texts;
  const touches = touchesOf(feature) ?? [];
  return [
    `${ends}.`,
    hasSurface ? plots.planeCaption : plots.planePoints,
    touches.some((touch) => touch.holds) ? plots.holds : "",
    thinnedText(feature, touches.length, page),
  ]
    .filter((part) => part !== "")
    .join(" ");
}
