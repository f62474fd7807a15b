import type { PageContext } from "../pageContext.ts";
import { numberIn } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { INK, nameAt, scaleBar, stroke } from "./drawing.ts";
import { factorText, movedText, niceBelow, niceLengthBelow, roundLength } from "./scales.ts";
import { element, pathOf, picture } from "./svg.ts";

const SIZE = { width: 400, height: 196 } as const;
const FOOT = 154;
const REACH = 40;

/** The column from the side, leaning as measured, with the edge under which debris would make it lean so. */
export const seatCheck: AdvicePlotKind = {
  name: "seat-check",
  draw: (data, advice, _id, page) => {
    const [depth, height, lean] = [numberIn(data, "depth"), numberIn(data, "height"), numberIn(data, "lean")];
    const edge = (data as { edge?: unknown } | null)?.edge;
    if (depth === null || height === null || lean === null || !(depth > 0) || !(height > 0)) return null;
    const scale = Math.min(100 / height, 220 / depth);
    const factor = lean === 0 ? 1 : niceBelow(REACH / (Math.abs(lean) * scale));
    const shift = lean * scale * factor;
    const [w, h, middle] = [depth * scale, height * scale, SIZE.width / 2];
    const turn = shift / h;
    // Plus is to the right: towards the spindle seen from the right, to the right seen from the spindle.
    const rightDown = turn > 0;
    const pivot: readonly [number, number] = rightDown ? [middle + w / 2, FOOT] : [middle - w / 2, FOOT];
    const at = (dx: number, dy: number): readonly [number, number] => [
      pivot[0] + dx + dy * turn,
      pivot[1] - dy + dx * turn,
    ];
    const far = rightDown ? -w : w;
    const body = [at(0, 0), at(far, 0), at(far, h), at(0, h)];
    const { plots } = page.texts;
    const thickness = numberIn(advice.values, "edgeThickness");
    const wedge = pathOf([pivot, [pivot[0] + far, FOOT], at(far, 0)], true);
    const sideways = typeof edge === "string" && edge.endsWith("x");
    const svg = picture(
      SIZE,
      `${plots.seatLabel}: ${movedText(lean, page)}`,
      element("rect", {
        x: middle - w / 2,
        y: FOOT - h,
        width: w,
        height: h,
        fill: "none",
        stroke: INK,
        "stroke-width": 0.8,
        "stroke-dasharray": "5 3",
        class: "upright",
      }),
      ...(thickness === null || thickness === 0
        ? []
        : [
            element("path", { d: wedge, fill: "#9aa7ad", stroke: INK, "stroke-width": 0.8, class: "debris" }),
          ]),
      element("path", {
        d: pathOf(body, true),
        fill: "none",
        stroke: INK,
        "stroke-width": 2.2,
        class: "column",
      }),
      stroke([20, FOOT], [SIZE.width - 20, FOOT], { "stroke-width": 1.4, class: "pallet" }),
      nameAt(middle + shift, FOOT - h - 24, movedText(lean, page), true),
      ...(thickness === null || typeof edge !== "string"
        ? []
        : [
            nameAt(
              pivot[0] + far,
              FOOT + 18,
              `${edge.toUpperCase().replace("-", "\u2212")}: ${movedText(thickness, page)}`,
              true,
            ),
          ]),
      bar(scale, page),
      nameAt(middle, SIZE.height - 8, page.text(plots.leanScale, { factor: factorText(factor, page) })),
    );
    return {
      svg,
      caption: page.text(plots.seatCaption, { view: sideways ? plots.fromTheSpindle : plots.fromTheRight }),
    };
  },
};

/** Depth and height are to scale; only the lean is not. */
function bar(pxPerMm: number, page: PageContext): string {
  const mm = niceLengthBelow(60 / pxPerMm, page);
  return scaleBar({ left: 20, y: SIZE.height - 22, length: mm * pxPerMm, text: roundLength(mm, page) });
}
