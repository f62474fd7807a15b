import { contours } from "d3-contour";
import { Delaunay } from "d3-delaunay";
import { scaleLinear } from "d3-scale";
import { onceFor } from "../../model/once.ts";
import type { PageContext } from "../pageContext.ts";
import { density, isCrowd } from "./crowd.ts";
import { scaleBar } from "./drawing.ts";
import { deviationText, niceLengthBelow, roundLength } from "./scales.ts";
import { element, label, pathOf, picture } from "./svg.ts";
import { touchMarks } from "./touchMarks.ts";
import { axisName, type ViewFrame } from "./viewFrame.ts";

const SIZE = { width: 400, height: 236 } as const;
const MAP = { left: 44, top: 20, width: 252, height: 166 } as const;
/** Paper to slate: a scale that stays a scale when it is printed in grey. */
const TONES = ["#f4f5f5", "#dfe4e7", "#c5ced4", "#a6b4bd", "#8598a4", "#647b89"] as const;
const CELLS = 44;

/** A height at a place of the view, in mm. */
export interface Spot {
  readonly at: readonly [number, number];
  readonly height: number;
  readonly line: number | null;
  readonly holds: boolean;
}
export interface MapRequest {
  readonly spots: readonly Spot[];
  readonly frame: ViewFrame;
  /** Unique on the page. */
  readonly id: string;
  readonly description: string;
  readonly labelOf: (spot: Spot) => string;
  /** Rise to the right and upwards of what the heights are counted from. */
  readonly tilt?: readonly [number, number] | null;
}
export interface HeightMap {
  readonly svg: string;
  /** The heights could be joined to a surface with tones; else there are only touches. */
  readonly hasSurface: boolean;
  /** Rise over the touches along the arrow; null without an arrow. */
  readonly riseMm: number | null;
}

/** Heights over a face: a few tones, zero as a heavy line, every touch; null when all touches are at one place. */
export function heightMap(request: MapRequest, page: PageContext): HeightMap | null {
  const { spots, frame, id, description, labelOf, tilt = null } = request;
  const map = scaleOf(spots, page);
  if (map === null) return null;
  const surface = surfaceOf(spots, map, id, page);
  const riseMm = tilt && riseOf(spots, tilt);
  const svg = picture(
    SIZE,
    description,
    surface?.drawing ?? "",
    marksOf(spots, map),
    riseMm === null || tilt === null ? "" : tiltArrow(tilt, deviationText(riseMm, page)),
    ...extremeLabels(spots, map, labelOf),
    barOf(map, page),
    axes(frame),
    surface === null ? "" : toneKey(surface.levels, page),
  );
  return { svg, hasSurface: surface !== null, riseMm };
}

interface MapScale {
  readonly pxPerMm: number;
  readonly x: (mm: number) => number;
  readonly y: (mm: number) => number;
  readonly barMm: number;
}

function scaleOf(spots: readonly Spot[], page: PageContext): MapScale | null {
  const xs = spots.map((spot) => spot.at[0]);
  const ys = spots.map((spot) => spot.at[1]);
  const [left, right, low, high] = [least(xs), most(xs), least(ys), most(ys)];
  if (right - left <= 0 && high - low <= 0) return null;
  const pxPerMm = Math.min(MAP.width / (right - left), MAP.height / (high - low));
  const [middleX, middleY] = [(left + right) / 2, (low + high) / 2];
  return {
    pxPerMm,
    x: (mm) => MAP.left + MAP.width / 2 + (mm - middleX) * pxPerMm,
    y: (mm) => MAP.top + MAP.height / 2 - (mm - middleY) * pxPerMm,
    barMm: niceLengthBelow(90 / pxPerMm, page),
  };
}
const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b));
const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b));

interface Surface {
  readonly drawing: string;
  readonly levels: readonly number[];
}

