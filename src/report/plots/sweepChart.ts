import { scaleLinear } from "d3-scale";
import type { ReportFeature, ReportSweep } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import { sentences, thinnedText } from "./captions.ts";
import type { FeaturePlotKind, Plot } from "./contract.ts";
import { isCrowd, reach } from "./crowd.ts";
import { INK } from "./drawing.ts";
import { deviationText, roundLength } from "./scales.ts";
import { element, label, pathOf, picture } from "./svg.ts";
import { touchesOf } from "./touches.ts";
import { touchMarks } from "./touchMarks.ts";

const SIZE = { width: 400, height: 220 } as const;
const BOX = { left: 68, right: 388, top: 14, bottom: 172 } as const;
const MM_PER_INCH = 25.4;
const STEP = Math.PI / 60;
const FULL = 2 * Math.PI;

/** Readings of a rim or face sweep over the angle: what eccentricity or tilt makes of them, the waves on top, and the arm's sag. */
export const sweepChart: FeaturePlotKind = {
  name: "sweep-chart",
  fits: ["circle", "plane"],
  draw: (name, feature, _id, page) => {
    const chart = chartOf(feature);
    if (chart === null) return null;
    const y = heightScale(chart);
    const x = scaleLinear([0, FULL], [BOX.left, BOX.right]);
    const curve = (
      of: (angle: number) => number,
      look: Readonly<Record<string, string | number>>,
    ): string => {
      const places = Array.from({ length: FULL / STEP + 1 }, (_, k): [number, number] => [
        x(k * STEP),
        y(of(k * STEP)),
      ]);
      return element("path", { d: pathOf(places), fill: "none", stroke: INK, ...look });
    };
    const { base, waves, sag, spots } = chart;
    const svg = picture(
      SIZE,
      page.text(page.texts.plots.sweepLabel, { name }),
      frame(x, y, page),
      isCrowd(spots.length)
        ? reach(
            spots.map(({ angle, value }) => ({ at: angle, value })),
            90,
            (at, value) => [x(at), y(value)],
          )
        : "",
      curve(base, { "stroke-width": 1.8, class: "base" }),
      waves === null
        ? ""
        : curve((angle) => base(angle) + waves(angle), {
            "stroke-width": 1,
            "stroke-dasharray": "6 3",
            class: "waves",
          }),
      sag === null
        ? ""
        : curve((angle) => sag * Math.sin(angle), {
            "stroke-width": 1.1,
            "stroke-dasharray": "1.5 3",
            class: "sag",
          }),
      touchMarks(
        (isCrowd(spots.length) ? [] : spots).map(({ angle, value, line }) => ({
          cx: x(angle),
          cy: y(value),
          line,
          holds: false,
          filled: value > base(angle),
        })),
      ),
    );
    return { svg, ...wordsOf(feature, chart, page) };
  },
};

interface Chart {
  readonly sweep: ReportSweep;
  readonly spots: readonly { readonly angle: number; readonly value: number; readonly line: number }[];
  /** What eccentricity or tilt alone would show. */
  readonly base: (angle: number) => number;
  readonly waves: ((angle: number) => number) | null;
  readonly sag: number | null;
}

function chartOf(feature: ReportFeature): Chart | null {
  const { sweep } = feature;
  const touches = touchesOf(feature);
  const base = sweep && baseOf(feature, sweep);
  if (sweep === undefined || touches === null || !base) return null;
  const rim = sweep.kind === "rim-sweep";
  const spots = touches.map(({ place: [px, py, pz], line }) => ({
    angle: (Math.atan2(py, px) + FULL) % FULL,
    value: rim ? Math.hypot(px, py) - (sweep.radius ?? 0) : pz - (feature.center?.[2] ?? 0),
    line,
  }));
  const { waves = [] } = sweep;
  return {
    sweep,
    spots: [...spots].sort((a, b) => a.angle - b.angle),
    base,
    waves:
      waves.length === 0
        ? null
        : (angle) =>
            waves.reduce(
              (sum, { n, cosine, sine }) => sum + cosine * Math.cos(n * angle) + sine * Math.sin(n * angle),
              0,
            ),
    sag: sweep.sag === undefined || sweep.sag === 0 ? null : sweep.sag,
  };
}

