import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { say } from "../../src/model/say.ts";
import type {
  FeaturePlot,
  ReportAdvice,
  ReportCharacteristic,
  ReportFeature,
  SetupReport,
} from "../../src/model/setupReport.ts";
import { FONT_PACKAGE, REPORT_FILES, type ReportAssets } from "../../src/report/assets.ts";

const root = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const texts = (files: readonly string[]): Record<string, string> =>
  Object.fromEntries(files.map((file) => [file, readFileSync(root(`templates/${file}`), "utf8")]));

export const assets: ReportAssets = {
  templates: texts(REPORT_FILES.templates),
  styles: texts(REPORT_FILES.styles),
  fonts: Object.fromEntries(
    REPORT_FILES.fonts.map((file) => [
      file,
      readFileSync(root(`node_modules/${FONT_PACKAGE}/files/${file}`)),
    ]),
  ),
};

interface PlotPoint {
  readonly at: readonly [number, number, number];
  readonly deviation: number;
}
const plotOf = (points: readonly PlotPoint[], of = points.length): FeaturePlot => ({
  x: points.map((point) => point.at[0]),
  y: points.map((point) => point.at[1]),
  z: points.map((point) => point.at[2]),
  deviation: points.map((point) => point.deviation),
  line: points.map((_, index) => index + 6),
  of,
});

/** A 5 x 5 grid on a face with a dish and a corner that stands proud. */
const facePoints: readonly PlotPoint[] = Array.from({ length: 25 }, (_, index) => {
  const [column, row] = [index % 5, Math.floor(index / 5)];
  const [x, y] = [-160 + 80 * column, 40 + 90 * row];
  const dish = 0.0011 * ((x / 160) ** 2 + ((y - 220) / 180) ** 2 - 1);
  const deviation = dish + (index === 24 ? 0.0016 : 0) + 0.0002 * Math.sin(7 * index);
  return { at: [x, y, 200 + deviation], deviation };
});

/** Twelve touches of a bore; those at 0, 90, 180, 270 degrees hold circles 0.0027 apart about a centre 0.0004, 0.0002 off. */
export const boreZone = { shift: [0.0004, 0.0002], outer: 0.0012, inner: -0.0015 } as const;
const borePoints: readonly PlotPoint[] = Array.from({ length: 12 }, (_, index) => {
  const angle = (index * Math.PI) / 6;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const edge =
    index % 3 !== 0 ? 0.0006 * Math.cos(2 * angle) : index % 6 === 0 ? boreZone.outer : boreZone.inner;
  const deviation = edge + boreZone.shift[0] * cos + boreZone.shift[1] * sin;
  const radius = 50 + deviation;
  return { at: [12 + radius * cos, 180 + radius * sin, 200], deviation };
});

const cylinderPoints: readonly PlotPoint[] = Array.from({ length: 24 }, (_, index) => {
  const [angle, section] = [((index % 8) * Math.PI) / 4 + 0.1, Math.floor(index / 8)];
  const deviation = 0.004 * Math.cos(3 * angle) + 0.002 * Math.sin(index);
  const radius = 77.5 + deviation;
  return { at: [radius * Math.cos(angle), radius * Math.sin(angle), -20 - 18 * section], deviation };
});

const linePoints: readonly PlotPoint[] = Array.from({ length: 9 }, (_, index) => {
  const y = 50 * index;
  const deviation = 0.0009 * Math.sin(1.7 * index);
  return { at: [0, y, 0.00007 * (y - 200) + deviation], deviation };
});

const feature = (more: Partial<ReportFeature>): ReportFeature => ({
  fit: "plane",
  points: 25,
  state: "as-left",
  center: [0, 220, 200],
  direction: [0, 0, 1],
  rms: 0.00078,
  ...more,
});
const face = feature({
  zone: {
    leastSquares: 0.0042,
    minimum: 0.0038,
    proof: "global",
    support: [
      { point: 24, weight: 0.5 },
      { point: 0, weight: 0.5 },
      { point: 12, weight: -0.7 },
      { point: 7, weight: -0.3 },
    ],
  },
  quality: { degreesOfFreedom: 22, scatter: 0.00083, condition: 4.2, iterations: 1 },
  clamping: "torqued",
  where: "on-machine",
  plot: plotOf(facePoints),
});

