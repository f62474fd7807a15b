import { scaleLinear } from "d3-scale";
import type { ReportFeature } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import { endsText, sentences, thinnedText } from "./captions.ts";
import type { FeaturePlotKind, Plot } from "./contract.ts";
import { isCrowd, reach } from "./crowd.ts";
import { deviationText, factorText, niceBelow, roundLength } from "./scales.ts";
import { element, label, pathOf, picture } from "./svg.ts";
import { extremes, type Touch, touchesOf } from "./touches.ts";
import { type Mark, touchMarks } from "./touchMarks.ts";

const SIZE = { width: 400, height: 210 } as const;
const BOX = { left: 68, right: 386, top: 16, bottom: 160 } as const;
const INK = "#1a1a1a";
const MM_PER_INCH = 25.4;

/** Readings along a travel with the line fitted to them. */
export const lineChart: FeaturePlotKind = {
  name: "line-chart",
  fits: ["line"],
  draw: (name, feature, _id, page) => {
    const touches = touchesOf(feature);
    if (touches === null || feature.center === null || feature.direction === null) return null;
    const chart = chartOf(touches, feature.center, feature.direction);
    if (chart === null) return null;
    const { highest, lowest } = extremes(touches);
    const svg = picture(
      SIZE,
      `${page.text(page.texts.plots.lineLabel, { name })}. ${page.texts.plots.highest} ${deviationText(highest.deviation, page)}, ${page.texts.plots.lowest} ${deviationText(lowest.deviation, page)}`,
      frame(chart, page),
      trace(chart.spots),
      element("path", { d: pathOf(chart.fit), stroke: INK, "stroke-width": 1.6, fill: "none", class: "fit" }),
      touchMarks(
        chart.spots
          .filter(
            ({ touch }) => !isCrowd(touches.length) || touch === highest || touch === lowest || touch.holds,
          )
          .map(mark),
      ),
    );
    return { svg, ...wordsOf(feature, chart, touches, page) };
  },
};

/** Readings joined in order; of a crowd how far it reaches. */
function trace(spots: readonly Spot[]): string {
  if (isCrowd(spots.length))
    return reach(
      spots.map(({ at: [x, y] }) => ({ at: x, value: y })),
      120,
      (x, y) => [x, y],
    );
  return element("path", {
    d: pathOf(spots.map((spot) => spot.at)),
    stroke: "#647b89",
    "stroke-width": 0.9,
    fill: "none",
  });
}

interface Spot {
  readonly at: readonly [number, number];
  readonly touch: Touch;
}
interface Chart {
  readonly axis: string;
  readonly height: string;
  readonly x: Scale;
  readonly y: Scale;
  readonly spots: readonly Spot[];
  readonly fit: readonly (readonly [number, number])[];
  readonly factor: number;
}
type Scale = ReturnType<typeof scaleLinear<number, number>>;

function chartOf(
  touches: readonly Touch[],
  center: readonly [number, number, number],
  direction: readonly [number, number, number],
): Chart | null {
  const along = largest(direction.map(Math.abs));
  const others = ([0, 1, 2] as const).filter((axis) => axis !== along);
  const spans = others.map((axis) => span(touches.map((touch) => touch.place[axis])));
  const height = others[largest(spans.map(([low, high]) => high - low))] ?? 2;
  const rise = direction[height] / direction[along];
  const [from, to] = span(touches.map((touch) => touch.place[along]));
  if (!(to > from) || !Number.isFinite(rise)) return null;
  const fitted = (at: number): number => center[height] + (at - center[along]) * rise;
  const [low, high] = span([...touches.map((touch) => touch.place[height]), fitted(from), fitted(to)]);
  const x = scaleLinear([from, to], [BOX.left + 6, BOX.right - 6]);
  const pxPerMm = x(from + 1) - x(from);
  const space = BOX.bottom - BOX.top;
  const factor = niceBelow((space * 0.94) / (Math.max(high - low, 1e-5) * pxPerMm));
  const half = space / (2 * factor * pxPerMm);
  const middle = (low + high) / 2;
  const y = scaleLinear([middle - half, middle + half], [BOX.bottom, BOX.top]);
  const ordered = [...touches].sort((a, b) => a.place[along] - b.place[along]);
  return {
    axis: "XYZ"[along] ?? "",
    height: "XYZ"[height] ?? "",
    x,
    y,
    spots: ordered.map((touch) => ({ at: [x(touch.place[along]), y(touch.place[height])], touch })),
    fit: [
      [x(from), y(fitted(from))],
      [x(to), y(fitted(to))],
    ],
    factor,
  };
}

function largest(values: readonly number[]): 0 | 1 | 2 {
  const index = values.indexOf(Math.max(...values));
  return index === 1 ? 1 : index === 2 ? 2 : 0;
}
const span = (values: readonly number[]): readonly [number, number] => [
  values.reduce((a, b) => Math.min(a, b)),
  values.reduce((a, b) => Math.max(a, b)),
];

function frame(chart: Chart, page: PageContext): string {
  const unit = page.style.show === "in" ? MM_PER_INCH : 1;
  const ticks = (scale: Scale, count: number): readonly number[] => {
    const [from = 0, to = 0] = scale.domain();
    return scaleLinear([from / unit, to / unit], [0, 1])
      .ticks(count)
      .map((tick) => tick * unit);
  };
  const rows = ticks(chart.y, 4).flatMap((tick) => [
    element("path", {
      d: `M${BOX.left} ${chart.y(tick)}H${BOX.right}`,
      stroke: "#c5ced4",
      "stroke-width": 0.6,
    }),
    label(BOX.left - 5, chart.y(tick) + 3.5, roundLength(tick, page), { "text-anchor": "end" }),
  ]);
  const columns = ticks(chart.x, 5).flatMap((tick) => [
    element("path", { d: `M${chart.x(tick)} ${BOX.bottom}v4`, stroke: INK, "stroke-width": 0.8 }),
    label(chart.x(tick), BOX.bottom + 15, roundLength(tick, page), { "text-anchor": "middle" }),
  ]);
  const base = element("path", {
    d: `M${BOX.left} ${BOX.bottom}H${BOX.right}`,
    stroke: INK,
    "stroke-width": 0.8,
  });
  const { position } = page.texts.plots;
  return [
    ...rows,
    base,
    ...columns,
    label(BOX.right, BOX.bottom + 32, page.text(position, { axis: chart.axis }), { "text-anchor": "end" }),
    label(BOX.left - 5, BOX.top - 6, chart.height, { "text-anchor": "end" }),
  ].join("");
}

const mark = ({ at: [cx, cy], touch }: Spot): Mark => ({
  cx,
  cy,
  line: touch.line,
  holds: touch.holds,
  filled: touch.deviation > 0,
});

function wordsOf(
  feature: ReportFeature,
  chart: Chart,
  touches: readonly Touch[],
  page: PageContext,
): Omit<Plot, "svg"> {
  const { plots } = page.texts;
  return {
    caption: sentences([
      `${endsText(extremes(touches), page)}.`,
      `${page.text(plots.heightScale, { factor: factorText(chart.factor, page) })}.`,
      thinnedText(feature, touches.length, page),
    ]),
    key: [
      plots.lineCaption,
      touches.some((touch) => touch.holds) ? plots.holds : "",
      isCrowd(touches.length) ? plots.crowdReach : "",
    ].filter((sentence) => sentence !== ""),
  };
}
