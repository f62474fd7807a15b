import { numberIn, placeIn, rowsIn } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { niceLengthBelow, roundLength } from "./scales.ts";
import { element, label, picture, px } from "./svg.ts";

const SIZE = { width: 400, height: 260 } as const;
const ROOM = { x: 170, y: 128, radius: 92 } as const;
const INK = "#1a1a1a";

/** The ball at each B seen from above, the circle it runs on, and the centre found. */
export const rotationCenter: AdvicePlotKind = {
  name: "rotation-center",
  draw: (data, _advice, _id, page) => {
    const rows = rowsIn(data, ["b", "x", "z"]);
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
        label(x + (x < ROOM.x ? -9 : 9), y + 4, name, {
          class: "halo strong",
          "text-anchor": x < ROOM.x ? "end" : "start",
        }),
      ]),
      element("path", {
        d: `M${left} ${low - 3}V${low + 3}M${left} ${low}H${px(left + bar * pxPerMm)}M${px(left + bar * pxPerMm)} ${low - 3}V${low + 3}`,
        stroke: INK,
        "stroke-width": 1,
        class: "bar",
      }),
      label(left, low + 15, roundLength(bar, page)),
      label(ROOM.x, SIZE.height - 12, plots.spindleSide, { "text-anchor": "middle" }),
    );
    return { svg, caption: plots.rotationCaption };
  },
};
