import { numberIn, placeIn, rowsIn } from "./adviceData.ts";
import { sentences } from "./captions.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { INK, scaleBar } from "./drawing.ts";
import { deviationText, factorText, niceBelow, niceLengthBelow, roundLength } from "./scales.ts";
import { element, label, pathOf, picture, px } from "./svg.ts";

const SIZE = { width: 400, height: 232 } as const;
const ROOM = { x: 170, y: 110, radius: 80 } as const;

/** The ball at each B seen from above, the circle it runs on, and the centre found. */
export const rotationCenter: AdvicePlotKind = {
  name: "rotation-center",
  draw: (data, _advice, _id, page) => {
    const rows = rowsIn(data, ["b", "x", "z"]);
    const residuals = rowsIn(data, ["leftX", "leftZ"]);
    const [center, arm] = [placeIn(data, "center"), numberIn(data, "arm")];
    if (rows === null || center === null || arm === null || !(arm > 0)) return null;
    const pxPerMm = ROOM.radius / arm;
    const { plots } = page.texts;
    const places = rows.map(({ b, x, z }) => ({
      name: `B${b}°`,
      x: ROOM.x + (x - center[0]) * pxPerMm,
      // From above with the spindle below the sheet: Z runs down.
      y: ROOM.y + (z - center[1]) * pxPerMm,
    }));
    const leftOver = residuals?.length === rows.length ? leftOverArrows(places, residuals, pxPerMm) : null;
    const bar = niceLengthBelow(70 / pxPerMm, page);
    const [left, low] = [SIZE.width - 92, SIZE.height - 26];
    const svg = picture(
      SIZE,
      `${plots.rotationLabel}: ${places.map((place) => place.name).join(", ")}`,
      element("circle", {
        cx: ROOM.x,
        cy: ROOM.y,
        r: ROOM.radius,
        fill: "none",
        stroke: "#647b89",
        "stroke-width": 0.9,
      }),
      element("path", {
        d: `M${ROOM.x - 12} ${ROOM.y}H${ROOM.x + 12}M${ROOM.x} ${ROOM.y - 12}V${ROOM.y + 12}`,
        stroke: INK,
        "stroke-width": 1.6,
      }),
      ...places.flatMap(({ name, x, y }) => [
        element("path", {
          d: `M${ROOM.x} ${ROOM.y}L${px(x)} ${px(y)}`,
          stroke: "#a6b4bd",
          "stroke-width": 0.7,
        }),
        element("circle", {
          cx: x,
          cy: y,
          r: 5,
          fill: "#fff",
          stroke: INK,
          "stroke-width": 1.4,
          class: "touch",
        }),
        label(x + (x < ROOM.x ? -9 : 9), y + (y < ROOM.y ? -9 : 17), name, {
          class: "halo strong",
          "text-anchor": x < ROOM.x ? "end" : "start",
        }),
      ]),
      leftOver?.drawing ?? "",
      scaleBar({ left, y: low, length: bar * pxPerMm, text: roundLength(bar, page) }),
      label(ROOM.x, SIZE.height - 12, plots.spindleSide, { "text-anchor": "middle" }),
    );
    const caption = [
      plots.rotationCaption,
      leftOver === null
        ? ""
        : page.text(plots.rotationLeft, {
            factor: factorText(leftOver.factor, page),
            most: deviationText(leftOver.mostMm, page).replace("+", ""),
          }),
    ];
    return { svg, caption: sentences(caption) };
  },
};

interface Place {
  readonly x: number;
  readonly y: number;
}
interface LeftOver {
  readonly drawing: string;
  readonly factor: number;
  readonly mostMm: number;
}
const LONGEST = 34;

/** What is left over at each index as an arrow from its ball, to one scale; null where nothing is. */
function leftOverArrows(
  places: readonly Place[],
  left: readonly Readonly<Record<"leftX" | "leftZ", number>>[],
  pxPerMm: number,
): LeftOver | null {
  const mostMm = left.reduce((most, { leftX, leftZ }) => Math.max(most, Math.hypot(leftX, leftZ)), 0);
  if (!(mostMm > 1e-7)) return null;
  const factor = niceBelow(LONGEST / (mostMm * pxPerMm));
  const arrows = places.map(({ x, y }, index) => {
    const { leftX = 0, leftZ = 0 } = left[index] ?? {};
    const [dx, dy] = [leftX * pxPerMm * factor, leftZ * pxPerMm * factor];
    const length = Math.hypot(dx, dy);
    if (length < 1) return "";
    const [ux, uy] = [dx / length, dy / length];
    const [tipX, tipY] = [x + dx, y + dy];
    const side = (sense: number): [number, number] => [
      tipX - ux * 6 - uy * 3 * sense,
      tipY - uy * 6 + ux * 3 * sense,
    ];
    return (
      element("path", {
        d: pathOf([
          [x, y],
          [tipX, tipY],
        ]),
        stroke: INK,
        "stroke-width": 1.6,
        class: "left-over",
      }) + element("path", { d: pathOf([[tipX, tipY], side(1), side(-1)], true), fill: INK })
    );
  });
  return { drawing: arrows.join(""), factor, mostMm };
}
