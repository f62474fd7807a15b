// Pictures of features and of advice are read back: what is drawn is what the record says, to the scale that is stated.
import { type HTMLElement, parse } from "node-html-parser";
import { describe, expect, it } from "vitest";
import type { FeaturePlot, ReportFeature } from "../../src/model/setupReport.ts";
import { pageContext } from "../../src/report/pageContext.ts";
import type { Plot } from "../../src/report/plots/contract.ts";
import {
  ADVICE_PLOTS,
  CORRECTION_PLOTS,
  FEATURE_PLOTS,
  plotAdvice,
  plotFeature,
  RESULT_PLOTS,
} from "../../src/report/plots/index.ts";
import { zoneCircles } from "../../src/report/plots/zoneCircles.ts";
import { advicePlots, boreZone, features, pictureReport, report } from "./fixtures.ts";
import { touchesOf } from "./touchesOf.ts";

const mm = pageContext(report, null);
const inch = pageContext({ ...report, show: "in" }, null);

interface Drawn {
  readonly svg: HTMLElement;
  readonly caption: string;
}
const read = (plot: Plot | null): Drawn => {
  if (plot === null) throw new Error("nothing was drawn");
  return { svg: parse(plot.svg), caption: [plot.caption, ...(plot.key ?? [])].join(" ") };
};
/** The picture that belongs to the fit; a sweep has a second one. */
const pictureOf = (...given: Parameters<typeof plotFeature>): Plot | null => plotFeature(...given)[0] ?? null;
const featureOf = (name: string): ReportFeature => {
  const found = features[name];
  if (found?.plot === undefined) throw new Error(`no plot in ${name}`);
  return found;
};
const draw = (name: string, more: Partial<ReportFeature> = {}, page = mm): Drawn =>
  read(pictureOf(name, { ...featureOf(name), ...more }, "f", page));
