// Every characteristic once or more against a number worked out by hand, through plan text, log text and the whole road.
import { describe, expect, it } from "vitest";
import type { ReportCharacteristic, SetupReport } from "../../src/model/setupReport.ts";
import { makeReports } from "../../src/records/makeReports.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { sha256Of } from "../../src/records/readLogs.ts";

const IN = 25.4;
type P = readonly [number, number, number];
interface Trial {
  readonly features: string;
  readonly characteristics: string;
  readonly logs: readonly string[];
  readonly decision?: string;
}
function report({ features, characteristics, logs, decision = "{rule: simple}" }: Trial): SetupReport {
  const text = `plinth: 1\nname: trial\ntitle: Trial\ndecision: ${decision}\nfeatures:\n${features}\ncharacteristics:\n${characteristics}\n`;
  const plan = planFromText({ text: text, name: "trial.yaml", sha256: sha256Of(text) });
  const files = logs.map((log, i) => ({
    name: `log-${i}.csv`,
    bytes: new TextEncoder().encode(log),
    sha256: sha256Of(log),
  }));
  const { reports, rejected } = makeReports(files, { plan, issued: "2026-11-25T07:00:00Z" });
  expect(rejected.map(({ finding }) => finding.text.text)).toEqual([]);
  expect(reports).toHaveLength(1);
  return reports[0]!;
}
const of = (trial: Trial, id = "c"): ReportCharacteristic =>
  report(trial).characteristics.find((entry) => entry.id === id)!;
const touches = (features: Readonly<Record<string, readonly P[]>>, unit = "mm"): string =>
  `# job: T\n# unit: ${unit}\n# points: surface\nfeature,x,y,z\n${Object.entries(features)
    .flatMap(([name, points]) => points.map((p) => `${name},${p.join(",")}`))
    .join("\n")}\n`;
const sweep = (rows: readonly string[], unit = "mm", more = ""): string =>
  `# job: T\n# unit: ${unit}\n# sign: toward-plus\n${more}sweep,angle,reading\n${rows.join("\n")}\n`;

const grid = (z: (x: number, y: number) => number, half = 50): P[] =>
  [-half, 0, half].flatMap((x) => [-half, 0, half].map((y): P => [x, y, z(x, y)]));
const ring = (radius: number, [cx, cy, cz]: P, count = 12): P[] =>
  Array.from({ length: count }, (_, i): P => {
    const a = (2 * Math.PI * i) / count;
    return [cx + radius * Math.cos(a), cy + radius * Math.sin(a), cz];
  });
const bar: P[] = [
  [3.0876, -0.014, 0],
  [2.6767, 1.5193, 0],
  [1.5539, 2.6411, 0],
  [0.021, 3.0458, 0],
  [-1.5055, 2.63, 0],
  [-2.627, 1.5148, 0],
  [-3.0496, -0.014, 0],
  [-2.6303, -1.5447, 0],
  [-1.5099, -2.6657, 0],
  [0.021, -3.0669, 0],
  [1.5495, -2.6614, 0],
  [2.675, -1.5463, 0],
];
const dome: P[] = [
  [-3, -3, 0],
  [-3, 0, 0.0003],
  [-3, 3, 0.0001],
  [0, -3, 0.0004],
  [0, 0, 0.0006],
  [0, 3, 0.0003],
  [3, -3, 0.0002],
  [3, 0, 0.0004],
  [3, 3, -0.0001],
];
const PLANE = "{fit: plane, normal: [0, 0, 1]}";
const CIRCLE = "{fit: circle, normal: [0, 0, 1], surface: boss}";

