// What every health check keeps to, and that a clean setup hears nothing but notes.
import { describe, expect, it } from "vitest";
import type { HealthResult } from "../../src/analysis/health/contract.ts";
import { healthChecks } from "../../src/analysis/health/index.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import type { Vec3 } from "../../src/math/vector.ts";
import type { MeasuredFeature } from "../../src/model/measurement.ts";
import { fill } from "../../src/model/say.ts";
import { contextOf } from "../analysis/health/checked.ts";
import {
  grid,
  log,
  planOf,
  range,
  report,
  rimSweep,
  ring,
  swept,
  touched,
  traverse,
} from "../analysis/setting.ts";

const U = 0.0008;
const PLAN = (
  probe: string,
  more = "",
) => `machine: {name: M-1, travel: {x: [-400 mm, 400 mm], y: [-400 mm, 400 mm], z: [-600 mm, 200 mm]}}
instruments: {probe: {${probe}}}
features:
  face: {fit: plane, normal: [0, 0, 1]}
  bore: {fit: circle, normal: [0, 0, 1], surface: bore}
  od: {fit: cylinder, normal: [0, 0, 1], surface: boss}
  rim: {fit: circle, from: rim-sweep, radius: 75 mm, surface: boss}
  tram: {fit: plane, from: face-sweep, radius: 75 mm, normal: [0, 0, 1]}
  lean: {fit: line, from: traverse, along: y, height: z}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 0.02 mm}
  - {id: size, kind: diameter, of: bore, nominal: 100 mm, plus: 0.02 mm, minus: 0.02 mm}
  - {id: place, kind: position, of: bore, at: {x: 100 mm, y: 20 mm}, max: 0.1 mm}
  - {id: square, kind: perpendicularity, of: od, to: face, max: 0.03 mm, length: 60 mm}
  - {id: out, kind: runout, of: rim, max: 0.05 mm}
  - {id: tilt, kind: tilt, of: lean, along: y, per: 300 mm, nominal: 0 mm, plus: 0.02 mm, minus: 0.02 mm}
${more}`;
const GOOD = `uncertainty: ${U} mm, calibration-due: 2027-03-01, where: independent`;
const FULL = "part: {temperature: 20 C, expansion: 11.5 um/m/K}\n";

/** A sound setup: nothing but the gauge's own scatter and a scale of 0.1 micrometre. */
function clean(seed: number): MeasuredFeature[] {
  const noise = seededNoise(seed);
  const read = (value: number) => Math.round((value + U * noise.normal()) * 1e4) / 1e4;
  const place = ([x, y, z]: Vec3): Vec3 => [read(x), read(y), read(z)];
  const quarter = range(4).map((i) => (i * Math.PI) / 2);
  const heights = range(13).map((i) => read(0.001 * i));
  const rim = range(12).map((i) => read(0.015 * Math.cos((i * Math.PI) / 6)));
  const tram = quarter.map((angle) => read(0.01 * Math.cos(angle)));
  const machine = { frame: "machine" as const };
  return [
    touched(
      "face",
      grid(4, 60, (x, y) => x * 2e-5 - y * 1e-5).map(([x, y, z]) => [x, y, read(z)]),
      machine,
    ),
    touched("bore", ring(8, () => 50, [100, 20, -5]).map(place), machine),
    touched("od", [0, -30, -60].flatMap((z) => ring(8, () => 40, [-150, 0, z])).map(place), machine),
    { ...rimSweep("rim", rim, { radius: 75 }), closureMm: read(0) },
    swept(
      "tram",
      "face-sweep",
      quarter.map((angle, i): Vec3 => [75 * Math.cos(angle), 75 * Math.sin(angle), tram[i]!]),
      tram,
      { station: quarter, radius: 75, more: { closureMm: read(0) } },
    ),
    traverse(
      "lean",
      heights.map((_, i) => 25 * i),
      heights,
      { closureMm: read(0) },
    ),
  ];
}

