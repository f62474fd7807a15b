// Pictures of results, corrections, sweeps and crowds are read back: coordinates say what the record says.
import { type HTMLElement, parse } from "node-html-parser";
import { describe, expect, it } from "vitest";
import type {
  ReportCharacteristic,
  ReportCorrection,
  ReportFeature,
  SetupReport,
} from "../../src/model/setupReport.ts";
import { pageContext } from "../../src/report/pageContext.ts";
import { plotAdvice, plotCorrections, plotFeature, plotResult } from "../../src/report/plots/index.ts";
import { recordOf, SAMPLES } from "../golden/road.ts";
import { features, report } from "./fixtures.ts";
import { touchesOf } from "./touchesOf.ts";

const mm = pageContext(report, null);
const numbers = (text: string | undefined): number[] => (text?.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
const attribute = (node: HTMLElement | null | undefined, name: string): number =>
  Number(node?.getAttribute(name));
const path = (svg: HTMLElement, name: string): number[] =>
  numbers(svg.querySelector(`.${name}`)?.getAttribute("d"));
const [model] = report.characteristics;
if (model === undefined) throw new Error("no characteristic");

describe("the bar of a result", () => {
  const bar = (more: Partial<ReportCharacteristic>, record: Partial<SetupReport> = {}): HTMLElement => {
    const plot = plotResult({ ...model, ...more }, pageContext({ ...report, ...record }, null));
    if (plot === null) throw new Error("nothing was drawn");
    return parse(plot.svg);
  };
  /** Place of a value on the bar, from the two edges of what is inside the limits. */
  const read = (svg: HTMLElement, low: number, high: number) => {
    const inside = svg.querySelector(".inside");
    const [from, width] = [attribute(inside, "x"), attribute(inside, "width")];
    return (x: number): number => low + ((x - from) / width) * (high - low);
  };

  it("has value, spread, limit and guard band at their places", () => {
    const svg = bar({
      value: 0.008,
      uncertainty: 0.002,
      limits: { lower: null, upper: 0.012 },
      asFound: 0.011,
    });
    const at = read(svg, 0, 0.012);
    expect(at(attribute(svg.querySelector(".value"), "cx"))).toBeCloseTo(0.008, 4);
    expect(at(attribute(svg.querySelector(".found"), "cx"))).toBeCloseTo(0.011, 4);
    expect(at(path(svg, "limit")[0] ?? 0)).toBeCloseTo(0.012, 4);
    const guard = svg.querySelector(".guard");
    const [from, width] = [attribute(guard, "x"), attribute(guard, "width")];
    expect([at(from), at(from + width)].map((one) => Number(one.toFixed(4)))).toEqual([0.01, 0.014]);
    const [left = 0, , , , , , right = 0] = path(svg, "spread");
    expect(at(left)).toBeCloseTo(0.006, 4);
    expect(at(right)).toBeCloseTo(0.01, 4);
  });

  it("has two limits and two guard bands where the plan has", () => {
    const svg = bar({ value: -0.004, uncertainty: 0.001, limits: { lower: -0.01, upper: 0.01 } });
    expect(svg.querySelectorAll(".limit")).toHaveLength(2);
    expect(svg.querySelectorAll(".guard")).toHaveLength(2);
    expect(read(svg, -0.01, 0.01)(attribute(svg.querySelector(".value"), "cx"))).toBeCloseTo(-0.004, 4);
  });

  it("has no guard band under the simple rule, no spread without uncertainty", () => {
    expect(
      bar({}, { decision: { rule: "simple", guard: 0, coverage: 2 } }).querySelector(".guard"),
    ).toBeNull();
    const bare = bar({ uncertainty: null });
    expect([bare.querySelector(".guard"), bare.querySelector(".spread")]).toEqual([null, null]);
  });

  it("points with an arrow to a value far beyond, and stays on its sheet", () => {
    for (const value of [5, -5]) {
      const svg = bar({ value, uncertainty: 0.001, limits: { lower: -0.01, upper: 0.01 } });
      const xs = numbers(svg.querySelector(".value")?.getAttribute("d")).filter(
        (_, index) => index % 2 === 0,
      );
      expect(svg.querySelector("circle.value")).toBeNull();
      expect(Math.min(...xs)).toBeGreaterThanOrEqual(0);
      expect(Math.max(...xs)).toBeLessThanOrEqual(120);
      expect(Math.sign((xs[0] ?? 0) - 60)).toBe(Math.sign(value));
    }
  });

  it("says in words what it shows, and is not drawn without value or limit", () => {
    const label = bar({}).querySelector("svg")?.getAttribute("aria-label");
    expect(label).toMatch(/^flat-0: 0\.0038 mm, max 0\.012\d* mm\. Pass$/);
    expect(plotResult({ ...model, value: null }, mm)).toBeNull();
    expect(plotResult({ ...model, limits: { lower: null, upper: null } }, mm)).toBeNull();
    expect(plotResult({ ...model, limits: { lower: 1, upper: 0 } }, mm)).toBeNull();
  });
});

describe("as found and as left", () => {
  const entry = (more: Partial<ReportCorrection>): ReportCorrection => ({
    feature: "face-0",
    quantity: "slopeX",
    unit: "slope",
    asFound: 0.0001,
    asLeft: 0.00001,
    wanted: -0.0001,
    made: -0.00009,
    ratio: 0.1,
    judged: "good",
    because: "",
    ...more,
  });
  it("stand about zero, each unit to the scale of its bar", () => {
    const plot = plotCorrections(
      [
        entry({}),
        entry({ asFound: -0.00008, asLeft: 0.00002 }),
        entry({ unit: "mm", asFound: 0.04, asLeft: -0.01 }),
      ],
      mm,
    );
    const svg = parse(plot?.svg ?? "");
    const zeros = svg.querySelectorAll(".zero").map((line) => numbers(line.getAttribute("d"))[0] ?? 0);
    expect(zeros).toHaveLength(2);
    const bars = svg.querySelectorAll(".bar").map((bar) => {
      const [from = 0, , , , , to = 0] = numbers(bar.getAttribute("d"));
      const text = bar.nextElementSibling?.text ?? "";
      return (to - from) / (Number.parseFloat(text) / (text.includes("mm/m") ? 1000 : 1));
    });
    const shown = (name: string): number[] =>
      svg.querySelectorAll(`.${name}`).map((dot, row) => {
        const group = row < 2 ? 0 : 1;
        return (attribute(dot, "cx") - (zeros[group] ?? 0)) / (bars[group] ?? 1);
      });
    const close = (found: number[], wanted: number[]) =>
      found.forEach((value, row) => {
        expect(Math.abs(value / (wanted[row] ?? 1) - 1)).toBeLessThan(0.03);
      });
    close(shown("found"), [0.0001, -0.00008, 0.04]);
    close(shown("left"), [0.00001, 0.00002, -0.01]);
  });
  it("are not drawn where nothing was corrected", () => {
    expect(plotCorrections([], mm)).toBeNull();
    expect(plotCorrections([entry({ asFound: 0, asLeft: 0 })], mm)).toBeNull();
  });
});

describe("the chart of a sweep", () => {
  const record = recordOf(`${SAMPLES}2-chuck-and-blank`);
  const chart = async (name: string, more: Partial<ReportFeature> = {}) => {
    const found = (await record).features[name];
    if (found === undefined) throw new Error(name);
    const plots = plotFeature(name, { ...found, ...more }, "f", pageContext(await record, null));
    const plot = plots.find(({ kind }) => kind === "sweep-chart");
    return { plot, feature: found, svg: parse(plot?.svg ?? "") };
  };
  /** Height of the chart in mm from two of its own lines. */
  const heightOf = (svg: HTMLElement) => {
    const ticks = svg
      .querySelectorAll("text")
      .filter((text) => text.text.endsWith(" mm") && text.getAttribute("text-anchor") === "end")
      .map((text) => ({
        y: attribute(text, "y") - 3.5,
        mm: Number.parseFloat(text.text.replace("\u2212", "-")),
      }));
    const [a, b] = [ticks[0], ticks.at(-1)];
    if (a === undefined || b === undefined) throw new Error("no ticks");
    return (y: number): number => a.mm + ((y - a.y) * (b.mm - a.mm)) / (b.y - a.y);
  };

  it("has the readings of a rim at their angles, the eccentricity as curve, the waves on top", async () => {
    const { svg, feature, plot } = await chart("rim");
    const height = heightOf(svg);
    const data = feature.plot;
    for (const touch of touchesOf(svg)) {
      const index = data?.line.indexOf(touch.line) ?? -1;
      const [x, y] = [data?.x[index] ?? 0, data?.y[index] ?? 0];
      const angle = ((touch.x - 68) / 320) * 2 * Math.PI;
      expect(Math.cos(angle - Math.atan2(y, x))).toBeCloseTo(1, 3);
      expect(height(touch.y)).toBeCloseTo(Math.hypot(x, y) - 125, 3);
    }
    const base = path(svg, "base");
    const [cx = 0, cy = 0] = feature.center ?? [];
    const mean = (feature.diameter ?? 0) / 2 - 125;
    for (const [step, part] of [
      [0, cx],
      [30, cy],
      [60, -cx],
    ] as const)
      expect(height(base[2 * step + 1] ?? 0)).toBeCloseTo(mean + part, 3);
    const waves = path(svg, "waves");
    const at = (angle: number): number =>
      (feature.sweep?.waves ?? []).reduce(
        (sum, { n, cosine, sine }) => sum + cosine * Math.cos(n * angle) + sine * Math.sin(n * angle),
        0,
      );
    expect(feature.sweep?.waves?.map(({ n }) => n)).toEqual([2, 3, 4]);
    for (const step of [10, 50, 100])
      expect(height(waves[2 * step + 1] ?? 0) - height(base[2 * step + 1] ?? 0)).toBeCloseTo(
        at((step * Math.PI) / 60),
        3,
      );
    expect(plot?.caption).toContain("Full movement 0.0258 mm");
  });

  it("has the sag of the arm as curve, highest at the top, where the log states one", async () => {
    const { svg, plot } = await chart("rim");
    const sag = path(svg, "sag");
    expect(heightOf(svg)(sag[2 * 30 + 1] ?? 0)).toBeCloseTo(0.02, 3);
    expect(heightOf(svg)(sag[2 * 90 + 1] ?? 0)).toBeCloseTo(-0.02, 3);
    expect(plot?.caption).toContain("sags 0.0200 mm");
    const stiff = await chart("rim", { sweep: { kind: "rim-sweep", radius: 125, fim: 0.0258 } });
    expect([stiff.svg.querySelector(".sag"), stiff.svg.querySelector(".waves")]).toEqual([null, null]);
  });

  it("has the tilt of a face as curve", async () => {
    const { svg, feature } = await chart("chuck-face");
    const [nx = 0, , nz = 1] = feature.direction ?? [];
    const base = path(svg, "base");
    const height = heightOf(svg);
    expect(height(base[1] ?? 0) - height(base[2 * 60 + 1] ?? 0)).toBeCloseTo((-nx / nz) * 220, 3);
  });

  it("is not drawn for what was touched one by one", async () => {
    expect((await chart("raw-face")).plot).toBeUndefined();
  });
});

describe("the arrow on the map of a face", () => {
  const drawn = (direction: readonly [number, number, number]) => {
    const face = features["face-0"];
    if (face === undefined) throw new Error("no face");
    const [plot] = plotFeature("face-0", { ...face, direction }, "f", mm);
    return { svg: parse(plot?.svg ?? ""), caption: plot?.caption ?? "" };
  };
  it("shows the way the face rises, and how much over the touches", () => {
    // The normal leans against the way of the rise; the grid is 320 wide and 360 high.
    const right = drawn([-0.0001, 0, 1]);
    const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = path(right.svg, "tilt");
    expect([Math.sign(x2 - x1), Math.abs(y2 - y1) < 0.01]).toEqual([1, true]);
    expect(right.caption).toContain("+0.0320 mm over the touches");
    const up = path(drawn([0, -0.0001, 1]).svg, "tilt");
    expect((up[3] ?? 0) - (up[1] ?? 0)).toBeLessThan(-10);
    expect(drawn([0, -0.0001, 1]).caption).toContain("+0.0360 mm");
    // Seen from the other side +X is to the left.
    const behind = path(drawn([-0.0001, 0, -1]).svg, "tilt");
    expect((behind[2] ?? 0) - (behind[0] ?? 0)).toBeLessThan(-10);
  });
  it("is missing where nothing rises", () => {
    expect(drawn([0, 0, 1]).svg.querySelector(".tilt")).toBeNull();
  });
});

describe("what is left over at each B", () => {
  it("points the right way, to the factor that is stated", async () => {
    const record = await recordOf(`${SAMPLES}1-column`);
    const advice = record.advice.find(({ kind }) => kind === "rotation-center");
    if (advice?.plot === undefined) throw new Error("no picture");
    const data = advice.plot.data as Readonly<Record<"leftX" | "leftZ", readonly number[]>> & {
      readonly arm: number;
    };
    const plot = plotAdvice(advice, "a", pageContext({ ...record, show: "mm" }, null));
    const svg = parse(plot?.svg ?? "");
    const factor = Number(
      (/drawn ([\d\u202f]+) ×/.exec(plot?.caption ?? "")?.[1] ?? "").replaceAll("\u202f", ""),
    );
    const perMm = (attribute(svg.querySelector("circle"), "r") / data.arm) * factor;
    const arrows = svg.querySelectorAll(".left-over").map((arrow) => numbers(arrow.getAttribute("d")));
    expect(arrows).toHaveLength(4);
    arrows.forEach(([x1 = 0, y1 = 0, x2 = 0, y2 = 0], index) => {
      expect((x2 - x1) / perMm).toBeCloseTo(data.leftX[index] ?? 0, 4);
      // From above with the spindle below the sheet: +Z runs down.
      expect((y2 - y1) / perMm).toBeCloseTo(data.leftZ[index] ?? 0, 4);
    });
  });
  it("is left out of a record that does not hold it", async () => {
    const record = await recordOf(`${SAMPLES}1-column`);
    const advice = record.advice.find(({ kind }) => kind === "rotation-center");
    if (advice?.plot === undefined) throw new Error("no picture");
    const { leftX: _, ...data } = advice.plot.data as Readonly<Record<string, unknown>>;
    const plot = plotAdvice({ ...advice, plot: { kind: advice.plot.kind, data } }, "a", mm);
    expect(plot?.svg).toContain("<circle");
    expect(plot?.svg).not.toContain("left-over");
  });
});

describe("a million points", () => {
  const COUNT = 1_000_000;
  const many = (
    place: (i: number) => readonly [number, number, number],
    deviation: (i: number) => number,
  ) => {
    const places = Array.from({ length: COUNT }, (_, i) => place(i));
    return {
      x: places.map(([x]) => x),
      y: places.map(([, y]) => y),
      z: places.map(([, , z]) => z),
      deviation: places.map((_, i) => deviation(i)),
      line: places.map((_, i) => i + 2),
      of: COUNT,
    };
  };
  const spike = (i: number): number =>
    i === 123_457 ? 0.5 : i === 765_431 ? -0.5 : 0.001 * Math.sin(i / 1e4);
  it.each([
    ["a plane", "face-0", (i: number) => [i % 1000, Math.floor(i / 1000), 0] as const],
    [
      "a round",
      "bore",
      (i: number) =>
        [50 * Math.cos((i * 2 * Math.PI) / COUNT), 50 * Math.sin((i * 2 * Math.PI) / COUNT), 0] as const,
    ],
    ["a travel", "lean", (i: number) => [0, i / 1000, spike(i)] as const],
  ])("of %s are drawn as density or reach with their extremes", (_, name, place) => {
    const feature = features[name];
    if (feature === undefined) throw new Error(name);
    const [plot] = plotFeature(name, { ...feature, plot: many(place, spike) }, "f", mm);
    expect(plot?.svg.length).toBeLessThan(150_000);
    const svg = parse(plot?.svg ?? "");
    expect(svg.querySelectorAll("*").length).toBeLessThan(120);
    expect(svg.querySelectorAll(".crowd").length).toBeGreaterThan(0);
    const lines = touchesOf(svg).map((touch) => touch.line);
    expect(lines).toEqual(expect.arrayContaining([123_459, 765_433]));
    expect(plot?.caption).toMatch(/\d+ of 1000000 points drawn\./);
  });
});
