import type { ReportAdvice } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import { fewOf, numberIn, rowsIn } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { isCrowd, reach } from "./crowd.ts";
import { INK, scaleBar } from "./drawing.ts";
import { deviationText, factorText, niceBelow, niceLengthBelow, roundLength } from "./scales.ts";
import { element, label, picture, px } from "./svg.ts";
import { touchMarks } from "./touchMarks.ts";

const SIZE = { width: 400, height: 210 } as const;
const BOX = { left: 20, right: 290, top: 18, bottom: 168 } as const;

type Row = Readonly<Record<"x" | "y" | "z", number>>;

/** The raw face from the side, the plane it is cut to and the passes in between. */
export const faceCut: AdvicePlotKind = {
  name: "face-cut",
  draw: (data, advice, _id, page) => {
    const rows = rowsIn(data, ["x", "y", "z"]);
    const cutPlane = numberIn(data, "cutPlane");
    if (rows === null || cutPlane === null) return null;
    const side = sideOf(rows, cutPlane, advice);
    if (side === null) return null;
    const { plots } = page.texts;
    const spots = touchMarks(
      fewOf(rows, [side.lowest, side.highest]).map((row) => ({
        cx: side.x(row),
        cy: side.y(row.z),
        line: null,
        holds: row === side.lowest,
        filled: true,
      })),
    );
    const { y } = side;
    const svg = picture(
      SIZE,
      `${plots.faceCutLabel}: ${plots.cutPlane} ${deviationText(cutPlane, page)}`,
      element("rect", {
        x: BOX.left,
        y: y(side.top),
        width: BOX.right - BOX.left,
        height: y(cutPlane) - y(side.top),
        fill: "#eef1f2",
      }),
      ...side.passes.map((z) =>
        element("path", {
          d: `M${BOX.left} ${px(y(z))}H${BOX.right}`,
          stroke: INK,
          "stroke-width": 0.7,
          "stroke-dasharray": "5 3",
          class: "pass",
        }),
      ),
      element("path", {
        d: `M${BOX.left} ${px(y(cutPlane))}H${BOX.right}`,
        stroke: INK,
        "stroke-width": 2.2,
        class: "cut",
      }),
      isCrowd(rows.length)
        ? reach(
            rows.map((row) => ({ at: side.x(row), value: y(row.z) })),
            100,
            (at, value) => [at, value],
          )
        : "",
      spots,
      label(BOX.right + 6, y(cutPlane) + 4, `Z ${deviationText(cutPlane, page)}`, { class: "strong" }),
      label(BOX.right + 6, y(side.lowest.z) - 3, deviationText(side.lowest.z, page)),
      bar(side.pxPerMm, page),
    );
    return {
      svg,
      caption: `${plots.faceCutCaption} ${page.text(plots.heightScale, { factor: factorText(side.factor, page) })}.`,
    };
  },
};

interface Side {
  readonly x: (row: Row) => number;
  readonly y: (z: number) => number;
  readonly lowest: Row;
  readonly highest: Row;
  readonly top: number;
  /** Heights between the passes. */
  readonly passes: readonly number[];
  readonly pxPerMm: number;
  readonly factor: number;
}

/** Looked at so that the lowest touch is at one end and the highest towards the other. */
function sideOf(rows: readonly Row[], cutPlane: number, advice: ReportAdvice): Side | null {
  const lowest = rows.reduce((low, row) => (row.z < low.z ? row : low));
  const highest = rows.reduce((high, row) => (row.z > high.z ? row : high));
  const [dx, dy] = [highest.x - lowest.x, highest.y - lowest.y];
  const length = Math.hypot(dx, dy);
  const [ux, uy] = length > 0 ? [dx / length, dy / length] : [1, 0];
  const along = (row: Row): number => row.x * ux + row.y * uy;
  const from = rows.reduce((low, row) => Math.min(low, along(row)), Number.POSITIVE_INFINITY);
  const to = rows.reduce((high, row) => Math.max(high, along(row)), Number.NEGATIVE_INFINITY);
  const deepest = numberIn(advice.values, "deepest") ?? highest.z - cutPlane;
  const top = cutPlane + deepest;
  if (!(to > from) || !(deepest > 0)) return null;
  const pxPerMm = (BOX.right - BOX.left - 20) / (to - from);
  const factor = niceBelow((BOX.bottom - BOX.top) / (deepest * pxPerMm));
  const [count, depth] = [numberIn(advice.values, "passes") ?? 0, numberIn(advice.values, "passDepth") ?? 0];
  const drawn = Math.min(count, 40);
  return {
    x: (row) => BOX.left + 10 + (along(row) - from) * pxPerMm,
    y: (z) => BOX.bottom - (z - cutPlane) * pxPerMm * factor,
    lowest,
    highest,
    top,
    passes: Array.from({ length: drawn }, (_, index) => top - (index + 1) * depth),
    pxPerMm,
    factor,
  };
}

function bar(pxPerMm: number, page: PageContext): string {
  const mm = niceLengthBelow(80 / pxPerMm, page);
  return scaleBar({
    left: BOX.left,
    y: SIZE.height - 20,
    length: mm * pxPerMm,
    text: roundLength(mm, page),
  });
}