const adviceOf = (kind: string, page = mm): Drawn => {
  const advice = pictureReport.advice.find((one) => one.kind === kind);
  if (advice === undefined) throw new Error(kind);
  return read(plotAdvice(advice, "a", page));
};
const numbers = (text: string | undefined): number[] => (text?.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
const attribute = (node: HTMLElement | null | undefined, name: string): number =>
  Number(node?.getAttribute(name));
/** Length of the scale bar in pixels and the length it stands for, in mm. */
function barOf(svg: HTMLElement): number {
  const bar = svg.querySelector(".bar");
  const [ax = 0, ay = 0, bx = 0, by = 0] = barEnds(bar?.getAttribute("d") ?? "");
  const label = bar?.nextElementSibling?.text ?? "";
  const value = Number.parseFloat(label) * (label.endsWith("in") ? 25.4 : 1);
  return Math.hypot(bx - ax, by - ay) / value;
}
/** First and last corner of the line between the two ticks. */
function barEnds(path: string): number[] {
  const level = path.match(/M([\d.]+) ([\d.]+)H([\d.]+)/g) ?? [];
  const upright = path.match(/M([\d.]+) ([\d.]+)V([\d.]+)/g) ?? [];
  const lines = [
    ...level.map(numbers).map(([x = 0, y = 0, to = 0]) => [x, y, to, y]),
    ...upright.map(numbers).map(([x = 0, y = 0, to = 0]) => [x, y, x, to]),
  ];
  const length = ([ax = 0, ay = 0, bx = 0, by = 0]: number[]): number => Math.hypot(bx - ax, by - ay);
  return lines.reduce((longest, line) => (length(line) > length(longest) ? line : longest), [0, 0, 0, 0]);
}
const factorOf = (caption: string): number =>
  Number((/drawn ([\d\u202f.]+) × too large/.exec(caption)?.[1] ?? "").replaceAll("\u202f", ""));

const plotOf = (points: readonly (readonly [number, number, number, number])[]): FeaturePlot => ({
  x: points.map(([x]) => x),
  y: points.map(([, y]) => y),
  z: points.map(([, , z]) => z),
  deviation: points.map(([, , , deviation]) => deviation),
  line: points.map((_, index) => index + 2),
  of: points.length,
});

describe("shelves", () => {
  it("have one member for each fit and each advice picture", () => {
    for (const shelf of [FEATURE_PLOTS, RESULT_PLOTS, CORRECTION_PLOTS])
      expect(new Set(shelf.map((kind) => kind.name)).size).toBe(shelf.length);
    const kinds = ADVICE_PLOTS.map((kind) => kind.name);
    expect(new Set(kinds).size).toBe(kinds.length);
    expect(kinds).toEqual(expect.arrayContaining(Object.keys(advicePlots)));
  });
  it("draw nothing for fits without a picture, features without data and data of another shape", () => {
    expect(pictureOf("ball", { ...featureOf("bore"), fit: "sphere" }, "f", mm)).toBeNull();
    expect(pictureOf("none", features["face-180"] as ReportFeature, "f", mm)).toBeNull();
    for (const kind of ADVICE_PLOTS) {
      const [advice] = pictureReport.advice;
      if (advice === undefined) throw new Error("no advice");
      for (const data of [null, 5, "x", [], {}, { x: [1, "2"], y: [1, 2] }, { x: [1], y: [1, 2], b: null }]) {
        const bare = { ...advice, values: {}, moves: [], plot: { kind: kind.name, data } };
        expect(plotAdvice(bare, "a", mm), `${kind.name} ${JSON.stringify(data)}`).toBeNull();
      }
    }
  });
  it("draw no advice that gives no numbers: its picture would", () => {
    const advice = pictureReport.advice.map((one) => ({ ...one, status: "undecided" as const }));
    for (const one of advice) expect(plotAdvice(one, "a", mm)).toBeNull();
  });
});

describe("the map of a plane", () => {
  const { svg, caption } = draw("face-0");
  const plot = featureOf("face-0").plot as FeaturePlot;

  it("has every touch at its place, filled where it lies above the plane", () => {
    const scale = barOf(svg);
    const spots = touchesOf(svg);
    expect(spots.map((spot) => spot.line)).toEqual([...plot.line]);
    const [first] = spots;
    spots.forEach((spot, i) => {
      expect((spot.x - (first?.x ?? 0)) / scale).toBeCloseTo((plot.x[i] ?? 0) - (plot.x[0] ?? 0), 0);
      expect(-(spot.y - (first?.y ?? 0)) / scale).toBeCloseTo((plot.y[i] ?? 0) - (plot.y[0] ?? 0), 0);
      expect(spot.filled).toBe((plot.deviation[i] ?? 0) > 0);
    });
    const holds = svg.querySelectorAll(".holds").map((ring) => attribute(ring, "cx"));
    expect(holds).toHaveLength(featureOf("face-0").zone?.support?.length ?? 0);
  });

  it("is a few paths, whose heavy line parts touches above from touches below", () => {
    const paths = svg.querySelectorAll("path");
    expect(paths.length).toBeLessThan(14);
    expect(svg.querySelectorAll("rect").length).toBeLessThan(9);
    const zero = paths.find((path) => path.getAttribute("stroke-width") === "1.3")?.getAttribute("d") ?? "";
    const rings = zero
      .split("Z")
      .filter((ring) => ring !== "")
      .map((ring) => pairs(numbers(ring)));
    for (const { x, y, filled } of touchesOf(svg)) {
      if (Math.min(...rings.map((ring) => distanceTo(ring, x, y))) < 6) continue;
      expect(rings.filter((ring) => isInside(ring, x, y)).length % 2 === 1).toBe(filled);
    }
  });

  it("names highest and lowest with their lines of the log", () => {
    expect(caption).toMatch(
      /^Highest \+0\.0025 mm \(log line 30\), lowest \u22120\.0010 mm \(log line 13\)\./,
    );
    expect(svg.querySelectorAll("text").map((text) => text.text)).toEqual(
      expect.arrayContaining(["+0.0025 mm", "\u22120.0010 mm", "100 mm"]),
    );
    expect(draw("face-0", {}, inch).caption).toMatch(/^Highest \+0\.00010 in/);
  });

  it("looks at a face from outside: the right hand side is right", () => {
    const at = (direction: [number, number, number], place: [number, number, number]) => {
      const points = [
        [0, 0, 0, 0],
        [...place, 0.001],
      ] as const;
      const [a, b] = touchesOf(
        draw("face-0", { direction, plot: plotOf(points.map((p) => [...p] as never)) }).svg,
      );
      return [Math.sign((b?.x ?? 0) - (a?.x ?? 0)), Math.sign((a?.y ?? 0) - (b?.y ?? 0))];
    };
    expect(at([0, 0, 1], [50, 20, 0])).toEqual([1, 1]);
    expect(at([0, 0, -1], [50, 20, 0])).toEqual([-1, 1]);
    expect(at([1, 0, 0], [0, 20, 50])).toEqual([-1, 1]);
    expect(at([-1, 0, 0], [0, 20, 50])).toEqual([1, 1]);
    expect(at([0, 1, 0], [50, 0, 20])).toEqual([1, -1]);
  });

  it("draws a crowd by where it lies, its extremes one by one, and says how many there were", () => {
    const many = Array.from({ length: 10_000 }, (_, i) => {
      const [x, y] = [i % 100, Math.floor(i / 100)];
      return [
        x,
        y,
        0,
        i === 4321 ? 0.5 : i === 8765 ? -0.5 : 0.001 * Math.sin(x / 9) * Math.cos(y / 7),
      ] as const;
    });
    const drawn = draw("face-0", { plot: plotOf(many) });
    const spots = touchesOf(drawn.svg);
    expect(spots.length).toBeLessThan(10);
    expect(spots.map((spot) => spot.line)).toEqual(expect.arrayContaining([4323, 8767]));
    expect(drawn.svg.querySelectorAll(".crowd").length).toBeLessThan(4);
    expect(drawn.caption).toMatch(/1\d\d\d of 10000 points drawn\./);
    expect(drawn.caption).toContain("Small squares: where touches lie");
    const size = drawn.svg
      .querySelectorAll("path")
      .reduce((sum, path) => sum + (path.getAttribute("d")?.length ?? 0), 0);
    expect(size).toBeLessThan(60_000);
  });

  it("shows touches alone where they have no area, nothing where they have no place", () => {
    const line = Array.from({ length: 5 }, (_, i) => [10 * i, 5 * i, 0, 0.001 * (i - 2)] as const);
    expect(draw("face-0", { plot: plotOf(line) }).svg.querySelectorAll("[clip-path]")).toEqual([]);
    const flat = Array.from({ length: 9 }, (_, i) => [i % 3, Math.floor(i / 3), 0, 0] as const);
    expect(touchesOf(draw("face-0", { plot: plotOf(flat) }).svg)).toHaveLength(9);
    const one = plotOf([[1, 2, 3, 0]]);
    expect(pictureOf("face-0", { ...featureOf("face-0"), plot: one }, "f", mm)).toBeNull();
    const broken = { ...plotOf(flat), x: Array(9).fill(Number.NaN) };
    expect(pictureOf("face-0", { ...featureOf("face-0"), plot: broken }, "f", mm)).toBeNull();
  });
});

const pairs = (flat: number[]): [number, number][] =>
  flat.flatMap((value, i) => (i % 2 === 0 ? [[value, flat[i + 1] ?? 0] as [number, number]] : []));
/** From a place to the nearest side of a ring. */
const distanceTo = (ring: [number, number][], x: number, y: number): number =>
  Math.min(
    ...ring.map(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length] ?? [ax, ay];
      const [dx, dy] = [bx - ax, by - ay];
      const along = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1);
      const t = Math.min(1, Math.max(0, along));
      return Math.hypot(ax + t * dx - x, ay + t * dy - y);
    }),
  );