/** The fitted circle seen from the sweep axis, or the fitted plane along the swept circle; null for other sweeps. */
function baseOf(feature: ReportFeature, { kind, radius }: ReportSweep): Chart["base"] | null {
  const { center, direction, diameter } = feature;
  if (radius === null || center === null) return null;
  if (kind === "rim-sweep" && feature.fit === "circle" && diameter) {
    const [cx, cy] = center;
    return (angle) => {
      const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
      const across = cx * sin - cy * cos;
      return cx * cos + cy * sin + Math.sqrt(Math.max(0, (diameter / 2) ** 2 - across ** 2)) - radius;
    };
  }
  if (kind === "face-sweep" && direction !== null && direction[2] !== 0) {
    const [nx, ny, nz] = direction;
    return (angle) =>
      -(nx * (radius * Math.cos(angle) - center[0]) + ny * (radius * Math.sin(angle) - center[1])) / nz;
  }
  return null;
}

function heightScale({ spots, base, sag }: Chart): Scale {
  const all = [
    ...spots.map(({ value }) => value),
    ...Array.from({ length: 24 }, (_, k) => base((k * FULL) / 24)),
    ...(sag === null ? [] : [sag, -sag]),
  ];
  const low = all.reduce((a, b) => Math.min(a, b));
  const high = all.reduce((a, b) => Math.max(a, b));
  const margin = Math.max((high - low) * 0.06, 1e-6);
  return scaleLinear([low - margin, high + margin], [BOX.bottom, BOX.top]);
}
type Scale = ReturnType<typeof scaleLinear<number, number>>;

function frame(x: Scale, y: Scale, page: PageContext): string {
  const unit = page.style.show === "in" ? MM_PER_INCH : 1;
  const [low = 0, high = 0] = y.domain();
  const rows = scaleLinear([low / unit, high / unit], [0, 1])
    .ticks(5)
    .map((tick) => tick * unit)
    .flatMap((tick) => [
      element("path", {
        d: `M${BOX.left} ${y(tick)}H${BOX.right}`,
        stroke: "#c5ced4",
        "stroke-width": 0.6,
      }),
      label(BOX.left - 5, y(tick) + 3.5, roundLength(Math.abs(tick) < 1e-9 ? 0 : tick, page), {
        "text-anchor": "end",
      }),
    ]);
  const columns = [0, 90, 180, 270, 360].flatMap((degrees) => {
    const at = x((degrees * Math.PI) / 180);
    return [
      element("path", { d: `M${at} ${BOX.bottom}v4`, stroke: INK, "stroke-width": 0.8 }),
      label(at, BOX.bottom + 16, `${degrees}°`, { "text-anchor": "middle" }),
    ];
  });
  return [
    ...rows,
    element("path", { d: `M${BOX.left} ${BOX.bottom}H${BOX.right}`, stroke: INK, "stroke-width": 0.8 }),
    ...columns,
    label(BOX.right, BOX.bottom + 34, page.texts.plots.sweepAngle, { "text-anchor": "end" }),
  ].join("");
}

function wordsOf(
  feature: ReportFeature,
  { sweep, spots, waves, sag }: Chart,
  page: PageContext,
): Omit<Plot, "svg"> {
  const { plots } = page.texts;
  const words = (sweep.waves ?? []).map(({ n, cosine, sine }) =>
    page.text(plots.sweepWave, { n: String(n), amount: unsigned(2 * Math.hypot(cosine, sine), page) }),
  );
  return {
    caption: sentences([
      `${page.text(plots.sweepFim, { fim: unsigned(sweep.fim, page) })}.`,
      waves === null ? "" : page.text(plots.sweepWaves, { waves: words.join(", ") }),
      sag === null ? "" : page.text(plots.sweepSag, { sag: unsigned(sag, page) }),
      thinnedText(feature, spots.length, page),
    ]),
    key: [
      sweep.kind === "rim-sweep" ? plots.sweepRim : plots.sweepFace,
      isCrowd(spots.length) ? plots.crowdReach : "",
    ].filter((sentence) => sentence !== ""),
  };
}

const unsigned = (mm: number, page: PageContext): string => deviationText(mm, page).replace(/^\+/, "");
