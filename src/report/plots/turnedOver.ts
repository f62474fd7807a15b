import { quantity } from "../format.ts";
import { numberIn, rowsIn, thinnedRows } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { heightMap } from "./heightMap.ts";
import { deviationText } from "./scales.ts";
import { viewFrame } from "./viewFrame.ts";

/** Thickness over the face: thick side dark, mean thickness as the heavy line. */
export const turnedOver: AdvicePlotKind = {
  name: "turned-over",
  draw: (data, advice, id, page) => {
    const all = rowsIn(data, ["x", "y", "thickness"]);
    if (all === null) return null;
    const mean = all.reduce((total, row) => total + row.thickness, 0) / all.length;
    const least = all.reduce((low, row) => (row.thickness < low.thickness ? row : low));
    const most = all.reduce((high, row) => (row.thickness > high.thickness ? row : high));
    // Without the tip taken off only differences of thickness are known.
    const known = numberIn(advice.values, "thickness") !== null;
    const text = (mm: number): string => {
      if (!known) return deviationText(mm - mean, page);
      const shown = quantity(mm, "mm", page.style, { decimals: page.style.show === "in" ? 5 : 4 });
      return shown.number + shown.unit;
    };
    const { plots } = page.texts;
    const ends = page.text(known ? plots.thicknessEnds : plots.thicknessRange, {
      most: text(most.thickness),
      least: text(least.thickness),
      mean: text(mean),
    });
    const map = heightMap(
      {
        spots: thinnedRows(all, [least, most]).map(({ x, y, thickness }) => ({
          at: [x, y],
          height: thickness - mean,
          line: null,
          holds: false,
        })),
        frame: viewFrame([0, 0, 1]),
        id,
        description: `${plots.thicknessLabel}: ${ends}`,
        labelOf: (spot) => text(spot.height + mean),
      },
      page,
    );
    return map && { svg: map.svg, caption: `${ends}. ${plots.thicknessCaption}` };
  },
};
