// The pictures of the advice show what the numbers say: coordinates are read back out of the SVG.
import { parse } from "node-html-parser";
import { describe, expect, it } from "vitest";
import type { ReportAdvice } from "../../src/model/setupReport.ts";
import { pageContext } from "../../src/report/pageContext.ts";
import { plotAdvice } from "../../src/report/plots/index.ts";
import { recordOf, SAMPLES } from "../golden/road.ts";
import { touchesOf } from "./touchesOf.ts";

const page = pageContext(await recordOf(`${SAMPLES}1-column`), null);
const advice = (
  kind: string,
  values: ReportAdvice["values"],
  more: Partial<ReportAdvice> = {},
): ReportAdvice => ({
  kind,
  of: "face-0",
  headline: "",
  moves: [],
  expect: null,
  next: null,
  values,
  working: [],
  cautions: [],
  status: "advised",
  ...more,
});
const draw = (one: ReportAdvice, data: unknown) => {
  const plot = plotAdvice({ ...one, plot: { kind: one.kind, data } }, "p", page);
  return { svg: parse(plot?.svg ?? ""), caption: plot?.caption ?? null };
};
const numbers = (path: string | undefined): number[] => (path?.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);

describe("square-up", () => {
  const stops = [
    { name: "left", x: -200 },
    { name: "right", x: 200, pitch: 1.75 },
  ];
  const drawn = (slopeX: number, amount: number) =>
    draw(
      advice(
        "square-up",
        { slopeX, slopeY: null, rotary: null },
        { moves: [{ at: "right", along: "z", amount, unit: "mm" }] },
      ),
      { stops },
    ).svg;
  it("tilts the face and moves the stop back to square, seen from above with the spindle below", () => {
    for (const sign of [1, -1]) {
      const svg = drawn(0.0001 * sign, -0.04 * sign);
      const [, leftY = 0, , rightY = 0] = numbers(svg.querySelector(".face")?.getAttribute("d"));
      // A right edge nearer the spindle stands lower in the picture, and its stop moves up, away from the spindle.
      expect(Math.sign(rightY - leftY)).toBe(sign);
      const [, from = 0, , to = 0] = numbers(svg.querySelector(".move")?.getAttribute("d"));
      expect(Math.sign(to - from)).toBe(-sign);
      expect(from).toBeCloseTo(rightY, 1);
    }
  });
  it("draws nothing where its data are of another shape", () => {
    for (const data of [null, {}, { stops: "x" }, { stops: [{ name: 1 }] }])
      expect(draw(advice("square-up", { slopeX: 0.001 }), data).caption).toBeNull();
  });
});

describe("seat-check", () => {
  it("leans the column the way it was measured and lifts the far edge", () => {
    for (const sign of [1, -1]) {
      const edge = sign > 0 ? "-z" : "+z";
      const { svg } = draw(
        advice("seat-check", { edge, edgeThickness: 0.05, leanOverHeight: 0.075 * sign }),
        { depth: 400, height: 600, lean: 0.075 * sign, edge },
      );
      const [pivotX = 0, pivotY = 0, farX = 0, farY = 0, topX = 0] = numbers(
        svg.querySelector(".column")?.getAttribute("d"),
      );
      expect(Math.sign(pivotX - farX)).toBe(sign);
      expect(farY).toBeLessThan(pivotY);
      // The top has gone the way of the lean against the foot below it.
      expect(Math.sign(topX - farX)).toBe(sign);
    }
  });
});