describe("form", () => {
  it("flatness: minimum zone, and the spread about the fit when asked for", () => {
    // Own worked example: nine places on a face domed by 0.0006 in; linear programmes with scipy and HiGHS.
    const trial = { features: `  f: ${PLANE}`, logs: [touches({ f: dome }, "in")] };
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: flatness, of: f, max: 1 mm}" }).value,
    ).toBeCloseTo(0.00065 * IN, 8);
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: flatness, of: f, zone: least-squares, max: 1 mm}" })
        .value,
    ).toBeCloseTo((0.002 / 3) * IN, 8);
  });
  it("roundness: concentric circles, and about the fit", () => {
    // Own worked example: a 6.125 in bar with oval, lobes and a ding, twelve touches; scipy, sequential linear programmes.
    const trial = { features: `  r: ${CIRCLE}`, logs: [touches({ r: bar }, "in")] };
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: roundness, of: r, max: 1 mm}" }).value,
    ).toBeCloseTo(0.016170352858916992 * IN, 8);
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: roundness, of: r, zone: least-squares, max: 1 mm}" })
        .value,
    ).toBeCloseTo(0.019308406964245517 * IN, 8);
  });
  it("roundness of a cylinder: its worst section", () => {
    const oval = ring(20, [0, 0, 10]).map(([x, y, z]): P => [x * 1.001, y, z]);
    const trial = {
      features: "  w: {fit: cylinder, normal: [0, 0, 1], surface: boss}",
      logs: [touches({ w: [...ring(20, [0, 0, 0]), ...oval, ...ring(20, [0, 0, 20])] })],
      characteristics: "  - {id: c, kind: roundness, of: w, max: 1 mm}",
    };
    // x reaches 20.02 at 0 and 180 degrees, y stays 20: concentric circles 0.02 apart.
    expect(of(trial).value).toBeCloseTo(0.02, 5);
  });
  it("cylindricity: coaxial cylinders", () => {
    const trial = {
      features: "  w: {fit: cylinder, normal: [0, 0, 1], surface: boss}",
      logs: [touches({ w: [...ring(10, [0, 0, 0]), ...ring(10.01, [0, 0, 30])] })],
      characteristics: "  - {id: c, kind: cylindricity, of: w, max: 1 mm}",
    };
    expect(of(trial).value).toBeCloseTo(0.01, 6);
  });
  it("lobing: radius peak to valley of one harmonic", () => {
    const lobes = Array.from({ length: 24 }, (_, i): P => {
      const a = (Math.PI * i) / 12;
      const r = 50 + 0.01 * Math.cos(3 * (a - 0.3)) + 0.004 * Math.cos(2 * a);
      return [7 + r * Math.cos(a), -3 + r * Math.sin(a), 0];
    });
    const trial = { features: `  r: ${CIRCLE}`, logs: [touches({ r: lobes })] };
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: lobing, of: r, n: 3, max: 1 mm}" }).value,
    ).toBeCloseTo(0.02, 5);
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: lobing, of: r, n: 2, max: 1 mm}" }).value,
    ).toBeCloseTo(0.008, 5);
  });
  it("a verdict on form needs points, a value does not", () => {
    const four: P[] = [
      [-50, -50, 0],
      [50, -50, 0],
      [50, 50, 0],
      [-50, 50, 0.004],
    ];
    const trial = {
      features: `  f: ${PLANE}`,
      logs: [touches({ f: four })],
      characteristics: "  - {id: c, kind: flatness, of: f, max: 1 mm}",
    };
    // One corner 0.004 high of four: the planes through diagonal pairs lie 0.002 apart.
    expect(of(trial)).toMatchObject({ verdict: "undecided", value: expect.closeTo(0.002, 6) });
    expect(of({ ...trial, features: `${trial.features}\npoints: {plane: 4}` }).verdict).toBe("pass");
  });
});

