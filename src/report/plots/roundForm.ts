import type { ReportFeature, RoundSize } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import type { FeaturePlotKind } from "./contract.ts";
import { deviationText, factorText, niceBelow, niceLengthBelow, roundLength } from "./scales.ts";
import { element, label, pathOf, picture, px } from "./svg.ts";
import { extremes, type Touch, touchesOf } from "./touches.ts";
import { axisName, inView, type ViewFrame, viewFrame } from "./viewFrame.ts";
import { zoneCircles } from "./zoneCircles.ts";

const SIZE = { width: 400, height: 300 } as const;
const MIDDLE = { x: 170, y: 150 } as const;
const BASE = 92;
const ROOM = 42;
const INK = "#1a1a1a";

/** Deviations of a round from its least-squares circle, drawn much too large around it. */
export const roundForm: FeaturePlotKind = {
  name: "round-form",
  fits: ["circle", "cylinder"],
  draw: (name, feature, _id, page) => {
    const touches = touchesOf(feature);
    const radius = (feature.diameter ?? 0) / 2;
    if (touches === null || feature.center === null) return null;
    const frame = viewFrame(feature.direction);
    const points = around(touches, feature.center, frame);
    const drawing = scaleOf(points, radius, page);
    const rings = ringsOf(feature, points, frame);
    const { highest, lowest } = extremes(touches);
    const svg = picture(
      SIZE,
      `${page.text(page.texts.plots.roundLabel, { name })}. ${endsText(highest, lowest, page)}`,
      cross(frame),
      element("circle", { cx: MIDDLE.x, cy: MIDDLE.y, r: BASE, fill: "none", stroke: INK, "stroke-width": 1.6 }),
      ...rings.map((ring) => ringPath(ring, drawing)),
      trace(points, feature.fit, drawing),
      ...points.map((point) => mark(point, drawing)),
      ...[highest, lowest].map((touch) => extremeLabel(touch, points, drawing, page)),
      bar(drawing, page),
    );
    return { svg, caption: captionOf({ feature, touches, drawing, rings }, page) };
  },
};

interface RoundPoint {
  readonly angle: number;
  readonly touch: Touch;
}
function around(
  touches: readonly Touch[],
  center: readonly [number, number, number],
  frame: ViewFrame,
): readonly RoundPoint[] {
  const [x0, y0] = inView(center, frame);
  return touches.map((touch) => {
    const [x, y] = inView(touch.place, frame);
    return { angle: Math.atan2(y - y0, x - x0), touch };
  });
}

interface Drawing {
  /** Pixels for one mm of deviation. */
  readonly pxPerMm: number;
  /** How many times too large; null when the size of the round is not known. */
  readonly factor: number | null;
  readonly barMm: number;
}
function scaleOf(points: readonly RoundPoint[], radius: number, page: PageContext): Drawing {
  const largest = Math.max(1e-6, ...points.map(({ touch }) => Math.abs(touch.deviation)));
  const widest = ROOM / largest;
  const factor = radius > 0 ? niceBelow(widest / (BASE / radius)) : null;
  const pxPerMm = factor === null ? widest : (factor * BASE) / radius;
  return { pxPerMm, factor, barMm: niceLengthBelow(60 / pxPerMm, page) };
}

/** A circle beside the base circle: in the large view its distance is `offset + shift along the angle`. */
interface Ring {
  readonly shift: readonly [number, number];
  readonly offset: number;
  readonly kind: "extreme" | "zone";
}
function ringsOf(feature: ReportFeature, points: readonly RoundPoint[], frame: ViewFrame): readonly Ring[] {
  const extreme = (size: RoundSize | null | undefined): readonly Ring[] => {
    if (!size || !feature.center || !feature.diameter) return [];
    const [x0, y0] = inView(feature.center, frame);
    const [x, y] = inView(size.center, frame);
    return [{ shift: [x - x0, y - y0], offset: (size.diameter - feature.diameter) / 2, kind: "extreme" }];
  };
  return [...extreme(feature.inscribed), ...extreme(feature.circumscribed), ...zoneRings(feature, points)];
}

function zoneRings(feature: ReportFeature, points: readonly RoundPoint[]): readonly Ring[] {
  if (!feature.zone || feature.fit !== "circle") return [];
  const holds = points
    .filter(({ touch }) => touch.holds)
    .map(({ angle, touch }) => ({
      along: [Math.cos(angle), Math.sin(angle)] as const,
      deviation: touch.deviation,
      outside: touch.weight > 0,
    }));
  const zone = zoneCircles(holds, feature.zone.minimum);
  if (zone === null) return [];
  return [zone.outer, zone.inner].map((offset) => ({ shift: zone.shift, offset, kind: "zone" }));
}