describe("the scale of a side view", () => {
  const inch = (text: string): number => Number.parseFloat(text) * 25.4;
  it("is a bar to measure by, and a factor for what is drawn too large", () => {
    const { svg } = draw(advice("seat-check", { edge: "-z", edgeThickness: 0.05, leanOverHeight: 0.075 }), {
      depth: 400,
      height: 600,
      lean: 0.075,
      edge: "-z",
    });
    const bar = svg.querySelector(".bar");
    const [from = 0, , , , , to = 0] = numbers(bar?.getAttribute("d"));
    const perMm = (to - from) / inch(bar?.nextElementSibling?.text ?? "");
    const upright = svg.querySelector(".upright");
    expect(Number(upright?.getAttribute("width")) / perMm).toBeCloseTo(400, -1);
    expect(Number(upright?.getAttribute("height")) / perMm).toBeCloseTo(600, -1);
    const factor = Number(/drawn ([\d\u202f]+) ×/.exec(svg.text)?.[1]?.replaceAll("\u202f", ""));
    const [, , farX = 0, , topX = 0] = numbers(svg.querySelector(".column")?.getAttribute("d"));
    expect((topX - farX) / perMm / factor).toBeCloseTo(0.075, 2);
  });
  it("is a bar between the stops", () => {
    const { svg } = draw(advice("square-up", { slopeX: 0.0001, slopeY: null, rotary: null }), {
      stops: [
        { name: "left", x: -200 },
        { name: "right", x: 200 },
      ],
    });
    const bar = svg.querySelector(".bar");
    const [from = 0, , , , , to = 0] = numbers(bar?.getAttribute("d"));
    const perMm = (to - from) / inch(bar?.nextElementSibling?.text ?? "");
    const [x1 = 0, , x2 = 0] = numbers(svg.querySelector(".face")?.getAttribute("d"));
    expect((x2 - x1) / perMm).toBeCloseTo(400, -1);
  });
});

describe("four-face", () => {
  it("draws each lean from zero, plus up, and the common part", () => {
    const { svg } = draw(advice("four-face", { common: 0.00002 }), {
      b: [0, 90, 180, 270],
      lean: [7e-5, -1e-5, -3e-5, 5e-5],
    });
    const bars = svg
      .querySelectorAll(".lean")
      .map((bar) => ({ y: Number(bar.getAttribute("y")), height: Number(bar.getAttribute("height")) }));
    expect(bars.map(({ height }) => height / (bars[0]?.height ?? 1))).toEqual([
      1,
      expect.closeTo(1 / 7, 2),
      expect.closeTo(3 / 7, 2),
      expect.closeTo(5 / 7, 2),
    ]);
    const zero = (bars[0]?.y ?? 0) + (bars[0]?.height ?? 0);
    expect(bars.map(({ y, height }) => (y + height <= zero + 0.1 ? "up" : "down"))).toEqual([
      "up",
      "down",
      "down",
      "up",
    ]);
    const [, common = 0] = numbers(svg.querySelector(".common")?.getAttribute("d"));
    expect((zero - common) / (bars[0]?.height ?? 1)).toBeCloseTo(2 / 7, 2);
  });
});

describe("work-offset", () => {
  it("shows each change to one scale with its sign", () => {
    const { svg } = draw(
      advice("work-offset", { new: { x: -285.8, z: 12 }, change: { x: 0.03, z: -0.015 } }),
      {},
    );
    const [x, z] = svg
      .querySelectorAll(".new")
      .map(
        (spot, i) =>
          Number(spot.getAttribute("cx")) - Number(svg.querySelectorAll(".old")[i]?.getAttribute("cx")),
      );
    expect(x).toBeGreaterThan(0);
    expect(z).toBeCloseTo(-(x ?? 0) / 2, 1);
  });
});

describe("re-seat", () => {
  it("puts the seatings in order about their mean", () => {
    const { svg } = draw(advice("re-seat", { mean: 2 }), { values: [1, 4, 1], unit: "mm" });
    const ys = touchesOf(svg)
      .sort((a, b) => a.x - b.x)
      .map((touch) => touch.y);
    expect(ys[1]).toBeLessThan(ys[0] ?? 0);
    expect(ys[2]).toBe(ys[0]);
    const [, mean = 0] = numbers(svg.querySelector(".mean")?.getAttribute("d"));
    expect(((ys[0] ?? 0) - mean) / ((ys[0] ?? 0) - (ys[1] ?? 0))).toBeCloseTo(1 / 3, 2);
  });
});