describe("orientation", () => {
  const base = grid(() => 0);
  it("perpendicularity of a face: planes square to the datum", () => {
    const wall = [0, 25, 50].flatMap((z) => [-20, 0, 20].map((y): P => [80 + 0.001 * z, y, z]));
    const trial = {
      features: `  f: ${PLANE}\n  w: {fit: plane, normal: [1, 0, 0]}`,
      logs: [touches({ f: base, w: wall })],
      characteristics: "  - {id: c, kind: perpendicularity, of: w, to: f, max: 1 mm}",
    };
    expect(of(trial).value).toBeCloseTo(0.05, 8);
  });
  const sections = {
    top: ring(1, [0.0002, 0.0001, 1.6]),
    bottom: ring(1, [0, 0.0003, 0]),
    f: grid((x, y) => 0.0001 * x - 0.00005 * y, 3),
  };
  const axisFeatures = `  f: ${PLANE}\n  top: ${CIRCLE}\n  bottom: ${CIRCLE}\n  a: {fit: axis, through: [bottom, top]}`;
  it("perpendicularity of an axis: the cylinder's diameter, over the measured or a stated length", () => {
    // Own worked example: axis slope (.000125, -.000125), face normal (-.0001, +.00005), so .000285 in per in.
    const trial = { features: axisFeatures, logs: [touches(sections, "in")] };
    const rel = Math.hypot(0.000225, 0.000175);
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: perpendicularity, of: a, to: f, max: 1 mm}" }).value,
    ).toBeCloseTo(rel * 1.6 * IN, 6);
    const over = of({
      ...trial,
      characteristics: "  - {id: c, kind: perpendicularity, of: a, to: f, length: 2 in, max: 1 mm}",
    });
    expect(over.value).toBeCloseTo(rel * 2 * IN, 6);
    expect(over.verdict).toBe("undecided");
  });
  it("angularity: planes at exactly the stated angle", () => {
    const [angle, off] = [(30 * Math.PI) / 180, (0.1 * Math.PI) / 180];
    const face = [-50, 0, 50].flatMap((u) =>
      [-20, 0, 20].map((y): P => [u * Math.cos(angle + off), y, u * Math.sin(angle + off)]),
    );
    const trial = {
      features: `  f: ${PLANE}\n  w: {fit: plane, normal: [-1, 0, 1]}`,
      logs: [touches({ f: base, w: face })],
      characteristics: "  - {id: c, kind: angularity, of: w, to: f, angle: 30 deg, max: 1 mm}",
    };
    expect(of(trial).value).toBeCloseTo(100 * Math.sin(off), 6);
  });
  it("parallelism of a face: range of the distances from the datum, least squares or tangent", () => {
    const trial = {
      features: `  f: ${PLANE}\n  g: ${PLANE}`,
      logs: [touches({ f: grid((x) => (x > 0 ? 0.004 : 0)), g: grid((x) => 25 + 0.0002 * x) })],
    };
    // Datum: x = -50, 0, 50 has heights 0, 0, .004: slope .00004 by least squares.
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: parallelism, of: g, to: f, max: 1 mm}" }).value,
    ).toBeCloseTo(100 * (0.0002 - 0.00004), 6);
    // Outside the material, the plane with the least largest gap goes through the points at -50 and 50.
    expect(
      of({
        ...trial,
        characteristics: "  - {id: c, kind: parallelism, of: g, to: f, datum: tangent, max: 1 mm}",
      }).value,
    ).toBeCloseTo(100 * (0.0002 - 0.00004), 6);
  });
  it("parallelism and coaxiality of an axis to an axis: diameter of the zone", () => {
    const features = `  p: ${CIRCLE}\n  q: ${CIRCLE}\n  r: ${CIRCLE}\n  s: ${CIRCLE}\n  a: {fit: axis, through: [p, q]}\n  b: {fit: axis, through: [r, s]}`;
    const logs = [
      touches({
        p: ring(10, [0.03, 0, 0]),
        q: ring(10, [0.05, 0, 40]),
        r: ring(20, [0, 0, -50]),
        s: ring(20, [0, 0, 90]),
      }),
    ];
    expect(
      of({ features, logs, characteristics: "  - {id: c, kind: parallelism, of: a, to: b, max: 1 mm}" })
        .value,
    ).toBeCloseTo(0.02, 6);
    expect(
      of({ features, logs, characteristics: "  - {id: c, kind: coaxiality, of: a, to: b, max: 1 mm}" }).value,
    ).toBeCloseTo(0.1, 6);
  });
  it("angle between two directions, in degrees", () => {
    const slope = Math.tan((12 * Math.PI) / 180);
    const trial = {
      features: `  f: ${PLANE}\n  g: ${PLANE}`,
      logs: [touches({ f: base, g: grid((x) => slope * x) })],
      characteristics:
        "  - {id: c, kind: angle, of: g, to: f, nominal: 12 deg, plus: 0.1 deg, minus: 0.1 deg}",
    };
    expect(of(trial)).toMatchObject({
      value: expect.closeTo(12, 9),
      unit: "deg",
      limits: { lower: expect.closeTo(11.9, 9), upper: expect.closeTo(12.1, 9) },
    });
  });
  it("tilt: signed rise per length", () => {
    const trial = {
      features: `  f: ${PLANE}`,
      logs: [touches({ f: grid((x, y) => 0.0001 * x - 0.00004 * y) })],
    };
    expect(
      of({
        ...trial,
        characteristics:
          "  - {id: c, kind: tilt, of: f, along: x, per: 300 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm}",
      }).value,
    ).toBeCloseTo(0.03, 8);
    expect(
      of({
        ...trial,
        characteristics:
          "  - {id: c, kind: tilt, of: f, along: y, per: 500 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm}",
      }).value,
    ).toBeCloseTo(-0.02, 8);
  });
  it("tilt of a swept line", () => {
    const log =
      "# job: T\n# unit: in\n# sign: toward-plus\nsweep,position,reading\nl,0,0\nl,3,.0003\nl,6,.0006\nl,9,.0009\nl,12,.0012\n";
    const trial = {
      features: "  l: {fit: line, from: traverse, along: x, height: z}",
      logs: [log],
      characteristics:
        "  - {id: c, kind: tilt, of: l, along: x, per: 16 in, nominal: 0 in, plus: 1 in, minus: 1 in}",
    };
    // Own worked example: .0012 over 12 in is .0016 over 16 in.
    expect(of(trial).value).toBeCloseTo(0.0016 * IN, 8);
  });
});

