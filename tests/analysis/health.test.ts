// Each check on data that have the fault and on data that have not.
import { describe, expect, it } from "vitest";
import { healthChecks } from "../../src/analysis/health/index.ts";
import type { Vec3 } from "../../src/math/vector.ts";
import type { MeasuredFeature } from "../../src/model/measurement.ts";
import {
  characteristic,
  grid,
  log,
  planOf,
  range,
  report,
  rimSweep,
  ring,
  touched,
  traverse,
} from "./setting.ts";

const PLAN = (more = "", probe = "uncertainty: 0.001 mm") => `instruments: {probe: {${probe}}}
features:
  a: {fit: plane, normal: [0, 0, 1]}
  c: {fit: circle, normal: [0, 0, 1], surface: bore}
  rim: {fit: circle, from: rim-sweep, radius: 100 mm, surface: bore}
  lean: {fit: line, from: traverse, along: y, height: z}
characteristics:
  - {id: flat, kind: flatness, of: a, max: 1 mm}
  - {id: size, kind: diameter, of: c, nominal: 100 mm, plus: 90 mm, minus: 99 mm}
  - {id: out, kind: eccentricity, of: rim, max: 1 mm}
  - {id: tilt, kind: tilt, of: lean, along: y, per: 100 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm}
${more}`;
const made = (
  features: readonly MeasuredFeature[],
  more = "",
  { probe = "uncertainty: 0.001 mm", time = null as string | null } = {},
) => report(planOf(PLAN(more, probe)), features, { logs: [{ ...log(), time }] });
const codes = (...given: Parameters<typeof made>): string[] =>
  made(...given).findings.map(({ code }) => code);
const lean = (heights: readonly number[], closureMm?: number) =>
  traverse(
    "lean",
    heights.map((_, i) => i * 50),
    heights,
    closureMm === undefined ? {} : { closureMm },
  );

it("has one check for each code", () => {
  expect(new Set(healthChecks.map(({ code }) => code)).size).toBe(healthChecks.length);
});

describe("closure", () => {
  // Limit 2 x root 2 x 0.001 = 0.00283.
  it.each([
    [0.0028, "pass"],
    [-0.0028, "pass"],
    [0.0029, "undecided"],
    [-0.0029, "undecided"],
  ])("%f off at the end: %s", (closureMm, verdict) => {
    expect(characteristic(made([lean([0, 0.001, 0.002], closureMm)]), "tilt").verdict).toBe(verdict);
  });
  it("takes the plan's limit, is a note without any, and tells of a sweep without one", () => {
    const open = [lean([0, 0.001, 0.002], 0.004)];
    expect(characteristic(made(open, "closure-limit: 0.005 mm\n"), "tilt").verdict).toBe("pass");
    const silent = report(planOf(PLAN("", "where: independent"), "rule: simple"), open);
    expect(silent.findings).toContainEqual(expect.objectContaining({ code: "closure", level: "note" }));
    expect(characteristic(silent, "tilt").verdict).toBe("pass");
    expect(codes([lean([0, 0.001, 0.002])])).toContain("no-closure");
  });
  it("does not stop a feature that was measured soundly as left", () => {
    const before = traverse("lean", [0, 50, 100], [0, 0.1, 0.2], { closureMm: 0.05, state: "as-found" });
    expect(characteristic(made([before, lean([0, 0.001, 0.002], 0)]), "tilt").verdict).toBe("pass");
  });
});

describe("cross sums of four readings", () => {
  it.each([
    // R0 + R180 - R90 - R270, limit 4 x 0.001.
    [[0.006, 0.002, -0.004, 0], "pass"],
    [[0.006, 0, -0.002, 0], "pass"],
    [[0.006, 0, -0.0019, 0], "undecided"],
  ])("%j: %s", (readings, verdict) => {
    expect(characteristic(made([rimSweep("rim", readings, { bore: true })]), "out").verdict).toBe(verdict);
  });
  it("takes the plan's limit and leaves twelve readings alone", () => {
    expect(
      characteristic(
        made([rimSweep("rim", [0.01, 0, 0, 0], { bore: true })], "cross-sum-limit: 0.02 mm\n"),
        "out",
      ).verdict,
    ).toBe("pass");
    expect(
      codes([
        rimSweep(
          "rim",
          range(12).map((i) => (i % 3) * 0.01),
          { bore: true },
        ),
      ]),
    ).not.toContain("cross-sum");
  });
});

describe("calibration", () => {
  const due = { probe: "uncertainty: 0.001 mm, calibration-due: 2026-11-24" };
  const face = [
    touched(
      "a",
      grid(3, 50, (x, y) => (x * y) / 1e7),
    ),
  ];
  it("overdue on the log's day stops a verdict; without a time the day of issue counts", () => {
    expect(characteristic(made(face, "", { ...due, time: "2026-11-24T23:00:00Z" }), "flat").verdict).toBe(
      "pass",
    );
    const late = characteristic(made(face, "", { ...due, time: "2026-11-25T01:00:00Z" }), "flat");
    expect(late.verdict).toBe("undecided");
    expect(late.because.text).toMatch(/due on 2026-11-24/);
    expect(characteristic(made(face, "", due), "flat").verdict).toBe("undecided");
  });
});

