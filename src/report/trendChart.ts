import { scaleLinear } from "d3-scale";
import { fill } from "../model/say.ts";
import type { TrendGroup } from "../model/trend.ts";
import { element, label, pathOf, picture, px } from "./plots/svg.ts";

const SIZE = { width: 640, height: 210 } as const;
const BOX = { left: 84, right: 560, top: 16, bottom: 176 } as const;
const INK = "#14181b";

/** The values of a trend in their order, with mean and limits of chance. `text` words a value with its unit, `described` the whole. */
export function trendChart(
  { name, points, mean, lower, upper }: TrendGroup,
  text: (value: number) => string,
  described: string,
): string {
  const values = points.map(({ value }) => value);
  const all = [...values, mean, ...(lower === null ? [] : [lower]), ...(upper === null ? [] : [upper])];
  const low = all.reduce((a, b) => Math.min(a, b));
  const high = all.reduce((a, b) => Math.max(a, b));
  const margin = high > low ? (high - low) * 0.06 : Math.max(Math.abs(high), 1e-6) * 0.5;
  const y = scaleLinear([low - margin, high + margin], [BOX.bottom, BOX.top]);
  const x = scaleLinear([0, Math.max(1, points.length - 1)], [BOX.left + 8, BOX.right - 8]);
  const level = (value: number, kind: string, dash: string | null): string =>
    element("path", {
      d: `M${BOX.left} ${px(y(value))}H${BOX.right}`,
      stroke: INK,
      "stroke-width": kind === "mean" ? 1.2 : 0.8,
      "stroke-dasharray": dash,
      class: kind,
    }) + label(BOX.right + 6, y(value) + 4, text(value));
  const places = values.map((value, i): [number, number] => [x(i), y(value)]);
  return picture(
    SIZE,
    fill(
      described,
      { name, count: points.length, latest: text(values.at(-1) ?? mean), mean: text(mean) },
      { show: "mm", decimal: "." },
    ),
    element("path", {
      d: `M${BOX.left} ${BOX.top}V${BOX.bottom}H${BOX.right}`,
      fill: "none",
      stroke: "#8d979e",
    }),
    level(mean, "mean", null),
    ...(lower === null ? [] : [level(lower, "limit", "5 3")]),
    ...(upper === null ? [] : [level(upper, "limit", "5 3")]),
    label(BOX.left - 6, y(high) + 4, text(high), { "text-anchor": "end" }),
    label(BOX.left - 6, y(low) + 4, text(low), { "text-anchor": "end" }),
    element("path", {
      d: pathOf(places),
      fill: "none",
      stroke: "#3b5261",
      "stroke-width": 1.4,
      class: "values",
    }),
    ...places.map(([cx, cy], i) =>
      element("circle", {
        cx,
        cy,
        r: i === places.length - 1 ? 4 : 2.6,
        fill: isOutside(values[i] ?? mean, lower, upper) ? "#fff" : INK,
        stroke: INK,
        "stroke-width": 1.4,
      }),
    ),
    label(BOX.left + 8, BOX.bottom + 18, (points[0]?.issued ?? "").slice(0, 10)),
    label(BOX.right - 8, BOX.bottom + 18, (points.at(-1)?.issued ?? "").slice(0, 10), {
      "text-anchor": "end",
    }),
  );
}
const isOutside = (value: number, lower: number | null, upper: number | null): boolean =>
  (lower !== null && value < lower) || (upper !== null && value > upper);