/** The joined-up surface between the touches; null when they have no area between them or no height. */
function surfaceOf(spots: readonly Spot[], map: MapScale, id: string, page: PageContext): Surface | null {
  const delaunay = new Delaunay(spots.flatMap(({ at }) => [map.x(at[0]), map.y(at[1])]));
  const heights = spots.map((spot) => spot.height);
  const levels = levelsOf(least(heights), most(heights), page);
  if (spots.length < 4 || levels.length === 0 || !hasArea(delaunay)) return null;
  const grid = gridOf(delaunay, heights);
  const outline = outlinesOf(grid);
  const hull = pathOf([...delaunay.hullPolygon()] as [number, number][], true);
  const bands = levels.map((level, index) =>
    element("path", {
      d: outline(level),
      fill: TONES[index + 1] ?? TONES[5],
      stroke: "#fff",
      "stroke-width": 0.4,
    }),
  );
  const drawing = [
    element("clipPath", { id: `${id}-hull` }, element("path", { d: hull })),
    element("path", { d: hull, fill: TONES[0] }),
    element(
      "g",
      { "clip-path": `url(#${id}-hull)` },
      ...bands,
      element("path", { d: outline(0), fill: "none", stroke: "#1a1a1a", "stroke-width": 1.3 }),
    ),
    element("path", { d: hull, fill: "none", stroke: "#1a1a1a", "stroke-width": 0.5 }),
  ].join("");
  return { drawing, levels };
}

/** The outlines of what lies above a level, as a path; each level is followed once. */
function outlinesOf({ values, columns, rows, left, top, step }: Grid): (level: number) => string {
  const shape = contours().size([columns, rows]).smooth(true);
  const heights = [...values];
  return onceFor((level: number) =>
    shape
      .contour(heights, level)
      .coordinates.flat()
      .map((ring) => {
        const places = ring.map(
          ([x = 0, y = 0]) => [left + (x - 0.5) * step, top + (y - 0.5) * step] as const,
        );
        return pathOf(corners(places), true);
      })
      .join(""),
  );
}

const STRAIGHT_PX = 0.02;
/** Places where a line turns: what lies between two others on a straight line says nothing. */
function corners(places: readonly (readonly [number, number])[]): readonly (readonly [number, number])[] {
  const kept: (readonly [number, number])[] = [];
  places.forEach((here, index) => {
    const before = kept.at(-1);
    const after = places[index + 1];
    if (before !== undefined && after !== undefined) {
      const [dx, dy] = [after[0] - before[0], after[1] - before[1]];
      const aside = Math.abs((here[0] - before[0]) * dy - (here[1] - before[1]) * dx);
      if (aside < STRAIGHT_PX * Math.hypot(dx, dy)) return;
    }
    kept.push(here);
  });
  return kept;
}

/** Touches on one straight line make triangles only by rounding: they carry no surface. */
function hasArea(delaunay: Delaunay<Delaunay.Point>): boolean {
  const corners = [...delaunay.hullPolygon()];
  const twice = corners.reduce((sum, [x = 0, y = 0], index) => {
    const [nextX = 0, nextY = 0] = corners[(index + 1) % corners.length] ?? [];
    return sum + x * nextY - nextX * y;
  }, 0);
  return delaunay.triangles.length >= 6 && Math.abs(twice) > 100;
}

/** Round heights between lowest and highest, at most as many as there are darker tones. */
function levelsOf(low: number, high: number, page: PageContext): readonly number[] {
  if (!(high - low > 1e-7)) return [];
  const unit = page.style.show === "in" ? 25.4 : 1;
  for (const count of [6, 5, 4, 3, 2]) {
    const ticks = scaleLinear()
      .domain([low / unit, high / unit])
      .ticks(count)
      .map((tick) => tick * unit)
      .filter((tick) => tick > low && tick < high);
    if (ticks.length > 0 && ticks.length < TONES.length) return ticks;
  }
  return [];
}