describe("size and place", () => {
  it("diameter: least squares, inscribed, circumscribed", () => {
    const trial = { features: `  r: ${CIRCLE}`, logs: [touches({ r: bar }, "in")] };
    const size = (more: string): number | null =>
      of({
        ...trial,
        characteristics: `  - {id: c, kind: diameter, of: r, ${more}nominal: 6 in, plus: 1 in, minus: 1 in}`,
      }).value;
    // Own worked example, scipy: 6.1229713 least squares, 6.1100303 inscribed, 6.1372 circumscribed.
    expect(size("")).toBeCloseTo(6.122971308499752 * IN, 7);
    expect(size("size: inscribed, ")).toBeCloseTo(6.110030285685736 * IN, 5);
    expect(size("size: circumscribed, ")).toBeCloseTo(6.1372 * IN, 5);
  });
  it("diameter from tip centres: bore plus, boss minus the ball", () => {
    // Own worked example: 6.000 ball, centres on 93.998: bore 99.998; a boss of the same centres is 87.998.
    const log = (tip: string): string =>
      touches({ r: ring(46.999, [0, 0, 0]) }).replace("# points: surface\n", tip);
    const ball = "# points: ball-center\n# tip-diameter: 6 mm\n";
    const size = (surface: string, tip: string): ReportCharacteristic =>
      of({
        features: `  r: {fit: circle, normal: [0, 0, 1], surface: ${surface}}`,
        logs: [log(tip)],
        characteristics: "  - {id: c, kind: diameter, of: r, nominal: 100 mm, plus: 20 mm, minus: 20 mm}",
      });
    expect(size("bore", ball).value).toBeCloseTo(99.998, 8);
    expect(size("boss", ball).value).toBeCloseTo(87.998, 8);
    expect(size("bore", "")).toMatchObject({ verdict: "undecided" });
  });
  it("distance: plane to plane along the datum's normal, centre to centre, along an axis", () => {
    const features = `  f: ${PLANE}\n  g: ${PLANE}\n  p: ${CIRCLE}\n  q: ${CIRCLE}`;
    const logs = [
      touches({ f: grid(() => 5), g: grid(() => 30.02), p: ring(10, [0, 0, 0]), q: ring(10, [30, 40, 0]) }),
    ];
    const value = (entry: string): number | null =>
      of({
        features,
        logs,
        characteristics: `  - {id: c, kind: distance, ${entry}, nominal: 0 mm, plus: 100 mm, minus: 100 mm}`,
      }).value;
    expect(value("of: g, to: f")).toBeCloseTo(25.02, 9);
    expect(value("of: f, to: g")).toBeCloseTo(-25.02, 9);
    expect(value("of: q, to: p")).toBeCloseTo(50, 8);
    expect(value("of: p, to: q, along: x")).toBeCloseTo(-30, 8);
  });
  it("offset and position from a place, in whole and in part", () => {
    const features = `  p: ${CIRCLE}\n  q: ${CIRCLE}`;
    const logs = [touches({ p: ring(10, [0.003, -0.004, 7]), q: ring(10, [1.003, -0.004, 0]) })];
    const value = (entry: string): number | null =>
      of({ features, logs, characteristics: `  - {id: c, ${entry}}` }).value;
    expect(value("kind: offset, of: p, from: {x: 0 mm, y: 0 mm}, max: 1 mm")).toBeCloseTo(0.005, 8);
    expect(
      value(
        "kind: offset, of: p, from: {x: 0 mm, y: 0 mm}, along: y, nominal: 0 mm, plus: 1 mm, minus: 1 mm",
      ),
    ).toBeCloseTo(-0.004, 8);
    expect(
      value("kind: offset, of: q, from: p, along: x, nominal: 1 mm, plus: 1 mm, minus: 1 mm"),
    ).toBeCloseTo(1, 8);
    expect(value("kind: position, of: p, at: {x: 0 mm, y: 0 mm}, max: 1 mm")).toBeCloseTo(0.01, 8);
  });
});

