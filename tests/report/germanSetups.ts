// Setups in which much goes wrong, as logs and plans, so that a page has much to say.
import type { SetupReport } from "../../src/model/setupReport.ts";
import { makeReports } from "../../src/records/makeReports.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { sha256Of } from "../../src/records/readLogs.ts";

export interface TroubledSetup {
  readonly plan: string;
  readonly logs: Readonly<Record<string, string>>;
}

/** The report of one setup. Throws when a log is rejected or the logs make several. */
export function reportOf({ plan, logs }: TroubledSetup): SetupReport {
  const text = `plinth: 1\nname: p1\ntitle: T1\n${plan}`;
  const files = Object.entries(logs).map(([name, content]) => {
    const bytes = new TextEncoder().encode(content);
    return { name, bytes, sha256: sha256Of(bytes) };
  });
  const made = makeReports(files, {
    plan: planFromText({ text: text, name: "p1.yaml", sha256: sha256Of(text) }),
    issued: "2026-11-25T07:00:00Z",
  });
  const [report] = made.reports;
  if (report === undefined || made.reports.length > 1 || made.rejected.length > 0)
    throw new Error(
      `expected one report: ${made.rejected.map(({ finding }) => finding.text.text).join("; ")}`,
    );
  return report;
}

const GUARDED = "decision: {rule: guarded}\n";
const HEAD = "# unit: mm\n# job: J1\n# setup: 1\n# points: surface\n";
const SWEEP = "# unit: mm\n# job: J1\n# setup: 1\n";
const rows = (lines: readonly (readonly (string | number)[])[]): string =>
  `${lines.map((line) => line.join(",")).join("\n")}\n`;
const face = (name: string, places: readonly (readonly number[])[]): string =>
  rows(places.map((place) => [name, ...place]));
const GRID = [-60, 0, 60].flatMap((x) => [-60, 0, 60].map((y) => [x, y] as const));
const tilted = (a: number, b: number, noise = 0.001): number[][] =>
  GRID.map(([x, y], i) => [x, y, a * x + b * y + noise * Math.sin(7 * i)]);
const ring = (radius: number, count: number, arc = 2 * Math.PI, lobes = 0): number[][] =>
  Array.from({ length: count }, (_, i) => {
    const angle = (arc * i) / count;
    const r = radius + lobes * Math.cos(3 * angle);
    return [1 + r * Math.cos(angle), -2 + r * Math.sin(angle), 0];
  });

const TOO_LITTLE: TroubledSetup = {
  plan: `${GUARDED}instruments:
  g1: {uncertainty: 0.001 mm, calibration-due: 2026-01-01, where: on-machine}
logs: {instrument: g1}
machine: {name: M1, travel: {x: [-10 mm, 10 mm], y: [-500 mm, 500 mm], z: [-500 mm, 500 mm]}}
features:
  f1: {fit: plane}
  f2: {fit: plane}
  f3: {fit: circle, surface: bore}
  f4: {fit: cylinder, surface: boss}
  f5: {fit: sphere, surface: boss}
  f6: {fit: line, along: x, height: z}
  f7: {fit: plane}
  f8: {fit: axis, through: [f3, f9]}
  f9: {fit: circle, surface: bore}
characteristics:
  - {id: c1, kind: flatness, of: f1, max: 0.01 mm}
  - {id: c2, kind: flatness, of: f2, max: 0.01 mm}
  - {id: c3, kind: roundness, of: f3, max: 0.01 mm}
  - {id: c4, kind: diameter, of: f3, nominal: 2 in, plus: 0.01 mm, minus: 0.01 mm}
  - {id: c5, kind: cylindricity, of: f4, max: 0.01 mm}
  - {id: c6, kind: diameter, of: f5, nominal: 20 mm, plus: 0.1 mm, minus: 0.1 mm}
  - {id: c7, kind: straightness, of: f6, max: 0.01 mm}
  - {id: c8, kind: perpendicularity, of: f4, to: f1, max: 0.01 mm, length: 900 mm}
  - {id: c9, kind: position, of: f8, at: {x: 1 mm, y: -2 mm}, max: 0.05 mm}
  - {id: c10, kind: lobing, of: f3, n: 3, max: 0.01 mm}
  - {id: c11, kind: flatness, of: f7, max: 0.01 mm}
sign-offs:
  - {id: s1, ask: A1}
  - {id: s2, ask: A2, unit: N·m, max: 95}
  - {id: s3, ask: A3, unit: N·m, max: 95}
  - {id: s4, ask: A4, unit: N·m, max: 95}
  - {id: s5, ask: A5}
  - {id: s6, ask: A6}
`,
  logs: {
    "a.csv": `${HEAD}# clamping: snug\nfeature,x,y,z\n${face("f1", [
      [0, 0, 0],
      [50, 0, 0],
      [0, 50, 0],
      [50, 50, 0.02],
    ])}${face("f2", [
      [0, 0, 0],
      [1, 1, 1],
      [2, 2, 2],
    ])}${face("f3", ring(0.984, 6))}${face("f4", [...ring(30, 5), ...ring(30, 5).map(([x = 0, y = 0]) => [x, y, 40])])}${face(
      "f5",
      [
        [10, 0, 0],
        [-10, 0, 0],
        [0, 10, 0],
        [0, -10, 0],
      ],
    )}${face("f6", [
      [0, 0, 0],
      [50, 0, 0.1],
    ])}${face("f77", tilted(0, 0))}`,
    "s.csv":
      "# job: J1\n# setup: 1\ncheck,value,unit\ns1,no,\ns2,120,N·m\ns3,50,\ns4,x,N·m\ns5,yes,\ns5,no,\ns9,yes,\n",
  },
};

