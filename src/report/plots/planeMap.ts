import type { ReportFeature } from "../../model/setupReport.ts";
import { endsText, sentences, thinnedText } from "./captions.ts";
import type { FeaturePlotKind } from "./contract.ts";
import { isCrowd } from "./crowd.ts";
import { heightMap } from "./heightMap.ts";
import { deviationText } from "./scales.ts";
import { extremes, touchesOf } from "./touches.ts";
import { inView, type ViewFrame, viewFrame } from "./viewFrame.ts";

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
        tilt: tiltOf(feature.direction, frame),
        description: `${page.text(page.texts.plots.planeLabel, { name })}. ${ends}`,
        labelOf: (spot) => deviationText(spot.height, page),
      },
      page,
    );
    if (map === null) return null;
    const { plots } = page.texts;
    const rise = map.riseMm === null ? "" : page.text(plots.tilt, { rise: deviationText(map.riseMm, page) });
    return {
      svg: map.svg,
      caption: sentences([`${ends}.`, rise, thinnedText(feature, touches.length, page)]),
      key: [
        map.hasSurface ? plots.planeCaption : plots.planePoints,
        touches.some((touch) => touch.holds) ? plots.holds : "",
        isCrowd(touches.length) ? plots.crowdMap : "",
      ].filter((sentence) => sentence !== ""),
    };
  },
};

/** Rise of the face to the right and upwards in the view, for each mm; null where it has no direction. */
function tiltOf(direction: ReportFeature["direction"], { right, up }: ViewFrame): [number, number] | null {
  if (direction === null) return null;
  const depth = Math.max(...direction.map(Math.abs));
  return [(-direction[right[0]] * right[1]) / depth, (-direction[up[0]] * up[1]) / depth];
}
