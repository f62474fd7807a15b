import { fewOf, numberIn, placeIn, rowsIn } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { isCrowd, reach } from "./crowd.ts";
import {
  baseCircle,
  cross,
  deviationBar,
  exaggeration,
  POLAR,
  placeAt,
  polarLabel,
  polarScale,
  ringPath,
} from "./polar.ts";
import { deviationText } from "./scales.ts";
import { picture } from "./svg.ts";
import { touchMarks } from "./touchMarks.ts";
import { viewFrame } from "./viewFrame.ts";

/** Stock around the finished round at its best centre, and where the finished round would lie as set up now. */
export const cleanUp: AdvicePlotKind = {
  name: "clean-up",
  draw: (data, _advice, _id, page) => {
    const rows = rowsIn(data, ["x", "y"]);
    const [center, best, finished] = [
      placeIn(data, "center"),
      placeIn(data, "best"),
      numberIn(data, "finished"),
    ];
    if (rows === null || center === null || best === null || finished === null) return null;
    const all = rows.map(({ x, y }) => ({
      angle: Math.atan2(y - best[1], x - best[0]),
      stock: Math.hypot(x - best[0], y - best[1]) - finished / 2,
    }));
    const least = all.reduce((low, spot) => (spot.stock < low.stock ? spot : low));
    const most = all.reduce((high, spot) => (spot.stock > high.stock ? spot : high));
    const shift = [center[0] - best[0], center[1] - best[1]] as const;
    const largest = Math.max(Math.abs(least.stock), Math.abs(most.stock), Math.hypot(...shift));
    const scale = polarScale(largest, finished / 2, page);
    const { plots } = page.texts;
    const stock = { least: deviationText(least.stock, page), most: deviationText(most.stock, page) };
    const svg = picture(
      POLAR,
      `${plots.cleanUpLabel}: ${page.text(plots.cleanUpStock, stock)}`,
      cross(viewFrame([0, 0, 1])),
      baseCircle(),
      ringPath({ shift, offset: 0, kind: "extreme" }, scale),
      isCrowd(all.length)
        ? reach(
            all.map(({ angle, stock: value }) => ({ at: angle, value })),
            120,
            (angle, value) => placeAt(angle, value, scale),
          )
        : "",
      touchMarks(
        fewOf(all, [least, most]).map((spot) => {
          const [cx, cy] = placeAt(spot.angle, spot.stock, scale);
          return { cx, cy, line: null, holds: spot === least, filled: spot.stock > 0 };
        }),
      ),
      polarLabel(least.angle, least.stock, scale, stock.least),
      deviationBar(scale, page),
    );
    const caption = `${page.text(plots.cleanUpStock, stock)}. ${plots.cleanUpCaption} ${exaggeration(scale, page)}`;
    return { svg, caption };
  },
};