const SWEEPS: TroubledSetup = {
  plan: `${GUARDED}instruments:
  g1: {uncertainty: 0.0005 mm}
logs: {instrument: g1}
closure: [w1]
features:
  w1: {fit: line, from: traverse, along: x, height: z}
  w2: {fit: line, from: traverse, along: x, height: z}
  r1: {fit: circle, from: rim-sweep, radius: 75 mm, surface: boss}
  r2: {fit: circle, from: rim-sweep, radius: 75 mm, surface: boss}
  p1: {fit: plane, from: face-sweep, radius: 100 mm}
characteristics:
  - {id: c1, kind: tilt, of: w1, along: x, per: 300 mm, nominal: 0 mm, plus: 0.01 mm, minus: 0.01 mm}
  - {id: c2, kind: diameter, of: r1, nominal: 150 mm, plus: 0.01 mm, minus: 0.01 mm}
  - {id: c3, kind: runout, of: r1, max: 0.02 mm}
  - {id: c4, kind: lobing, of: r2, n: 3, max: 0.001 mm}
  - {id: c5, kind: runout, of: p1, max: 0.02 mm}
  - {id: c6, kind: eccentricity, of: r1, max: 0.0601 mm}
advice:
  - {kind: square-up, of: w1, stops: [{name: L1, x: -100 mm}, {name: R1, x: 100 mm, pitch: 1.5 mm, screw: in-moves +z}], pivot: L1}
  - {kind: square-up, of: w2, rotary: b}
  - {kind: centering, of: r1, sag: 0.01 mm}
  - {kind: centering, of: r2}
  - {kind: seat-check, of: w1, base: {x: 300 mm, z: 300 mm}, height: 500 mm}
`,
  logs: {
    "t.csv": `${SWEEP}# state: as-found\nsweep,position,reading\n${rows([-100, -50, 0, 50, 100, -100].map((x, i) => ["w1", x, 0.0002 * x + (i === 5 ? 0.02 : 0)]))}`,
    "u.csv": `${SWEEP}# state: as-left\n# clamping: torqued\n# bolt: B7\nsweep,position,reading\n${rows([-100, -50, 0, 50, 100].map((x) => ["w1", x, 0.0004 * x]))}${rows([-100, -50, 0, 50, 100].map((x) => ["w2", x, 0.01]))}`,
    "v.csv": `${SWEEP}sweep,angle,reading\n${rows(Array.from({ length: 12 }, (_, i) => ["r1", 30 * i, (0.06 * Math.cos((i * Math.PI) / 6)).toFixed(4)]))}${rows(Array.from({ length: 4 }, (_, i) => ["r2", 90 * i, (0.02 * Math.cos(1.5 * Math.PI * i)).toFixed(3)]))}${rows(Array.from({ length: 8 }, (_, i) => ["p1", 45 * i, (i % 2) * 0.03]))}`,
  },
};

