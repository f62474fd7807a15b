import { numberIn, numbersIn } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { nameAt, stroke } from "./drawing.ts";
import { deviationText, slopeText } from "./scales.ts";
import { label, picture } from "./svg.ts";
import { touchMarks } from "./touchMarks.ts";

const SIZE = { width: 400, height: 180 } as const;
const BOX = { left: 20, right: 290, top: 25, bottom: 150 } as const;

/** The seatings in order about their mean. */
export const reSeat: AdvicePlotKind = {
  name: "re-seat",
  draw: (data, advice, _id, page) => {
    const values = numbersIn(data, "values");
    const mean = numberIn(advice.values, "mean");
    if (values === null || mean === null || values.length < 2) return null;
    const [low, high] = [Math.min(...values), Math.max(...values)];
    const y = (value: number): number =>
      high > low
        ? BOX.bottom - ((value - low) / (high - low)) * (BOX.bottom - BOX.top)
        : (BOX.top + BOX.bottom) / 2;
    const x = (index: number): number =>
      BOX.left + 10 + (index / (values.length - 1)) * (BOX.right - BOX.left - 20);
    const slope = (data as { unit?: unknown } | null)?.unit === "slope";
    const text = (value: number): string => (slope ? slopeText(value, page) : deviationText(value, page));
    const level = (value: number, dashed: boolean): string =>
      stroke(
        [BOX.left, y(value)],
        [BOX.right, y(value)],
        dashed
          ? { "stroke-dasharray": "5 3", "stroke-width": 0.8, class: "end" }
          : { "stroke-width": 1.4, class: "mean" },
      );
    const { plots } = page.texts;
    const svg = picture(
      SIZE,
      plots.reSeatLabel,
      level(low, true),
      level(high, true),
      level(mean, false),
      touchMarks(
        values.map((value, index) => ({
          cx: x(index),
          cy: y(value),
          line: null,
          holds: value === low || value === high,
          filled: value >= mean,
        })),
      ),
      label(BOX.right + 6, y(high) + 4, text(high)),
      label(BOX.right + 6, y(low) + 4, text(low)),
      nameAt((BOX.left + BOX.right) / 2, SIZE.height - 6, `${text(mean)} · ${values.length}`, true),
    );
    return { svg, caption: plots.reSeatCaption };
  },
};