export const features: Readonly<Record<string, ReportFeature>> = {
  "face-0": {
    ...face,
    asFound: feature({ state: "as-found", direction: [-0.0001, 0.00002, 1], rms: 0.0011, clamping: "snug" }),
  },
  bore: feature({
    fit: "circle",
    points: 12,
    center: [12, 180, 200],
    diameter: 100.0004,
    rms: 0.0008,
    zone: {
      leastSquares: 0.003,
      minimum: 0.0027,
      proof: "global",
      support: [
        { point: 0, weight: 0.5 },
        { point: 6, weight: 0.5 },
        { point: 3, weight: -0.5 },
        { point: 9, weight: -0.5 },
      ],
    },
    inscribed: { center: [12.0002, 180.0001, 200], diameter: 99.998 },
    circumscribed: { center: [12.0004, 180.0002, 200], diameter: 100.0028 },
    plot: plotOf(borePoints),
  }),
  od: feature({
    fit: "cylinder",
    points: 24,
    center: [0, 0, -38],
    diameter: 155.0,
    rms: 0.0031,
    zone: { leastSquares: 0.0121, minimum: 0.0114, proof: "local" },
    plot: plotOf(cylinderPoints),
  }),
  lean: feature({
    fit: "line",
    points: 9,
    center: [0, 200, 0],
    direction: [0, 0.9999999976, 0.00007],
    rms: 0.0006,
    zone: { leastSquares: 0.0018, minimum: 0.0017, proof: "global" },
    sweep: { kind: "traverse", radius: null, fim: 0.0292 },
    plot: plotOf(linePoints),
  }),
  "ball-90": feature({
    fit: "sphere",
    points: 5,
    center: [-8.2406, 12, -22.9832],
    direction: null,
    diameter: 25.0,
  }),
  "face-180": feature({
    points: 2,
    center: null,
    direction: null,
    rms: null,
    trouble: "2 points cannot carry a plane: it needs 3.",
  }),
};

const characteristic = (more: Partial<ReportCharacteristic>): ReportCharacteristic => ({
  id: "flat-0",
  kind: "flatness",
  of: "face-0",
  to: null,
  value: 0.0038,
  unit: "mm",
  uncertainty: 0.0012,
  coverage: 2,
  limits: { lower: null, upper: 0.012 },
  nominal: null,
  verdict: "pass",
  because: "0.0038 mm is below 0.012 mm less 0.0012 mm",
  asFound: null,
  state: "as-left",
  points: 25,
  method: "Minimum zone, two parallel planes.",
  conformance: 0.9999999,
  toDecide: [],
  remarks: [],
  ...more,
});

/** Sentences of the record that a page says again in its own unit. */
const said = [
  say("{value} is below {limit} less {guard}", {
    value: { mm: 0.0038 },
    limit: { mm: 0.012 },
    guard: { mm: 0.0012 },
  }),
  say("Move stop right {amount}, turn its screw {turn}", {
    amount: { mm: -0.0406, signed: true, digits: 3 },
    turn: { deg: 8.4, digits: 1 },
  }),
  say("Indicator at x 150 mm: stop when it has dropped {drop}", { drop: { mm: 0.035 } }),
  say("slope along X = {slope}", { slope: { slope: 0.0001015, signed: true } }),
];
const [because, headline, expected, working] = said;