const RAW: TroubledSetup = {
  plan: `decision: {rule: simple}
features:
  f1: {fit: plane, normal: [0, 0, 1]}
  f2: {fit: plane, normal: [0, 0, -1]}
  k1: {fit: cylinder, surface: boss}
  b1: {fit: circle, surface: bore}
characteristics:
  - {id: c1, kind: parallelism, of: f2, to: f1, max: 0.01 mm}
  - {id: c2, kind: angularity, of: f2, to: f1, angle: 30 deg, max: 0.01 mm}
  - {id: c3, kind: distance, of: b1, to: f1, nominal: 20 mm, plus: 1 mm, minus: 1 mm}
  - {id: c4, kind: offset, of: b1, from: {x: 0 mm, y: 0 mm}, max: 0.01 mm}
  - {id: c5, kind: offset, of: b1, from: k1, along: x, nominal: 0 mm, plus: 0.1 mm, minus: 0.1 mm}
  - {id: c6, kind: angle, of: k1, to: f1, nominal: 0 deg, plus: 1 deg, minus: 1 deg}
advice:
  - {kind: face-cut, of: f1, below-low: 0.5 mm, per-pass: 0.4 mm, rim: {radius: 90 mm}, length: 60 mm, finished-length: 60 mm}
  - {kind: face-cut, of: f1}
  - {kind: clean-up, of: k1, finished: 59.99 mm}
  - {kind: clean-up, of: b1, finished: 10 mm}
  - {kind: turned-over, first: f1, second: f2}
  - {kind: turned-over}
  - {kind: work-offset, of: f1, register: N1, old: {z: -100 mm}, nominal: {z: 10 mm}}
  - {kind: work-offset, register: N2, from: {x: 10 mm, z: 20 mm}, b: 90, center: {x: 0 mm, z: 0 mm}}
  - {kind: re-seat, of: [f1, f2], quantity: slopeX, limit: 0.01 mm, over: 300 mm}
  - {kind: rotation-center, of: {0: b1, 90: k1}}
  - {kind: four-face, of: {0: f1, 180: f2}, height: 500 mm}
  - {kind: seat-check, of: f1, base: {x: 300 mm, z: 300 mm}, height: 500 mm, chip: 0.05 mm}
  - {kind: square-up, of: f1}
`,
  logs: {
    "r.csv": `${HEAD}# wibble: 1\nfeature,x,y,z,extra\n${face(
      "f1",
      tilted(0.001, -0.002, 0.2).map((one) => [...one, 1]),
    )}f1,1,2\nf1,1.2.3,0,0,1\nf1,NaN,0,0,1\nf1,9999,0,0,1\n${face(
      "f2",
      tilted(0.0015, -0.002).map(([x = 0, y = 0, z = 0]) => [x, y, z - 40, 1]),
    )}${face(
      "k1",
      [...ring(30, 8, 2 * Math.PI, 0.05), ...ring(30, 8).map(([x = 0, y = 0]) => [x, y, 40])].map((one) => [
        ...one,
        1,
      ]),
    )}${face(
      "b1",
      ring(20, 9, 1).map((one) => [...one, 1]),
    )}`,
    "again.csv": `${HEAD}feature,x,y,z\n${face("b1", ring(20, 9, 1))}`,
  },
};

const UNKNOWN_TIP: TroubledSetup = {
  plan: `${GUARDED}features:
  f1: {fit: plane}
  b1: {fit: circle, surface: bore}
characteristics:
  - {id: c1, kind: flatness, of: f1, max: 0.5 mm}
  - {id: c2, kind: diameter, of: b1, nominal: 40 mm, plus: 0.1 mm, minus: 0.1 mm}
  - {id: c3, kind: flatness, of: f1, max: 0.001 mm}
advice:
  - {kind: work-offset, of: f1, register: N1, nominal: {z: 0 mm}, old: {z: 5 mm}}
  - {kind: work-offset, of: b1, register: N1, nominal: {z: 0 mm}}
exclude:
  - {line: 999, reason: E1}
`,
  logs: {
    "k.csv": `# unit: mm\n# time: 12/11/2026\nfeature,x,y,z\n${face("f1", tilted(0, 0))}${face("b1", ring(20, 12))}`,
  },
};

export const TROUBLED: Readonly<Record<string, TroubledSetup>> = {
  "too little of everything": TOO_LITTLE,
  "sweeps that slip, stick and have lobes": SWEEPS,
  "raw faces and rounds": RAW,
  "a tip nobody stated": UNKNOWN_TIP,
};
