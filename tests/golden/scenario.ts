// The logs of sample-logs, made by measuring a simulated machine, so that what they should give is known.
// Everything here is invented: shop, job, machine, part and people.
import { seededNoise } from "../../src/math/seededNoise.ts";
import { faceAt, type Machine, placeAt, sweepRim } from "../simulation/machine.ts";
import { type Pose, turnedAbout, type V, within, zOn } from "../simulation/solid.ts";

const noise = seededNoise(417);
const scatter = (sigma: number): number => sigma * noise.normal();
const fixed = (value: number, digits: number): string => {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text;
};
const header = (keys: Readonly<Record<string, string>>): string =>
  Object.entries(keys)
    .map(([key, value]) => `# ${key}: ${value}\n`)
    .join("");
const DAY = "2026-11-24";
const JOB = { job: "K-0417", machine: "HM-2", pallet: "3" };

const machine: Machine = {
  sense: 1,
  center: [-320.412, 0, -540.218],
  axis: [0, 1, 0],
  indexError: { 90: 2e-6, 270: -3e-6 },
};
/** The column as left: yaw and lean that remain, and where its middle stands beside the B centre. */
const HALF_WIDTH = 150.02;
const YAW = 6e-6;
const LEAN = 3.6e-5;
const column: Pose = within(
  {
    ...turnedAbout([0, 0, 0], [1, 0, 0], LEAN),
    origin: [machine.center[0] + 0.006, 0, machine.center[2] - 0.009],
  },
  turnedAbout([0, 0, 0], [0, 1, 0], -YAW),
);
/** The face that looks at the spindle at each index when B swings +Z towards +X. */
const FACES: Readonly<Record<number, V>> = { 0: [0, 0, 1], 90: [-1, 0, 0], 180: [0, 0, -1], 270: [1, 0, 0] };
const faceOf = (b: number) => {
  const normal = FACES[b] ?? [0, 0, 1];
  return faceAt(machine, b, column, { at: [normal[0] * HALF_WIDTH, 300, normal[2] * HALF_WIDTH], normal });
};

/** Five indicator readings along X and along Y of face 0, in inch, zeroed on the first. */
function sweeps(state: "as-found" | "as-left", yaw: number, lean: number): string {
  const rows = (name: string, slope: number, positions: readonly number[]): string => {
    const heights = positions.map((position) => slope * (position - positions[0]!) + scatter(0.00002));
    const rows = positions.map((p, i) => `${name},${fixed(p, 1)},${fixed(i === 0 ? 0 : heights[i]!, 4)}\n`);
    // Back at the first place the indicator must read what it read before.
    return [...rows, `${name},${fixed(positions[0]!, 1)},${fixed(scatter(0.00003), 4)}\n`].join("");
  };
  const loose = state === "as-found";
  return (
    header({
      ...JOB,
      operation: "10",
      plan: "column-seat",
      fixture: "COL-7",
      operator: "second shift",
      instrument: "lever-04",
      unit: "in",
      state,
      clamping: loose ? "snug" : "torqued",
      sign: "toward-plus",
      time: `${DAY}T${loose ? "06:40" : "07:25"}:00Z`,
    }) +
    "sweep,position,reading\n" +
    rows("yaw-0", yaw, [-6, -3, 0, 3, 6]) +
    rows("lean-0", lean, [4, 9, 14, 19, 24])
  );
}

/** Nine touches on each face at its index, as a control set to decimal commas writes them. */
function faces(): string {
  const keys = {
    ...JOB,
    operation: "10",
    plan: "column-seat",
    fixture: "COL-7",
    instrument: "probe-2",
    unit: "mm",
    points: "surface",
    frame: "machine",
    clamping: "torqued",
    temperature: "20,5 C",
    time: `${DAY}T07:40:00Z`,
  };
  const rows = [0, 90, 180, 270].flatMap((b) =>
    [120, 330, 540].flatMap((y) =>
      [-120, 0, 120].map((x) => {
        const place = machine.center[0] + x;
        const z = zOn(faceOf(b), place, y) + 0.0012 * Math.sin(y / 90 + b) + scatter(0.0006);
        return `face-${b};${[place, y, z].map((v) => fixed(v, 4).replace(".", ",")).join(";")};${b}\n`;
      }),
    ),
  );
  return `\ufeff${header(keys)}feature;x;y;z;b\n${rows.join("")}`;
}