describe("what is only told", () => {
  const bent = (x: number, y: number) => 0.0004 * Math.sin(x / 40) + 0.0003 * Math.cos(y / 30);
  const face = grid(3, 50, bent);
  const chipped = (by: number): Vec3[] => face.map(([x, y, z], i) => [x, y, z + (i === 4 ? by : 0)]);

  it("one reading on a chip is pointed at with its line and never left out", () => {
    const found = made([
      touched(
        "a",
        grid(5, 50, (x, y) => bent(x, y) + (x === 50 && y === 0 ? 0.05 : 0)),
      ),
    ]);
    expect(found.findings).toContainEqual(
      expect.objectContaining({ code: "suspicious-point", line: 10 + 17 }),
    );
    expect(characteristic(found, "flat").points).toBe(25);
    expect(codes([touched("a", grid(5, 50, bent))])).not.toContain("suspicious-point");
    // Of five points none can be told from the others.
    expect(codes([touched("a", chipped(0.05).slice(2, 7))])).not.toContain("suspicious-point");
  });
  it("25.4 times too small looks like inches taken for millimetres", () => {
    expect(
      codes([
        touched(
          "c",
          ring(8, () => 50 / 25.4),
        ),
      ]),
    ).toContain("unit-alarm");
    expect(
      codes([
        touched(
          "c",
          ring(8, () => 50 * 25.4),
        ),
      ]),
    ).toContain("unit-alarm");
    expect(
      codes([
        touched(
          "c",
          ring(8, () => 48),
        ),
      ]),
    ).not.toContain("unit-alarm");
  });
  it("a coordinate outside the travel, but not in the frame of the work", () => {
    const travel = "machine: {travel: {x: [-60 mm, 40 mm]}}\n";
    expect(codes([touched("a", face)], travel)).toContain("outside-travel");
    expect(codes([touched("a", face, { frame: "work" })], travel)).not.toContain("outside-travel");
    expect(codes([touched("a", face)], "machine: {travel: {x: [-60 mm, 60 mm]}}\n")).not.toContain(
      "outside-travel",
    );
  });
  it("a needle that stands still, and one that stood still for a while", () => {
    expect(codes([lean([0.1, 0.1, 0.1, 0.1])])).toContain("constant-readings");
    expect(codes([lean([0, 0.001, 0.002, 0.002, 0.002, 0.002, 0.002, 0.003])])).toContain("stuck-values");
    expect(codes([lean([0, 0.001, 0.002, 0.003])])).not.toContain("stuck-values");
  });
  it("readings on two steps of a coarse scale", () => {
    expect(codes([lean([0, 0.0127, 0.0127, 0.0254, 0.0127])])).toContain("resolution");
    expect(codes([lean([0, 0.0127, 0.0254, 0.0381, 0.0508])])).not.toContain("resolution");
  });
  it("places read again that do not repeat", () => {
    const twice = (by: number): Vec3[] =>
      face.concat(face.map(([x, y, z], i) => [x, y, z + (i % 2 === 0 ? by : -by)]));
    expect(codes([touched("a", twice(0.01))])).toContain("repeats");
    expect(codes([touched("a", twice(0.001))])).not.toContain("repeats");
  });
  it("a short arc, with what it makes of the radius", () => {
    const arc = ring(36, () => 50).slice(0, 8);
    expect(codes([touched("c", arc)])).toContain("short-arc");
    expect(
      codes([
        touched(
          "c",
          ring(8, () => 50),
        ),
      ]),
    ).not.toContain("short-arc");
  });
  it("few points, with what they cannot show", () => {
    const four = made([
      touched("a", [
        [0, 0, 0],
        [9, 0, 0],
        [0, 9, 0],
        [9, 9, 0],
      ]),
    ]).findings.find(({ code }) => code === "few-points");
    expect(four?.text.text).toMatch(/four corners of a dish read flat/);
    expect(codes([touched("a", face)])).not.toContain("few-points");
  });
  it("a part temperature that nobody states", () => {
    expect(
      codes([
        touched(
          "c",
          ring(8, () => 50),
        ),
      ]),
    ).toContain("temperature-not-stated");
    expect(
      codes([
        touched(
          "c",
          ring(8, () => 50),
          { temperatureC: 20 },
        ),
      ]),
    ).not.toContain("temperature-not-stated");
    expect(
      codes(
        [
          touched(
            "c",
            ring(8, () => 50),
          ),
        ],
        "part: {temperature: 20 C, expansion: 11.5 um/m/K}\n",
      ),
    ).not.toContain("temperature-not-stated");
  });
  it("a check on the machine that cut it, beside each result too", () => {
    const on = made([touched("a", face)], "", { probe: "uncertainty: 0.001 mm, where: on-machine" });
    expect(on.findings.map(({ code }) => code)).toContain("same-machine");
    expect(
      characteristic(on, "flat")
        .remarks.map(({ text }) => text)
        .join(" "),
    ).toMatch(/measured on the machine/);
    expect(
      codes([touched("a", face)], "", { probe: "uncertainty: 0.001 mm, where: independent" }),
    ).not.toContain("same-machine");
  });
  it("a scatter far above the gauge's", () => {
    expect(
      codes([
        touched(
          "a",
          grid(4, 50, (x, y) => ((x + 2 * y) % 3) * 0.02),
        ),
      ]),
    ).toContain("scatter-above-stated");
    expect(codes([touched("a", face)])).not.toContain("scatter-above-stated");
  });
});