/** Everything wrong at once. */
const bad: readonly MeasuredFeature[] = [
  touched("face", [...grid(3, 5000, (x) => (x === 0 ? 0.5 : 0)), [0, 0, 9]], { frame: "machine" }),
  touched("bore", ring(40, () => 50 / 25.4).slice(0, 5)),
  touched(
    "od",
    ring(3, () => 40),
  ),
  rimSweep("rim", [0.2, 0, 0, 0], { radius: 75 }),
  traverse("lean", [0, 20, 40, 60, 80, 100], [0, 0.1, 0.1, 0.1, 0.1, 0.1], { closureMm: 0.4 }),
];
const BAD_PLAN = planOf(PLAN("uncertainty: 0.001 mm, calibration-due: 2020-01-01, where: on-machine"));
const SHOW_IN = { show: "in", decimal: "," } as const;

describe("a clean setup", () => {
  const plan = planOf(PLAN(GOOD, FULL));
  it("hears of what four readings cannot show and nothing else, and is decided", () => {
    const made = report(plan, clean(1));
    expect(made.findings.map(({ level, code, feature }) => [level, code, feature])).toEqual([
      ["note", "few-points", "tram"],
    ]);
    expect(made.characteristics.map(({ id, verdict }) => [id, verdict])).toEqual(
      plan.characteristics.map(({ id }) => [id, "pass"]),
    );
  });
  it("seldom hears a false warning from chance alone: in fewer than one in ten of two hundred setups", () => {
    const warned = range(200).flatMap((seed) => {
      const context = contextOf(plan, clean(seed + 100));
      const warnings = healthChecks
        .flatMap((check) => check.check(context))
        .filter(({ finding }) => finding.level !== "note");
      return warnings.length > 0 ? [warnings.map(({ finding }) => `${finding.code} ${finding.feature}`)] : [];
    });
    expect(warned.length, JSON.stringify(warned)).toBeLessThan(20);
  });
});

describe.each(healthChecks)("$code", (check) => {
  const results = (): readonly HealthResult[] => check.check(contextOf(BAD_PLAN, bad, [log("bad.csv")]));

  it("stops only features of the plan, and only with a warning or an error", () => {
    for (const { finding, undecides } of results()) {
      expect(undecides).not.toBe("all");
      for (const name of undecides) expect(Object.keys(BAD_PLAN.features)).toContain(name);
      if (undecides.length > 0) expect(finding.level).not.toBe("note");
    }
  });
  it("says what it means with numbers that another page can show, and what to do", () => {
    for (const { finding } of results()) {
      expect(finding.code).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(finding.text.text).not.toMatch(/unknown|NaN|undefined|null/);
      expect(finding.hint?.text.length).toBeGreaterThan(10);
      expect(fill(finding.text.template, finding.text.values, SHOW_IN)).not.toMatch(/\d mm\b/);
      if (finding.feature !== undefined) expect(Object.keys(BAD_PLAN.features)).toContain(finding.feature);
      if (finding.line !== undefined) expect(finding.log).toBe("bad.csv");
    }
  });
  it("does not say one thing twice", () => {
    const said = results().map(({ finding }) => finding.text.text);
    expect(new Set(said).size).toBe(said.length);
  });
  it("gives the same for the same, and leaves what it looks at alone", () => {
    const before = JSON.stringify(bad);
    expect(results()).toEqual(results());
    expect(JSON.stringify(bad)).toBe(before);
  });
  it("does not throw on readings without any scatter, far from zero, or without a log", () => {
    const far = bad.map((feature) => ({
      ...feature,
      log: 7,
      readings: { ...feature.readings, x: feature.readings.x.map(() => 1e12) },
    }));
    for (const { finding } of check.check(contextOf(BAD_PLAN, far, []))) expect(finding.log).toBeUndefined();
  });
});

it("finds the faults of a bad setup, each by its code", () => {
  const codes = new Set(report(BAD_PLAN, bad).findings.map(({ code }) => code));
  for (const code of [
    "calibration-overdue",
    "closure",
    "cross-sum",
    "unit-alarm",
    "outside-travel",
    "stuck-values",
    "resolution",
    "suspicious-point",
    "short-arc",
    "few-points",
    "temperature-not-stated",
    "same-machine",
    "scatter-above-stated",
  ])
    expect([...codes]).toContain(code);
});