function placeAt(angle: number, deviation: number, { pxPerMm }: Drawing): [number, number] {
  const radius = BASE + deviation * pxPerMm;
  return [MIDDLE.x + radius * Math.cos(angle), MIDDLE.y - radius * Math.sin(angle)];
}

function ringPath({ shift, offset, kind }: Ring, drawing: Drawing): string {
  const places = Array.from({ length: 72 }, (_, index) => {
    const angle = (index * Math.PI) / 36;
    return placeAt(angle, offset + shift[0] * Math.cos(angle) + shift[1] * Math.sin(angle), drawing);
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

/** Neighbouring touches of one section joined; a cylinder's sections lie over each other and are left unjoined. */
function trace(points: readonly RoundPoint[], fit: string, drawing: Drawing): string {
  if (fit !== "circle" || points.length < 5) return "";
  const ordered = [...points].sort((a, b) => a.angle - b.angle);
  const places = ordered.map(({ angle, touch }) => placeAt(angle, touch.deviation, drawing));
  return element("path", { d: pathOf(places, true), fill: "none", stroke: "#647b89", "stroke-width": 0.9 });
}

function mark({ angle, touch }: RoundPoint, drawing: Drawing): string {
  const [cx, cy] = placeAt(angle, touch.deviation, drawing);
  const ring = touch.holds ? element("circle", { cx, cy, r: 5, fill: "none", stroke: INK, "stroke-width": 0.8 }) : "";
  const fill = touch.deviation > 0 ? INK : "#fff";
  const dot = { cx, cy, r: 2.4, fill, stroke: INK, "stroke-width": 0.8, class: "touch", "data-line": String(touch.line) };
  return ring + element("circle", dot);
}

function extremeLabel(
  extreme: Touch,
  points: readonly RoundPoint[],
  drawing: Drawing,
  page: PageContext,
): string {
  const point = points.find(({ touch }) => touch === extreme);
  if (point === undefined) return "";
  const [x, y] = placeAt(point.angle, extreme.deviation, drawing);
  const outward = extreme.deviation > 0 ? 12 : -12;
  const [dx, dy] = [Math.cos(point.angle) * outward, -Math.sin(point.angle) * outward];
  return label(x + dx, y + dy + 3, deviationText(extreme.deviation, page), {
    class: "halo strong",
    "text-anchor": Math.abs(dx) < 5 ? "middle" : dx > 0 ? "start" : "end",
  });
}

function cross(frame: ViewFrame): string {
  const { x, y } = MIDDLE;
  const lines = element("path", {
    d: `M${x - 8} ${y}H${x + 8}M${x} ${y - 8}V${y + 8}`,
    stroke: INK,
    "stroke-width": 0.6,
    fill: "none",
  });
  return lines + label(x + 11, y + 4, axisName(frame.right)) + label(x - 3, y - 12, axisName(frame.up));
}

function bar({ barMm, pxPerMm }: Drawing, page: PageContext): string {
  const [x, y2] = [SIZE.width - 76, SIZE.height - 20];
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

function endsText(highest: Touch, lowest: Touch, page: PageContext): string {
  const { plots } = page.texts;
  const one = (word: string, touch: Touch): string =>
    `${word} ${deviationText(touch.deviation, page)} (${page.text(plots.atLine, { line: String(touch.line) })})`;
  return `${one(plots.highest, highest)}, ${one(plots.lowest, lowest)}`;
}

interface Drawn {
  readonly feature: ReportFeature;
  readonly touches: readonly Touch[];
  readonly drawing: Drawing;
  readonly rings: readonly Ring[];
}
function captionOf({ feature, touches, drawing, rings }: Drawn, page: PageContext): string {
  const { plots } = page.texts;
  const { highest, lowest } = extremes(touches);
  const of = feature.plot?.of ?? touches.length;
  const factor =
    drawing.factor === null
      ? page.text(plots.bar, { length: roundLength(drawing.barMm, page) })
      : page.text(plots.exaggerated, { factor: factorText(drawing.factor, page) });
  return [
    `${endsText(highest, lowest, page)}; ${factor}.`,
    plots.roundBase,
    rings.some((ring) => ring.kind === "extreme") ? plots.roundExtremes : "",
    touches.some((touch) => touch.holds) ? plots.holds : "",
    rings.some((ring) => ring.kind === "zone") ? plots.roundZone : "",
    touches.length < of ? `${page.text(plots.drawn, { drawn: String(touches.length), of: String(of) })}.` : "",
  ]
    .filter((part) => part !== "")
    .join(" ");
}