interface Grid {
  readonly values: Float64Array;
  readonly columns: number;
  readonly rows: number;
  readonly left: number;
  readonly top: number;
  readonly step: number;
}

/** Heights on a square grid: straight between three touches, the nearest touch outside them. */
function gridOf(delaunay: Delaunay<Delaunay.Point>, heights: readonly number[]): Grid {
  const step = Math.max(MAP.width, MAP.height) / CELLS;
  const left = MAP.left - 2 * step;
  const top = MAP.top - 2 * step;
  const columns = Math.ceil(MAP.width / step) + 5;
  const rows = Math.ceil(MAP.height / step) + 5;
  const values = new Float64Array(columns * rows).fill(Number.NaN);
  const { points, triangles } = delaunay;
  for (let t = 0; t < triangles.length; t += 3) {
    const corners = [0, 1, 2].map((k) => {
      const p = triangles[t + k] ?? 0;
      return [points[2 * p] ?? 0, points[2 * p + 1] ?? 0, heights[p] ?? 0] as const;
    });
    fillTriangle(corners as unknown as Corners, values, { columns, rows, left, top, step });
  }
  let near = 0;
  for (let index = 0; index < values.length; index++) {
    if (!Number.isNaN(values[index])) continue;
    near = delaunay.find(left + (index % columns) * step, top + Math.floor(index / columns) * step, near);
    values[index] = heights[near] ?? 0;
  }
  return { values, columns, rows, left, top, step };
}

type Corners = readonly [Corner, Corner, Corner];
type Corner = readonly [x: number, y: number, height: number];

function fillTriangle([a, b, c]: Corners, values: Float64Array, grid: Omit<Grid, "values">): void {
  const { columns, rows, left, top, step } = grid;
  const area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
  if (area === 0) return;
  const cell = (value: number, from: number): number => (value - from) / step;
  const [x0, x1] = [
    Math.ceil(cell(Math.min(a[0], b[0], c[0]), left)),
    cell(Math.max(a[0], b[0], c[0]), left),
  ];
  const [y0, y1] = [Math.ceil(cell(Math.min(a[1], b[1], c[1]), top)), cell(Math.max(a[1], b[1], c[1]), top)];
  for (let row = Math.max(0, y0); row <= Math.min(rows - 1, y1); row++) {
    for (let column = Math.max(0, x0); column <= Math.min(columns - 1, x1); column++) {
      const [x, y] = [left + column * step, top + row * step];
      const u = ((b[0] - x) * (c[1] - y) - (c[0] - x) * (b[1] - y)) / area;
      const v = ((c[0] - x) * (a[1] - y) - (a[0] - x) * (c[1] - y)) / area;
      const w = 1 - u - v;
      if (u < -1e-9 || v < -1e-9 || w < -1e-9) continue;
      values[row * columns + column] = u * a[2] + v * b[2] + w * c[2];
    }
  }
}

/** Every touch; of a crowd only where it lies, its ends and those that hold the zone. */
function marksOf(spots: readonly Spot[], map: MapScale): string {
  const mark = ({ at, height, line, holds }: Spot) => ({
    cx: map.x(at[0]),
    cy: map.y(at[1]),
    line,
    holds,
    filled: height > 0,
  });
  if (!isCrowd(spots.length)) return touchMarks(spots.map(mark));
  const ends = extremesOf(spots);
  const singled = spots.filter((spot) => spot.holds || ends.includes(spot));
  return density(spots.map(({ at }) => [map.x(at[0]), map.y(at[1])])) + touchMarks(singled.map(mark));
}

/** Highest and lowest in words beside their touches. */
function extremeLabels(
  spots: readonly Spot[],
  map: MapScale,
  labelOf: (spot: Spot) => string,
): readonly string[] {
  return extremesOf(spots).map((spot) => {
    const [x, y] = [map.x(spot.at[0]), map.y(spot.at[1])];
    const rightHalf = x > MAP.left + MAP.width / 2;
    return label(x + (rightHalf ? -6 : 6), y - 6, labelOf(spot), {
      class: "halo strong",
      "text-anchor": rightHalf ? "end" : "start",
    });
  });
}

