import { fewOf, numberIn, placeIn, rowsIn } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { isCrowd, reach } from "./crowd.ts";
import { baseCircle, cross, deviationBar, exaggeration, POLAR, placeAt, polarScale } from "./polar.ts";
import { movedText } from "./scales.ts";
import { element, picture, px } from "./svg.ts";
import { touchMarks } from "./touchMarks.ts";
import { viewFrame } from "./viewFrame.ts";

/** Where the round sits about the sweep axis: every touch, the centre found and the way it has to go. */
export const centering: AdvicePlotKind = {
  name: "centering",
  draw: (data, _advice, _id, page) => {
    const rows = rowsIn(data, ["x", "y"]);
    const center = placeIn(data, "center");
    const radius = numberIn(data, "radius");
    if (rows === null || center === null || radius === null) return null;
    const spots = rows.map(({ x, y }) => ({
      angle: Math.atan2(y, x),
      deviation: Math.hypot(x, y) - radius,
    }));
    const scale = polarScale(
      spots.reduce((most, spot) => Math.max(most, Math.abs(spot.deviation)), 0),
      radius,
      page,
    );
    const [cx, cy] = [POLAR.x + center[0] * scale.pxPerMm, POLAR.y - center[1] * scale.pxPerMm];
    const { plots } = page.texts;
    const where = `X ${movedText(center[0], page)}, Y ${movedText(center[1], page)}`;
    const svg = picture(
      POLAR,
      `${plots.centeringLabel}: ${where}`,
      cross(viewFrame([0, 0, 1])),
      baseCircle(),
      isCrowd(spots.length)
        ? reach(
            spots.map(({ angle, deviation: value }) => ({ at: angle, value })),
            120,
            (angle, value) => placeAt(angle, value, scale),
          )
        : "",
      touchMarks(
        fewOf(spots, []).map(({ angle, deviation }) => {
          const [cx, cy] = placeAt(angle, deviation, scale);
          return { cx, cy, line: null, holds: false, filled: deviation > 0 };
        }),
      ),
      element("path", {
        d: `M${px(cx)} ${px(cy)}L${POLAR.x} ${POLAR.y}`,
        stroke: "#1a1a1a",
        "stroke-width": 2,
      }),
      element("circle", { cx, cy, r: 5, fill: "#1a1a1a", class: "center" }),
      deviationBar(scale, page),
    );
    return { svg, caption: `${page.text(plots.centeringCaption, { where })} ${exaggeration(scale, page)}` };
  },
};