function isInside(ring: [number, number][], x: number, y: number): boolean {
  return ring.reduce((inside, [ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length] ?? [0, 0];
    const crosses = ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax;
    return crosses ? !inside : inside;
  }, false);
}

describe("the form of a round", () => {
  const { svg, caption } = draw("bore");
  const feature = featureOf("bore");
  const plot = feature.plot as FeaturePlot;
  const base = svg.querySelector(".base");
  const middle = { x: attribute(base, "cx"), y: attribute(base, "cy"), r: attribute(base, "r") };

  it("draws deviations with the factor that it states and the bar that it shows", () => {
    const factor = factorOf(caption);
    expect(factor).toBeGreaterThan(0);
    const scale = (factor * middle.r) / ((feature.diameter ?? 0) / 2);
    expect(barOf(svg)).toBeCloseTo(scale, -2);
    touchesOf(svg).forEach((touch, i) => {
      const out = Math.hypot(touch.x - middle.x, touch.y - middle.y) - middle.r;
      expect(out / scale).toBeCloseTo(plot.deviation[i] ?? 0, 5);
      const angle = Math.atan2(middle.y - touch.y, touch.x - middle.x);
      const true_ = Math.atan2((plot.y[i] ?? 0) - 180, (plot.x[i] ?? 0) - 12);
      expect(Math.cos(angle - true_)).toBeCloseTo(1, 3);
      expect(touch.filled).toBe((plot.deviation[i] ?? 0) > 0);
    });
  });

  it("draws the minimum zone through the touches that hold it, and the others between", () => {
    const zone = svg.querySelectorAll(".zone").map((ring) => pairs(numbers(ring.getAttribute("d"))));
    expect(zone).toHaveLength(2);
    const held = svg.querySelectorAll(".holds");
    expect(held).toHaveLength(4);
    for (const ring of held) {
      const [x, y] = [attribute(ring, "cx"), attribute(ring, "cy")];
      expect(Math.min(...zone.flat().map(([a, b]) => Math.hypot(a - x, b - y)))).toBeLessThan(0.5);
    }
    const holds = [0, 6, 3, 9].map((i) => ({
      along: [Math.cos((i * Math.PI) / 6), Math.sin((i * Math.PI) / 6)] as const,
      deviation: plot.deviation[i] ?? 0,
      outside: i % 6 === 0,
    }));
    const found = zoneCircles(holds, 0.0027);
    expect(found?.outer).toBeCloseTo(boreZone.outer, 9);
    expect(found?.inner).toBeCloseTo(boreZone.inner, 9);
    expect(found?.shift[0]).toBeCloseTo(boreZone.shift[0], 9);
    expect(zoneCircles(holds, 0.003)).toBeNull();
    expect(zoneCircles(holds.slice(1), 0.0027)).toBeNull();
    expect(zoneCircles([...holds.slice(0, 3), holds[0] ?? never()], 0.0027)).toBeNull();
  });

  it("draws inscribed and circumscribed circles dashed, and only where the record has them", () => {
    expect(svg.querySelectorAll(".extreme")).toHaveLength(2);
    expect(caption).toContain("Dashed: largest inscribed");
    const bare = draw("bore", { inscribed: null, circumscribed: null });
    expect(bare.svg.querySelectorAll(".extreme")).toEqual([]);
    expect(bare.caption).not.toContain("Dashed");
  });

  it("puts the touches that carry them into squares", () => {
    const carried = draw("bore", {
      inscribed: { center: [12, 180, 200], diameter: 99.998, support: [3, 9] },
      circumscribed: { center: [12, 180, 200], diameter: 100.0028, support: [0, 6, 7] },
    });
    const squares = carried.svg
      .querySelectorAll(".carries")
      .map((square) => [
        attribute(square, "x") + attribute(square, "width") / 2,
        attribute(square, "y") + attribute(square, "height") / 2,
      ]);
    const wanted = touchesOf(carried.svg)
      .filter(({ line }) => [3, 9, 0, 6, 7].map((index) => plot.line[index]).includes(line))
      .map(({ x, y }) => [x, y]);
    expect(squares).toHaveLength(5);
    expect(squares).toEqual(wanted.map(([x = 0, y = 0]) => [expect.closeTo(x, 1), expect.closeTo(y, 1)]));
    expect(carried.caption).toContain("Squared touches carry them.");
    expect(caption).not.toContain("Squared");
  });

  it("states a bar instead of a factor where the size is not known", () => {
    const sweep = draw("bore", { diameter: null });
    expect(Number.isNaN(factorOf(sweep.caption)) || factorOf(sweep.caption) === 0).toBe(true);
    expect(sweep.caption).toMatch(/Bar: [\d.]+ mm/);
  });

  it("lays the sections of a cylinder over each other without joining them", () => {
    const cylinder = draw("od");
    expect(touchesOf(cylinder.svg)).toHaveLength(24);
    expect(cylinder.svg.querySelectorAll(".zone")).toEqual([]);
  });
});
const never = (): never => {
  throw new Error("not reached");
};