function extremesOf(spots: readonly Spot[]): readonly Spot[] {
  const highest = spots.reduce((best, spot) => (spot.height > best.height ? spot : best));
  const lowest = spots.reduce((best, spot) => (spot.height < best.height ? spot : best));
  return [highest, lowest];
}

const LEAST_RISE = 1e-6;
/** How much higher the far side of the touches is along the way of the rise; null where it is nothing. */
function riseOf(spots: readonly Spot[], [right, up]: readonly [number, number]): number | null {
  const heights = spots.map(({ at }) => at[0] * right + at[1] * up);
  const rise = most(heights) - least(heights);
  return rise > LEAST_RISE ? rise : null;
}

/** The way the face rises, with how much, beside the map. */
function tiltArrow([right, up]: readonly [number, number], text: string): string {
  const [x, y, reach] = [MAP.left + MAP.width + 52, SIZE.height - 48, 17];
  const size = Math.hypot(right, up);
  const [dx, dy] = [right / size, -up / size];
  const [tipX, tipY] = [x + dx * reach, y + dy * reach];
  const side = (sense: number): [number, number] => [
    tipX - dx * 9 - dy * 4.5 * sense,
    tipY - dy * 9 + dx * 4.5 * sense,
  ];
  return [
    element("circle", { cx: x, cy: y, r: reach + 4, fill: "none", stroke: "#8d979e", "stroke-width": 0.6 }),
    element("path", {
      d: pathOf([
        [x - dx * reach, y - dy * reach],
        [tipX, tipY],
      ]),
      stroke: "#1a1a1a",
      "stroke-width": 1.8,
      fill: "none",
      class: "tilt",
    }),
    element("path", { d: pathOf([[tipX, tipY], side(1), side(-1)], true), fill: "#1a1a1a" }),
    label(x, SIZE.height - 10, text, { "text-anchor": "middle", class: "strong" }),
  ].join("");
}

function barOf(map: MapScale, page: PageContext): string {
  const { barMm, pxPerMm } = map;
  return scaleBar({
    left: MAP.left,
    y: SIZE.height - 22,
    length: barMm * pxPerMm,
    text: roundLength(barMm, page),
  });
}

function axes(frame: ViewFrame): string {
  const [x, y] = [14, SIZE.height - 14];
  const arrow = element("path", {
    d: `M${x} ${y - 20}V${y}H${x + 20}M${x - 3} ${y - 16}L${x} ${y - 21}L${x + 3} ${y - 16}M${x + 16} ${y - 3}L${x + 21} ${y}L${x + 16} ${y + 3}`,
    stroke: "#1a1a1a",
    "stroke-width": 0.9,
    fill: "none",
  });
  return arrow + label(x + 12, y + 11, axisName(frame.right)) + label(x - 8, y - 24, axisName(frame.up));
}

function toneKey(levels: readonly number[], page: PageContext): string {
  const [x, top, step] = [MAP.left + MAP.width + 26, MAP.top, 20];
  const count = levels.length + 1;
  const boxes = Array.from({ length: count }, (_, index) =>
    element("rect", {
      x,
      y: top + (count - 1 - index) * step,
      width: 14,
      height: step,
      fill: TONES[index] ?? TONES[5],
      stroke: "#1a1a1a",
      "stroke-width": 0.4,
    }),
  );
  const names = levels.map((level, index) =>
    label(x + 19, top + (count - 1 - index) * step + 3.5, roundLength(cleanZero(level), page, true)),
  );
  return boxes.join("") + names.join("");
}
const cleanZero = (level: number): number => (Math.abs(level) < 1e-9 ? 0 : level);
