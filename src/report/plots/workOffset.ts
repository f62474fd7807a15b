import { numberIn } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { arrow, INK, nameAt, stroke } from "./drawing.ts";
import { movedText } from "./scales.ts";
import { element, label, picture } from "./svg.ts";

const WIDTH = 380;
const ROW = 52;
const MIDDLE = 215;
const REACH = 90;

/** Stored and new value of each axis, with the change drawn to one scale. */
export const workOffset: AdvicePlotKind = {
  name: "work-offset",
  draw: (_data, advice, _id, page) => {
    const axes = ["x", "y", "z"].flatMap((axis) => {
      const next = numberIn(advice.values.new, axis);
      const change = numberIn(advice.values.change, axis);
      return next === null || change === null ? [] : [{ axis, next, change }];
    });
    if (axes.length === 0) return null;
    const most = Math.max(...axes.map(({ change }) => Math.abs(change)));
    const size = { width: WIDTH, height: ROW * axes.length + 10 };
    const rows = axes.map(({ axis, next, change }, index) => {
      const y = ROW * index + 30;
      const to = MIDDLE + (most > 0 ? (change / most) * REACH : 0);
      const moved = Math.abs(to - MIDDLE) > 8;
      return [
        label(6, y + 4, axis.toUpperCase(), { class: "strong" }),
        stroke([MIDDLE - REACH - 20, y], [MIDDLE + REACH + 20, y], { "stroke-width": 0.7 }),
        moved ? arrow([MIDDLE, y], [to, y], "change") : "",
        element("circle", {
          cx: MIDDLE,
          cy: y,
          r: 3.5,
          fill: "#fff",
          stroke: INK,
          "stroke-width": 1.2,
          class: "old",
        }),
        element("circle", { cx: to, cy: y, r: 3.5, fill: INK, class: "new" }),
        label(24, y + 4, movedText(next, page), {}),
        nameAt(MIDDLE + (to - MIDDLE) / 2, y - 9, movedText(change, page), true),
      ].join("");
    });
    const { plots } = page.texts;
    return { svg: picture(size, plots.offsetLabel, ...rows), caption: plots.offsetCaption };
  },
};