describe("sweeps", () => {
  const bore = "  r: {fit: circle, from: rim-sweep, radius: 3 in, surface: bore}";
  it("runout is the full movement, eccentricity the centre's distance from the sweep axis", () => {
    // Own worked example: bore readings .0000 .0010 .0030 .0020 in: centre (+.0015, +.0005).
    const trial = { features: bore, logs: [sweep(["r,0,0", "r,90,.001", "r,180,.003", "r,270,.002"], "in")] };
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: runout, of: r, max: 1 mm}" }).value,
    ).toBeCloseTo(0.003 * IN, 9);
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: eccentricity, of: r, max: 1 mm}" }).value,
    ).toBeCloseTo(Math.hypot(0.0015, 0.0005) * IN, 5);
  });
  it("takes the stated sag out before the movement is read", () => {
    // Own worked example: sag .0008 and a measured +.0005 in Y: the true centre is -.0003, so the full movement is .0006.
    const rows = ["r,0,0", "r,90,-.0005", "r,180,0", "r,270,.0005"];
    const trial = { features: bore, logs: [sweep(rows, "in", "# sag: 0.0008 in\n")] };
    expect(
      of({ ...trial, characteristics: "  - {id: c, kind: runout, of: r, max: 1 mm}" }).value,
    ).toBeCloseTo(0.0006 * IN, 9);
    const center = report({ ...trial, characteristics: "  - {id: c, kind: eccentricity, of: r, max: 1 mm}" })
      .features.r?.center;
    expect(center?.[1]).toBeCloseTo(-0.0003 * IN, 6);
  });
  it("cannot tell a diameter from a sweep", () => {
    const trial = {
      features: bore,
      logs: [sweep(["r,0,0", "r,90,.001", "r,180,.003", "r,270,.002"], "in")],
      characteristics: "  - {id: c, kind: diameter, of: r, nominal: 6 in, plus: 1 in, minus: 1 in}",
    };
    expect(of(trial)).toMatchObject({ value: null, verdict: "undecided" });
  });
});

describe("states and what is missing", () => {
  const features = `  f: ${PLANE}`;
  const characteristics =
    "  - {id: c, kind: tilt, of: f, along: x, per: 100 mm, nominal: 0 mm, plus: 0.01 mm, minus: 0.01 mm}";
  const state = (name: string, slope: number): string =>
    touches({ f: grid((x) => slope * x) }).replace("# unit", `# state: ${name}\n# unit`);
  it("judges as left and keeps as found beside it", () => {
    expect(
      of({ features, characteristics, logs: [state("as-found", 0.0005), state("as-left", 0.00002)] }),
    ).toMatchObject({
      value: expect.closeTo(0.002, 9),
      asFound: expect.closeTo(0.05, 9),
      verdict: "pass",
      state: "as-left",
    });
  });
  it("is missing where nothing was measured", () => {
    expect(
      of({
        features: `${features}\n  g: ${PLANE}`,
        characteristics: characteristics.replace("of: f", "of: g"),
        logs: [state("as-left", 0)],
      }),
    ).toMatchObject({ value: null, verdict: "missing" });
  });
  it("is undecided under a guard band without a stated uncertainty", () => {
    expect(
      of({ features, characteristics, logs: [state("as-left", 0)], decision: "{rule: guarded}" }),
    ).toMatchObject({ verdict: "undecided" });
  });
});