export const report: SetupReport = {
  schema: "plinth.setup-report/1",
  report: { id: "J-2207_10_column-seat", revision: 2, issued: "2026-11-25T07:00:00Z", replaces: 1 },
  verdict: "fail",
  counts: { pass: 5, fail: 1, undecided: 1, missing: 1 },
  setup: {
    job: "J-2207",
    operation: "10",
    machine: "HM-4",
    pallet: "4",
    fixture: "column C2",
    part: "bearing block",
    serial: "0007",
    operator: "R. Odell",
    time: "2026-11-25T06:41:00Z",
  },
  plan: {
    name: "column-seat",
    title: "Fixture column on pallet 4",
    sha256: "4f".repeat(32),
    text: "plinth: 1\n",
  },
  decision: { rule: "guarded", guard: 1, coverage: 2 },
  unit: "mm",
  angleUnit: "deg",
  show: "mm",
  language: "en",
  logs: [
    {
      name: "face-0.csv",
      sha256: "a1".repeat(32),
      kind: "probe",
      rows: 26,
      used: 25,
      excluded: [{ line: 9, reason: "z is not a number: 1.2.3" }],
      decisions: [
        { what: "unit", value: "mm", because: "header line 4" },
        { what: "separator", value: ",", because: "25 rows of 4 cells" },
        { what: "points", value: "surface", because: "header line 5" },
      ],
      header: { job: "J-2207", state: "as-left", coolant: "off" },
    },
    {
      name: "lean.csv",
      sha256: "b2".repeat(32),
      kind: "sweep",
      rows: 9,
      used: 9,
      excluded: [],
      decisions: [
        { what: "sign", value: "toward-plus", because: "not stated; the usual meaning is assumed" },
      ],
      header: { indicator: "DTI-2" },
    },
  ],
  instruments: [
    { name: "spindle-probe", uncertainty: 0.0008, calibrationDue: "2027-03-01", where: "on-machine" },
    { name: "DTI-2", uncertainty: null, calibrationDue: null, where: null },
  ],
  features,
  characteristics: [
    characteristic({ because: because?.text ?? "", asFound: 0.0051 }),
    characteristic({
      id: "yaw-0",
      kind: "tilt",
      value: 0.0304,
      uncertainty: 0.0021,
      limits: { lower: -0.01, upper: 0.01 },
      nominal: 0,
      verdict: "fail",
      because: "0.0304 mm is above 0.01 mm by more than 0.0021 mm",
      asFound: 0.0307,
      method: "Least-squares slope over 300 mm.",
      conformance: 0.0000001,
    }),
    characteristic({
      id: "square-od",
      kind: "perpendicularity",
      of: "od",
      to: "face-0",
      value: 0.0192,
      uncertainty: 0.0034,
      limits: { lower: null, upper: 0.02 },
      verdict: "undecided",
      because: "0.0192 mm is within 0.0034 mm of the limit 0.02 mm",
      points: 24,
      conformance: 0.68,
      toDecide: [
        "Touch two more sections, 60 mm apart: U falls to 0.0007 mm and the limit is clear.",
        "Or sweep the diameter with an indicator of 0.001 mm.",
      ],
      remarks: ["Same machine, same clamping: geometry errors of the travels cancel."],
    }),
    characteristic({
      id: "bore-size",
      kind: "diameter",
      of: "bore",
      value: 100.0004,
      uncertainty: 0.0009,
      limits: { lower: 99.99, upper: 100.02 },
      nominal: 100,
      points: 12,
      because: "100.0004 mm is inside 99.99 mm to 100.02 mm by more than 0.0009 mm",
      method: "Least squares.",
    }),
    characteristic({
      id: "index-angle",
      kind: "angle",
      of: "face-0",
      to: "face-180",
      value: null,
      unit: "deg",
      uncertainty: null,
      coverage: null,
      limits: { lower: 89.995, upper: 90.005 },
      nominal: 90,
      verdict: "missing",
      because: "face-180 has no fit: 2 points cannot carry a plane",
      points: 2,
      conformance: null,
      method: "",
    }),
  ],
  advice: [
    {
      kind: "square-up",
      of: "face-0",
      headline: headline?.text ?? "",
      moves: [
        {
          at: "right",
          along: "z",
          amount: -0.0406,
          unit: "mm",
          turnDegrees: -8.36,
          words: "away from the spindle: screw out",
        },
        { at: "middle", along: "z", amount: -0.0203, unit: "mm" },
      ],
      expect: expected?.text ?? "",
      next: "Sweep face-0 again and log it as left.",
      values: { slopeX: 0.0001015, slopeY: -0.00002, rotary: null },
      working: [working?.text ?? "", "right stop: -slope x (200 - -200)"],
      cautions: ["Clean the seat and find the cause before any shim."],
      status: "advised",
    },
    {
      kind: "work-offset",
      of: "bore",
      headline: "Key in X -11.2491 in register 54",
      moves: [],
      expect: "Probe the bore again: X must read 2.000 mm.",
      next: null,
      values: {
        old: { x: -285.7576, z: -307.9928 },
        new: { x: -285.7271, z: -307.9928 },
        change: { x: 0.0305, z: 0 },
      },
      working: ["new = old + (measured - nominal)"],
      cautions: [],
      status: "advised",
    },
    {
      kind: "rotation-center",
      of: { "0": "ball-0", "90": "ball-90" },
      headline: "No centre yet: ball-0 is not measured",
      moves: [],
      expect: null,
      next: "Probe the ball at B0.",
      values: { x: null, z: null, bSense: null },
      working: [],
      cautions: [],
      status: "missing",
    },
  ],
  corrections: [
    {
      feature: "face-0",
      quantity: "slopeX",
      unit: "slope",
      asFound: 0.0001023,
      asLeft: 0.0001015,
      wanted: -0.0001023,
      made: -0.0000008,
      ratio: 0.992,
      judged: "nothing-moved",
      because: "slopeX was +0.1023 mm/m and is +0.1015 mm/m: nothing moved.",
    },
  ],
  signOffs: [
    {
      id: "seat-stoned",
      ask: "Pallet and base stoned and wiped",
      value: "yes",
      unit: null,
      by: "R. Odell",
      time: "06:20",
      verdict: "pass",
      because: "confirmed",
      limits: { lower: null, upper: null },
    },
    {
      id: "chuck-torque",
      ask: "Torque of the chuck bolts",
      value: 92,
      unit: "N·m",
      by: null,
      time: null,
      verdict: "pass",
      because: "92 N·m is not above 95 N·m",
      limits: { lower: null, upper: 95 },
    },
  ],
  findings: [
    {
      level: "note",
      code: "sign-not-proved",
      text: "The sign of the indicator is not proved.",
      log: "lean.csv",
      hint: "Bump the axis 0.01 mm towards the work and log which way the needle goes.",
    },
    {
      level: "warning",
      code: "no-closure",
      text: "The first reading was not taken again at the end.",
      log: "face-0.csv",
      line: 31,
    },
    { level: "error", code: "too-few-points", text: "face-180 has 2 points.", feature: "face-180" },
  ],
  generator: { name: "plinth", version: "0.1.0" },
  entries: [
    {
      id: "0123456789abcdef",
      report: "J-2207_10_column-seat",
      revision: 1,
      kind: "disposition",
      characteristic: "square-od",
      who: "Shift lead",
      made: "2026-11-24T15:00:00Z",
      why: "The edge is cut away in operation 20",
      decision: "use-as-is",
      corrected: {},
    },
  ],
  wording: Object.fromEntries(said.map(({ text, template, values }) => [text, { template, values }])),
};