/** A reference ball on the pallet, touched nine times at each index; the log holds the centre of the probe's ball. */
function ball(): string {
  const keys = {
    ...JOB,
    operation: "10",
    plan: "column-seat",
    fixture: "COL-7",
    instrument: "probe-2",
    unit: "mm",
    points: "ball-center",
    "tip-diameter": "6 mm",
    frame: "machine",
    time: `${DAY}T07:55:00Z`,
  };
  const onPallet: V = [machine.center[0] + 105.3, 645, machine.center[2] + 160.7];
  const reach = 12.7 + 3;
  const rows = [0, 90, 180, 270].flatMap((b) => {
    const center = placeAt(machine, b, onPallet);
    const directions: V[] = [[0, 0, 1]];
    for (let k = 0; k < 8; k++) {
      const around = (k * Math.PI) / 4;
      const up = k % 2 === 0 ? 0.35 : 0.75;
      const flat = Math.sqrt(1 - up * up);
      directions.push([flat * Math.cos(around), flat * Math.sin(around), up]);
    }
    return directions.map((d) => {
      const r = reach + scatter(0.0006);
      return `ball-${b},${[0, 1, 2].map((i) => fixed(center[i]! + r * d[i]!, 4)).join(",")},${b}\n`;
    });
  });
  return `${header(keys)}feature,x,y,z,b\n${rows.join("")}`;
}

function columnSignOffs(): string {
  const keys = { ...JOB, operation: "10", plan: "column-seat", fixture: "COL-7" };
  return `${header(keys)}check,value,unit,by,time
seat-stoned,yes,,second shift,${DAY}T06:20:00Z
stops-touched,yes,,second shift,${DAY}T06:32:00Z
base-torque,120,N·m,second shift,${DAY}T07:15:00Z
`;
}

const CHUCK = { ...JOB, operation: "20", plan: "chuck-and-blank", part: "BR-21" };
/** Where the chuck's middle stands beside the spindle. */
const CHUCK_CENTER = [0.011, -0.006] as const;
const stations = Array.from({ length: 12 }, (_, i) => 30 * i);
const degrees = (angle: number): number => (angle * Math.PI) / 180;

/** Chuck rim and face swept by the spindle with an arm that hangs 0.02 mm low. */
function chuck(): string {
  const keys = {
    ...CHUCK,
    instrument: "lever-04",
    unit: "mm",
    sag: "0.020 mm",
    sign: "toward-plus",
    clamping: "torqued",
    time: `${DAY}T09:10:00Z`,
  };
  const wall = (t: number): readonly [number, number] => {
    const r = 125 + 0.0015 * Math.cos(3 * t);
    return [CHUCK_CENTER[0] + r * Math.cos(t), CHUCK_CENTER[1] + r * Math.sin(t)];
  };
  const arm = { radius: 125, sag: 0.02, surface: "boss" as const, noise, sigma: 0.0008 };
  const rim = sweepRim(wall, [...stations, 360], arm).map(
    ([angle, reading]) => `rim,${angle},${fixed(reading, 4)}\n`,
  );
  const face = [...stations, 360].map((a) => {
    const reading = 110 * (4e-5 * Math.cos(degrees(a)) - 2e-5 * Math.sin(degrees(a))) + scatter(0.0008);
    return `chuck-face,${a},${fixed(reading, 4)}\n`;
  });
  return `${header(keys)}sweep,angle,reading\n${rim.join("")}${face.join("")}`;
}

