import { numberIn, rowsIn } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { INK, nameAt, stroke } from "./drawing.ts";
import { slopeText } from "./scales.ts";
import { element, picture } from "./svg.ts";

const SIZE = { width: 380, height: 164 } as const;
const ZERO = 76;
const REACH = 46;

/** The lean of each face at its B as bars about zero, and what all faces share. */
export const fourFace: AdvicePlotKind = {
  name: "four-face",
  draw: (data, advice, _id, page) => {
    const rows = rowsIn(data, ["b", "lean"]);
    const most = Math.max(0, ...(rows ?? []).map((row) => Math.abs(row.lean)));
    if (rows === null || most === 0) return null;
    const step = (SIZE.width - 60) / rows.length;
    const y = (lean: number): number => ZERO - (lean / most) * REACH;
    const common = numberIn(advice.values, "common");
    const bars = rows.map((row, index) => {
      const x = 30 + step * (index + 0.5);
      const above = row.lean >= 0;
      return (
        element("rect", {
          x: x - 16,
          y: Math.min(ZERO, y(row.lean)),
          width: 32,
          height: Math.abs(y(row.lean) - ZERO),
          fill: above ? "#5d6f78" : "#fff",
          stroke: INK,
          "stroke-width": 1,
          class: "lean",
        }) +
        nameAt(x, y(row.lean) + (above ? -6 : 14), slopeText(row.lean, page), true) +
        nameAt(x, SIZE.height - 6, `B${row.b}`)
      );
    });
    const shared =
      common === null
        ? ""
        : stroke([20, y(common)], [SIZE.width - 20, y(common)], {
            "stroke-dasharray": "5 3",
            class: "common",
          });
    const { plots } = page.texts;
    const svg = picture(
      SIZE,
      plots.fourFaceLabel,
      stroke([20, ZERO], [SIZE.width - 20, ZERO]),
      ...bars,
      shared,
    );
    return { svg, caption: plots.fourFaceCaption };
  },
};