/** A report of a plan whose logs brought nothing. */
export const emptyReport: SetupReport = {
  ...report,
  report: { id: "no-job_no-operation_empty", revision: 1, issued: "2026-11-25T07:00:00Z", replaces: null },
  verdict: "missing",
  counts: { pass: 0, fail: 0, undecided: 0, missing: 0 },
  setup: {},
  logs: [],
  instruments: [],
  features: {},
  characteristics: [],
  corrections: [],
  advice: [],
  signOffs: [],
  findings: [],
};

const around = (count: number, radius: (angle: number) => number, center: readonly [number, number]) => {
  const angles = Array.from({ length: count }, (_, index) => (index * 2 * Math.PI) / count);
  return {
    x: angles.map((angle) => center[0] + radius(angle) * Math.cos(angle)),
    y: angles.map((angle) => center[1] + radius(angle) * Math.sin(angle)),
  };
};
const grid = Array.from(
  { length: 9 },
  (_, index) => [-60 + 60 * (index % 3), -60 + 60 * Math.floor(index / 3)] as const,
);

/** Data of every advice picture, with the numbers of the advice they belong to. */
export const advicePlots: Readonly<
  Record<string, { readonly data: unknown; readonly values: ReportAdvice["values"] }>
> = {
  centering: {
    data: {
      ...around(8, () => 75, [0.04, -0.02]),
      deviation: Array(8).fill(0),
      center: [0.04, -0.02],
      radius: 75,
    },
    values: { x: 0.04, y: -0.02, eccentricity: 0.0447 },
  },
  "clean-up": {
    data: {
      ...around(12, (angle) => 77.75 + 0.1 * Math.cos(2 * angle), [0.8, -0.25]),
      finished: 155,
      center: [0, 0],
      best: [0.8, -0.25],
      inscribed: 155.3,
    },
    values: { stockHere: -0.5, stockBest: 0.15, leastAngle: 90 },
  },
  "face-cut": {
    data: {
      x: grid.map(([x]) => x),
      y: grid.map(([, y]) => y),
      z: grid.map(([x, y]) => 6 + 0.007 * x + 0.002 * y),
      cutPlane: 5.2,
      rim: null,
    },
    values: { deepest: 1.34, passes: 2, passDepth: 0.545, cutPlane: 5.2 },
  },
  "rotation-center": {
    data: { b: [0, 90, 180, 270], x: [75, 92, -75, -92], z: [92, -75, -92, 75], center: [0, 0], arm: 118.7 },
    values: { x: 0, z: 0 },
  },
  "turned-over": {
    data: {
      x: grid.map(([x]) => x),
      y: grid.map(([, y]) => y),
      thickness: grid.map(([x, y]) => 31.75 + 0.0001 * x + 0.00002 * y),
    },
    values: { thickness: 31.75 },
  },
  "re-seat": {
    data: { values: [0.0021, 0.0035, 0.0028, 0.0019, 0.003], unit: "mm" },
    values: { count: 5, mean: 0.00266, deviation: 0.00066, range: 0.0016 },
  },
  "seat-check": {
    data: { depth: 400, height: 610, lean: 0.019, edge: "-z" },
    values: { leanOverHeight: 0.019, edge: "-z", edgeThickness: 0.0125 },
  },
  "four-face": {
    data: { b: [0, 90, 180, 270], lean: [0.00003, 0.000005, -0.000036, -0.0000035] },
    values: { common: -0.000001, seatZ: 0.000033 },
  },
  "square-up": {
    data: {
      stops: [
        { name: "left", x: -200 },
        { name: "right", x: 200 },
      ],
    },
    values: { slopeX: 0.0001, slopeY: null },
  },
  "work-offset": {
    data: {},
    values: { new: { x: -285.727, z: -307.993 }, change: { x: 0.03, z: -0.012 } },
  },
};

/** The report with one advice for each picture. */
export const pictureReport: SetupReport = {
  ...report,
  advice: Object.entries(advicePlots).map(([kind, { data, values }]) => ({
    kind,
    of: "face-0",
    headline: `Headline of ${kind}`,
    moves: [],
    expect: null,
    next: null,
    values,
    working: [],
    cautions: [],
    status: "advised",
    plot: { kind, data },
  })),
};