/** A sawn face, tilted and rough, touched in the middle and on two rings. */
function blank(): string {
  const keys = {
    ...CHUCK,
    instrument: "probe-2",
    unit: "mm",
    points: "surface",
    clamping: "clamped",
    time: `${DAY}T09:35:00Z`,
  };
  const places = [
    [0, 0],
    ...[30, 66].flatMap((r) =>
      [0, 60, 120, 180, 240, 300].map((a) => [r * Math.cos(degrees(a)), r * Math.sin(degrees(a))]),
    ),
  ];
  const raw = places.map(([x = 0, y = 0]) => {
    const z = 3.2 + 0.0075 * x - 0.004 * y + 0.05 * Math.sin(x / 9) * Math.cos(y / 7) + scatter(0.02);
    return `raw-face,${fixed(x, 3)},${fixed(y, 3)},${fixed(z, 3)}\n`;
  });
  const round = [-15, -45].flatMap((z) =>
    stations.map((a) => {
      const t = degrees(a);
      const r = 79.6 + 0.16 * Math.cos(2 * (t - 0.4)) + 0.05 * Math.cos(3 * t) + scatter(0.01);
      const [cx, cy] = [0.42 + 0.001 * z, -0.27];
      return `raw-round,${fixed(cx + r * Math.cos(t), 3)},${fixed(cy + r * Math.sin(t), 3)},${fixed(z, 3)}\n`;
    }),
  );
  return `${header(keys)}feature,x,y,z\n${raw.join("")}${round.join("")}`;
}

function chuckSignOffs(): string {
  return `${header(CHUCK)}check,value,unit,by,time
seat-stoned,yes,,day shift,${DAY}T08:40:00Z
chuck-torque,67.5,lbf·ft,day shift,${DAY}T08:55:00Z
blank-seated,yes,,day shift,${DAY}T09:30:00Z
`;
}

const FIRST = { ...JOB, operation: "30", plan: "first-side", part: "BR-21", serial: "BR-21-006" };

/** The faced and turned side, still in the jaws: three jaws have pressed three lobes into the wall. */
function firstSide(): string {
  const keys = {
    ...FIRST,
    instrument: "probe-2",
    unit: "mm",
    points: "surface",
    clamping: "clamped",
    temperature: "21.0 C",
    time: `${DAY}T11:20:00Z`,
  };
  const rings = [
    [0, 1],
    [36, 8],
    [70, 12],
  ] as const;
  const face = rings.flatMap(([r, count]) =>
    Array.from({ length: count }, (_, i) => {
      const a = (2 * Math.PI * i) / count;
      const [x, y] = [r * Math.cos(a), r * Math.sin(a)];
      return `face,${fixed(x, 4)},${fixed(y, 4)},${fixed(0.002 * (r / 70) ** 2 + 2e-6 * x + scatter(0.0006), 4)}\n`;
    }),
  );
  const wall = [-8, -24, -40].flatMap((z) =>
    stations.map((angle) => {
      const t = degrees(angle);
      const r = 77.006 + 0.0165 * Math.cos(3 * (t - 0.35)) + scatter(0.0008);
      const [cx, cy] = [0.0031 + 6e-5 * z, -0.0012 - 4e-5 * z];
      return `wall,${fixed(cx + r * Math.cos(t), 4)},${fixed(cy + r * Math.sin(t), 4)},${fixed(z, 4)}\n`;
    }),
  );
  return `${header(keys)}feature,x,y,z\n${face.join("")}${wall.join("")}`;
}

function firstSideSignOffs(): string {
  return `${header(FIRST)}check,value,unit,by,time
chips-cleared,yes,,day shift,${DAY}T11:15:00Z
`;
}

/** Every log of the scenario: path below sample-logs and text. */
export function scenarioLogs(): Readonly<Record<string, string>> {
  return {
    "1-column/as-found.csv": sweeps("as-found", 1.0e-4, 8.0e-5),
    "1-column/as-left.csv": sweeps("as-left", YAW, LEAN),
    "1-column/faces.csv": faces(),
    "1-column/ball.csv": ball(),
    "1-column/sign-offs.csv": columnSignOffs(),
    "2-chuck-and-blank/chuck.csv": chuck(),
    "2-chuck-and-blank/blank.csv": blank(),
    "2-chuck-and-blank/sign-offs.csv": chuckSignOffs(),
    "3-first-side/first-side.csv": firstSide(),
    "3-first-side/sign-offs.csv": firstSideSignOffs(),
  };
}
/** What was simulated, in mm and mm per mm, for tests. */
export const TRUTH = { machine, column, yaw: YAW, lean: LEAN, halfWidth: HALF_WIDTH, chuck: CHUCK_CENTER };