describe("the chart of a travel", () => {
  const { svg, caption } = draw("lean");
  const plot = featureOf("lean").plot as FeaturePlot;
  it("has readings and fitted line to the stated exaggeration", () => {
    const spots = touchesOf(svg);
    const [first, last] = [spots[0], spots[spots.length - 1]];
    const perMm = ((last?.x ?? 0) - (first?.x ?? 0)) / 400;
    const factor = factorOf(caption);
    spots.forEach((spot, i) => {
      const rise = ((first?.y ?? 0) - spot.y) / (perMm * factor);
      expect(rise).toBeCloseTo((plot.z[i] ?? 0) - (plot.z[0] ?? 0), 4);
    });
    const [ax = 0, ay = 0, bx = 0, by = 0] = numbers(svg.querySelector(".fit")?.getAttribute("d"));
    expect((ay - by) / (bx - ax) / factor).toBeCloseTo(0.00007, 6);
  });
  it("draws nothing for a line without length", () => {
    const still = plotOf([
      [0, 5, 0, 0],
      [0, 5, 1, 0],
    ]);
    const upright = { ...featureOf("lean"), plot: still };
    expect(pictureOf("lean", upright, "f", mm)).toBeNull();
  });
});

describe("pictures of the advice", () => {
  it("centring: the centre lies where it was found, the arrow ends at the axis", () => {
    const { svg, caption } = adviceOf("centering");
    const base = svg.querySelector(".base");
    const scale = (factorOf(caption) * attribute(base, "r")) / 75;
    const center = svg.querySelector(".center");
    expect((attribute(center, "cx") - attribute(base, "cx")) / scale).toBeCloseTo(0.04, 3);
    expect((attribute(base, "cy") - attribute(center, "cy")) / scale).toBeCloseTo(-0.02, 3);
    expect(caption).toContain("X +0.040 mm, Y \u22120.020 mm");
  });
  it("clean-up: the ringed touch has the least stock at the best centre", () => {
    const { svg, caption } = adviceOf("clean-up");
    const base = svg.querySelector(".base");
    const [cx, cy, r] = ["cx", "cy", "r"].map((name) => attribute(base, name)) as [number, number, number];
    const stock = touchesOf(svg).map((touch) => Math.hypot(touch.x - cx, touch.y - cy) - r);
    const ring = svg.querySelector(".holds");
    const ringed = Math.hypot(attribute(ring, "cx") - cx, attribute(ring, "cy") - cy) - r;
    expect(ringed).toBeCloseTo(Math.min(...stock), 2);
    expect(ringed / ((factorOf(caption) * r) / 77.5)).toBeCloseTo(0.15, 2);
    expect(caption).toContain("least stock per side is +0.1500 mm");
  });
  it("face cut: the passes share the way down to the finish, below the lowest touch lies the cut", () => {
    const { svg, caption } = adviceOf("face-cut");
    const level = (selector: string): number[] =>
      svg.querySelectorAll(selector).map((path) => numbers(path.getAttribute("d"))[1] ?? 0);
    const [cut = 0] = level(".cut");
    const passes = level(".pass");
    expect(passes).toHaveLength(2);
    const scale = barOf(svg) * factorOf(caption);
    expect((cut - (passes[0] ?? 0)) / scale).toBeCloseTo(1.34 - 0.545, 1);
    expect((cut - (passes[1] ?? 0)) / scale).toBeCloseTo(1.34 - 2 * 0.545, 1);
    const lowest = Math.max(...touchesOf(svg).map((touch) => touch.y));
    expect((cut - lowest) / scale).toBeCloseTo(6 - 0.42 - 0.12 - 5.2, 1);
  });
  it("rotation centre: every ball lies on the arm's circle, seen from above", () => {
    const { svg } = adviceOf("rotation-center");
    const [circle] = svg.querySelectorAll("circle");
    for (const touch of touchesOf(svg)) {
      const arm = Math.hypot(touch.x - attribute(circle, "cx"), touch.y - attribute(circle, "cy"));
      expect(arm).toBeCloseTo(attribute(circle, "r"), 0);
    }
    const names = svg.querySelectorAll("text").map((text) => text.text);
    expect(names).toEqual(expect.arrayContaining(["B0°", "B90°", "B180°", "B270°"]));
  });
  it("turned over: thickness only where it is known, else differences", () => {
    expect(adviceOf("turned-over").caption).toMatch(
      /^Thickest 31\.7572 mm, thinnest 31\.7428 mm, mean 31\.7500 mm/,
    );
    const advice = pictureReport.advice.find((one) => one.kind === "turned-over");
    const unknown = advice && plotAdvice({ ...advice, values: { thickness: null } }, "a", mm);
    expect(unknown?.caption).toMatch(/^Thickest \+0\.0072 mm, thinnest \u22120\.0072 mm against the mean/);
    expect(parse(unknown?.svg ?? "").text).not.toContain("31.7");
  });
});
