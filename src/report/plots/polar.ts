import type { PageContext } from "../pageContext.ts";
import { factorText, niceBelow, niceLengthBelow, roundLength } from "./scales.ts";
import { element, label, pathOf, px } from "./svg.ts";
import { axisName, type ViewFrame } from "./viewFrame.ts";

/** Sheet, centre and base circle of every form picture. */
export const POLAR = { width: 400, height: 300, x: 170, y: 150, base: 92, room: 42 } as const;
const INK = "#1a1a1a";

/** How deviations become distances from the base circle. */
export interface PolarScale {
  /** Pixels for one mm of deviation. */
  readonly pxPerMm: number;
  /** How many times too large; null when the size of the round is not known. */
  readonly factor: number | null;
  readonly barMm: number;
}

/** The largest round exaggeration at which the largest deviation stays on the sheet. */
export function polarScale(largestMm: number, radiusMm: number, page: PageContext): PolarScale {
  const widest = POLAR.room / Math.max(largestMm, 1e-6);
  const factor = radiusMm > 0 ? niceBelow(widest / (POLAR.base / radiusMm)) : null;
  const pxPerMm = factor === null ? widest : (factor * POLAR.base) / radiusMm;
  return { pxPerMm, factor, barMm: niceLengthBelow(60 / pxPerMm, page) };
}

export function placeAt(angle: number, deviation: number, { pxPerMm }: PolarScale): [number, number] {
  const radius = POLAR.base + deviation * pxPerMm;
  return [POLAR.x + radius * Math.cos(angle), POLAR.y - radius * Math.sin(angle)];
}

/** The circle that deviations are counted from. */
export const baseCircle = (): string =>
  element("circle", {
    cx: POLAR.x,
    cy: POLAR.y,
    r: POLAR.base,
    fill: "none",
    stroke: INK,
    "stroke-width": 1.6,
    class: "base",
  });

/** A circle beside the base circle: in the large view its distance is `offset + shift along the angle`. */
export interface Ring {
  readonly shift: readonly [number, number];
  readonly offset: number;
  readonly kind: "extreme" | "zone";
}
export function ringPath({ shift, offset, kind }: Ring, scale: PolarScale): string {
  const places = Array.from({ length: 72 }, (_, index) => {
    const angle = (index * Math.PI) / 36;
    return placeAt(angle, offset + shift[0] * Math.cos(angle) + shift[1] * Math.sin(angle), scale);
  });
  return element("path", {
    d: pathOf(places, true),
    fill: "none",
    stroke: INK,
    "stroke-width": kind === "zone" ? 0.5 : 0.8,
    "stroke-dasharray": kind === "zone" ? null : "4 3",
    class: kind,
  });
}

/** The centre with the names of the axes. */
export function cross(frame: ViewFrame): string {
  const { x, y } = POLAR;
  const lines = element("path", {
    d: `M${x - 8} ${y}H${x + 8}M${x} ${y - 8}V${y + 8}`,
    stroke: INK,
    "stroke-width": 0.6,
    fill: "none",
  });
  return lines + label(x + 11, y + 4, axisName(frame.right)) + label(x - 3, y - 12, axisName(frame.up));
}

/** A number beside a touch, on the side away from the base circle. */
export function polarLabel(angle: number, deviation: number, scale: PolarScale, text: string): string {
  const [x, y] = placeAt(angle, deviation, scale);
  const outward = deviation > 0 ? 12 : -12;
  const [dx, dy] = [Math.cos(angle) * outward, -Math.sin(angle) * outward];
  return label(x + dx, y + dy + 3, text, {
    class: "halo strong",
    "text-anchor": Math.abs(dx) < 5 ? "middle" : dx > 0 ? "start" : "end",
  });
}

/** A length of deviation to measure by. */
export function deviationBar({ barMm, pxPerMm }: PolarScale, page: PageContext): string {
  const [x, y2] = [POLAR.width - 76, POLAR.height - 20];
  const y1 = y2 - barMm * pxPerMm;
  return (
    element("path", {
      d: `M${x - 3} ${px(y1)}H${x + 3}M${x} ${px(y1)}V${y2}M${x - 3} ${y2}H${x + 3}`,
      stroke: INK,
      "stroke-width": 1,
      fill: "none",
      class: "bar",
    }) + label(x + 7, (y1 + y2) / 2 + 4, roundLength(barMm, page))
  );
}

/** How much too large the deviations are drawn. */
export function exaggeration({ factor, barMm }: PolarScale, page: PageContext): string {
  const { plots } = page.texts;
  return factor === null
    ? `${page.text(plots.bar, { length: roundLength(barMm, page) })}.`
    : `${page.text(plots.exaggerated, { factor: factorText(factor, page) })}.`;
}
