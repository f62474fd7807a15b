// The stated uncertainty must hold the true value in 90 to 99.5 % of simulated measurements: parts of known geometry,
// turned at random, touched with seeded noise, judged as in a report.
import { describe, expect, it } from "vitest";
import { points2, points3 } from "../../src/math/points.ts";
import { type SeededNoise, seededNoise } from "../../src/math/seededNoise.ts";
import { add, basis, scale, unit, type Vec3 } from "../../src/math/vector.ts";
import { zoneLine } from "../../src/math/zones/zoneLine.ts";
import { zonePlane } from "../../src/math/zones/zonePlane.ts";
import type { MeasuredFeature } from "../../src/model/measurement.ts";
import { grid, onlyCharacteristic, planOf, range, rimSweep, touched, traverse } from "./setting.ts";

const SIGMA = 0.001;
/** Standard deviation of a reading with the rough gauge. */
const ROUGH = 0.005;
const RUNS = 600;

interface Trial {
  readonly features: readonly MeasuredFeature[];
  readonly truth: number;
}
interface Simulation {
  readonly name: string;
  readonly plan: string;
  /** Fewer where each takes long. */
  readonly runs?: number;
  trial(noise: SeededNoise): Trial;
}

const jitter = (noise: SeededNoise, place: Vec3): Vec3 => [
  place[0] + SIGMA * noise.normal(),
  place[1] + SIGMA * noise.normal(),
  place[2] + SIGMA * noise.normal(),
];
const direction = (noise: SeededNoise, about: Vec3, tilt: number): Vec3 =>
  unit(add(about, [tilt * noise.normal(), tilt * noise.normal(), tilt * noise.normal()]));
const facePoints = (noise: SeededNoise, center: Vec3, normal: Vec3, count: number): Vec3[] => {
  const { u, v } = basis(normal);
  return range(count).map(() =>
    jitter(noise, add(center, add(scale(u, noise.between(-100, 100)), scale(v, noise.between(-100, 100))))),
  );
};
const ringPoints = (noise: SeededNoise, center: Vec3, axis: Vec3, radius: number, count: number): Vec3[] => {
  const { u, v } = basis(axis);
  return range(count).map((i) => {
    const a = (2 * Math.PI * i) / count + 0.1;
    return jitter(noise, add(center, add(scale(u, radius * Math.cos(a)), scale(v, radius * Math.sin(a)))));
  });
};
const rod = (noise: SeededNoise, center: Vec3, axis: Vec3, radius: number, rings = 4, each = 6): Vec3[] =>
  range(rings).flatMap((i) =>
    ringPoints(noise, add(center, scale(axis, (i - (rings - 1) / 2) * 25)), axis, radius, each),
  );

/** A face touched with the rough gauge on a grid of three by three, 200 mm wide. */
const roughFace = (noise: SeededNoise): MeasuredFeature =>
  touched(
    "a",
    grid(3, 100, () => ROUGH * noise.normal()),
    { instrument: "rough" },
  );

const FEATURES = `instruments: {probe: {uncertainty: 0.001 mm}, rough: {uncertainty: 0.005 mm}}
features:
  a: {fit: plane, normal: [0, 0, 1]}
  b: {fit: plane, normal: [0, 0, 1]}
  side: {fit: plane, normal: [1, 0, 0]}
  c: {fit: circle, normal: [0, 0, 1], surface: bore}
  d: {fit: circle, normal: [0, 0, 1], surface: bore}
  e: {fit: circle, normal: [0, 0, 1], surface: bore}
  rod: {fit: cylinder, normal: [0, 0, 1], surface: boss}
  rod2: {fit: cylinder, normal: [0, 0, 1], surface: boss}
  ball: {fit: sphere, surface: boss}
  lean: {fit: line, from: traverse, along: y, height: z}
  through: {fit: axis, through: [c, d]}
characteristics:
`;
const plan = (entry: string) => `${FEATURES}  - {id: it, ${entry}}\n`;
/** A small vector that is nil in a third of the trials and grows past the noise in the others. */
const nearNil = (noise: SeededNoise): number => [0, 0.0007, 0.004][noise.below(3)]!;

/** Lobes of a round, by the number of them and their height in mm: nil, and several times the noise. */
const LOBES = [
  [2, 0],
  [2, 0.005],
  [3, 0.015],
] as const;

/** A round in space whose touches lie off by lobes and by noise along the radius; `count` touches in `rings` rings. */
function lobedRound(noise: SeededNoise, count: number, rings: number): { places: Vec3[]; lobes: number } {
  const [number, lobes] = LOBES[noise.below(LOBES.length)]!;
  const each = count / rings;
  const places = range(count).map((i): Vec3 => {
    const a = (2 * Math.PI * (i % each)) / each;
    const r = 30 + (lobes / 2) * Math.cos(number * a) + SIGMA * noise.normal();
    return [r * Math.cos(a), r * Math.sin(a), 20 * Math.floor(i / each)];
  });
  return { places, lobes };
}

/** Inscribed and circumscribed sizes: the touches stand on the highest and the lowest place of each lobe. */
const SIZES: readonly Simulation[] = (["inscribed", "circumscribed"] as const).flatMap((size) =>
  (
    [
      ["c", 12, 1, 200],
      ["c", 48, 1, 200],
      ["c", 192, 1, 200],
      ["rod", 72, 3, 40],
    ] as const
  ).map(([of, count, rings, runs]) => ({
    name: `${size} diameter of a round and of lobed rounds, ${count} touches in ${rings}`,
    runs,
    plan: plan(`kind: diameter, of: ${of}, size: ${size}, nominal: 60 mm, plus: 1 mm, minus: 1 mm`),
    trial(noise: SeededNoise): Trial {
      const { places, lobes } = lobedRound(noise, count, rings);
      return {
        features: [touched(of, places)],
        truth: 60 + (size === "inscribed" ? -lobes : lobes),
      };
    },
  })),
);

/** Faces by their rise over -1 to 1 in both directions, each with the part of it that is flatness. */
const FACES: readonly ((x: number, y: number) => number)[] = [
  () => 0,
  (x) => -x * x,
  (x, y) => (x * x + y * y) / 2,
  (x, y) => (x * y) / 2,
];

const FORMS: readonly Simulation[] = [
  ...[4, 6, 12].map((size) => ({
    name: `flatness of level, bowed, dished and twisted faces, ${size} by ${size}`,
    runs: 200,
    plan: plan("kind: flatness, of: a, max: 1 mm"),
    trial(noise: SeededNoise): Trial {
      const form = FACES[noise.below(FACES.length)]!;
      const face = (rise: number, scatter: number) =>
        grid(size, 2 / (size - 1), (x, y) => rise * form(x, y) + scatter * noise.normal()).map(
          ([x, y, z]): Vec3 => [75 * x, 50 * y, z],
        );
      const rise = [0.005, 0.02][noise.below(2)]!;
      const exact = zonePlane(points3(face(rise, 0)), { about: [0, 0, 1] });
      return { features: [touched("a", face(rise, SIGMA))], truth: exact.ok ? exact.width : Number.NaN };
    },
  })),
  ...(
    [
      ["roundness", "c", 24, 1, 200],
      ["roundness", "c", 96, 1, 200],
      ["roundness", "rod", 72, 3, 40],
      ["cylindricity", "rod", 36, 3, 60],
    ] as const
  ).map(([kind, of, count, rings, runs]) => ({
    name: `${kind} of a round and of lobed rounds, ${count} touches in ${rings}`,
    runs,
    plan: plan(`kind: ${kind}, of: ${of}, max: 1 mm`),
    trial(noise: SeededNoise): Trial {
      const { places, lobes } = lobedRound(noise, count, rings);
      return { features: [touched(of, places)], truth: lobes };
    },
  })),
  {
    name: "straightness of straight, bowed and waved lines, 40 readings",
    runs: 200,
    plan: plan("kind: straightness, of: lean, max: 1 mm"),
    trial(noise) {
      const rise = [0, 0.01, 0.03][noise.below(3)]!;
      const waves = 1 + 2 * noise.below(2);
      const y = range(41).map((i) => i * 10);
      const height = (at: number) => (rise / 2) * Math.cos((Math.PI * waves * (at - 200)) / 400);
      const exact = zoneLine(points2(y.map((at) => [at, height(at)])), { about: [1, 0] });
      return {
        features: [
          traverse(
            "lean",
            y,
            y.map((at) => height(at) + SIGMA * noise.normal()),
          ),
        ],
        truth: exact.ok ? exact.width : Number.NaN,
      };
    },
  },
];

const SIMULATIONS: readonly Simulation[] = [
  {
    name: "tilt of a plane",
    plan: plan("kind: tilt, of: a, along: x, per: 100 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm"),
    trial(noise) {
      const normal = direction(noise, [0, 0, 1], 0.001);
      return {
        features: [touched("a", facePoints(noise, [0, 0, 5], normal, 9))],
        truth: (-normal[0] / normal[2]) * 100,
      };
    },
  },
  {
    name: "tilt of a traverse of three readings",
    plan: plan("kind: tilt, of: lean, along: y, per: 100 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm"),
    trial(noise) {
      const slope = 1e-4 * noise.normal();
      const y = [0, 150, 300];
      return {
        features: [
          traverse(
            "lean",
            y,
            y.map((at) => slope * at + SIGMA * noise.normal()),
          ),
        ],
        truth: slope * 100,
      };
    },
  },
  {
    name: "diameter of a bore",
    plan: plan("kind: diameter, of: c, nominal: 100 mm, plus: 1 mm, minus: 1 mm"),
    trial(noise) {
      const axis = direction(noise, [0, 0, 1], 0.01);
      return { features: [touched("c", ringPoints(noise, [3, 4, 5], axis, 50, 8))], truth: 100 };
    },
  },
  {
    name: "diameter of a rod",
    runs: 120,
    plan: plan("kind: diameter, of: rod, nominal: 100 mm, plus: 1 mm, minus: 1 mm"),
    trial: (noise) => ({
      features: [touched("rod", rod(noise, [3, 4, 5], direction(noise, [0, 0, 1], 0.01), 50, 3, 5))],
      truth: 100,
    }),
  },
  {
    name: "offset near nil",
    plan: plan("kind: offset, of: c, from: {x: 0 mm, y: 0 mm}, max: 1 mm"),
    trial(noise) {
      const truth = nearNil(noise);
      const angle = noise.between(0, 7);
      const center: Vec3 = [truth * Math.cos(angle), truth * Math.sin(angle), 5];
      return { features: [touched("c", ringPoints(noise, center, [0, 0, 1], 30, 6))], truth };
    },
  },
  {
    name: "signed offset",
    plan: plan("kind: offset, of: c, from: {x: 0 mm}, along: x, nominal: 0 mm, plus: 1 mm, minus: 1 mm"),
    trial(noise) {
      const truth = 0.01 * noise.normal();
      return { features: [touched("c", ringPoints(noise, [truth, 2, 5], [0, 0, 1], 30, 4))], truth };
    },
  },
  {
    name: "position near nil",
    plan: plan("kind: position, of: c, at: {x: 10 mm, y: 0 mm}, max: 1 mm"),
    trial(noise) {
      const by = nearNil(noise);
      return {
        features: [touched("c", ringPoints(noise, [10 + by, 0, 5], [0, 0, 1], 30, 7))],
        truth: 2 * by,
      };
    },
  },
  {
    name: "position of an axis near nil",
    plan: plan("kind: position, of: through, at: {x: 0 mm, y: 0 mm}, max: 1 mm"),
    trial(noise) {
      const by = nearNil(noise);
      return {
        features: [
          touched("c", ringPoints(noise, [by, 0, 0], [0, 0, 1], 30, 6)),
          touched("d", ringPoints(noise, [-by / 2, 0, 80], [0, 0, 1], 30, 6)),
        ],
        truth: 2 * by,
      };
    },
  },
  {
    name: "offset between two bores in space",
    plan: plan("kind: offset, of: c, from: d, max: 100 mm"),
    trial: (noise) => ({
      features: [
        touched("c", ringPoints(noise, [30, 40, 5], [0, 0, 1], 10, 6)),
        touched("d", ringPoints(noise, [0, 0, 5], [0, 0, 1], 10, 6)),
      ],
      truth: 50,
    }),
  },
  {
    name: "distance of two faces",
    plan: plan("kind: distance, of: b, to: a, nominal: 30 mm, plus: 1 mm, minus: 1 mm"),
    trial(noise) {
      const normal = direction(noise, [0, 0, 1], 0.001);
      const center: Vec3 = [0, 0, 5];
      const above = facePoints(noise, add(center, scale(normal, 30)), normal, 9);
      return {
        features: [touched("a", facePoints(noise, center, normal, 9)), touched("b", above)],
        truth: 30,
      };
    },
  },
  {
    name: "distance of a ball from a face that does not lie under it",
    plan: plan("kind: distance, of: ball, to: a, nominal: 30 mm, plus: 1 mm, minus: 1 mm"),
    trial(noise) {
      const normal = direction(noise, [0, 0, 1], 0.001);
      const { u } = basis(normal);
      const center = add(scale(normal, 30), scale(u, 200));
      const touches = range(12).map(() =>
        jitter(noise, add(center, scale(unit([noise.normal(), noise.normal(), noise.normal()]), 12))),
      );
      return {
        features: [touched("a", facePoints(noise, [0, 0, 0], normal, 12)), touched("ball", touches)],
        truth: 30,
      };
    },
  },
  {
    name: "angle of two faces, small",
    plan: plan("kind: angle, of: b, to: a, max: 1 deg"),
    trial(noise) {
      const tilt = nearNil(noise) / 100;
      const normal: Vec3 = unit([tilt, 0, 1]);
      return {
        features: [
          touched("a", facePoints(noise, [0, 0, 0], [0, 0, 1], 9)),
          touched("b", facePoints(noise, [0, 0, 9], normal, 9)),
        ],
        truth: (Math.atan(tilt) * 180) / Math.PI,
      };
    },
  },
  {
    name: "angle of two faces, right",
    plan: plan("kind: angle, of: side, to: a, nominal: 90 deg, plus: 1 deg, minus: 1 deg"),
    trial: (noise) => ({
      features: [
        touched("a", facePoints(noise, [0, 0, 0], [0, 0, 1], 9)),
        touched("side", facePoints(noise, [0, 0, 9], [1, 0, 0], 9)),
      ],
      truth: 90,
    }),
  },
  {
    name: "perpendicularity of a rod near nil",
    runs: 120,
    plan: plan("kind: perpendicularity, of: rod, to: a, max: 1 mm"),
    trial(noise) {
      const tilt = nearNil(noise) / 75;
      const axis = unit([tilt, 0, 1]);
      return {
        features: [
          touched("a", facePoints(noise, [0, 0, 0], [0, 0, 1], 12)),
          touched("rod", rod(noise, [0, 0, 60], axis, 40)),
        ],
        truth: 75 * Math.sin(Math.atan(tilt)),
      };
    },
  },
  {
    name: "perpendicularity of an axis through bores",
    plan: plan("kind: perpendicularity, of: through, to: a, max: 1 mm"),
    trial: (noise) => ({
      features: [
        touched("a", facePoints(noise, [0, 0, 0], [0, 0, 1], 12)),
        touched("c", ringPoints(noise, [0, 0, 10], [0, 0, 1], 30, 6)),
        touched("d", ringPoints(noise, [0.006, 0.008, 90], [0, 0, 1], 30, 6)),
      ],
      truth: 0.01,
    }),
  },
  {
    name: "parallelism of two rods near nil",
    runs: 120,
    plan: plan("kind: parallelism, of: rod, to: rod2, max: 1 mm"),
    trial(noise) {
      const tilt = nearNil(noise) / 75;
      return {
        features: [
          touched("rod", rod(noise, [0, 0, 60], unit([0, tilt, 1]), 40)),
          touched("rod2", rod(noise, [200, 0, 60], [0, 0, 1], 40)),
        ],
        truth: 75 * Math.sin(Math.atan(tilt)),
      };
    },
  },
  {
    name: "coaxiality near nil",
    runs: 120,
    plan: plan("kind: coaxiality, of: rod, to: rod2, max: 1 mm"),
    trial(noise) {
      const by = nearNil(noise);
      return {
        features: [
          touched("rod", rod(noise, [by, 0, 160], [0, 0, 1], 40)),
          touched("rod2", rod(noise, [0, 0, 60], [0, 0, 1], 40)),
        ],
        truth: 2 * by,
      };
    },
  },
  {
    name: "eccentricity near nil",
    plan: plan("kind: eccentricity, of: c, max: 1 mm"),
    trial(noise) {
      const by = nearNil(noise);
      return { features: [touched("c", ringPoints(noise, [0, by, 400], [0, 0, 1], 40, 12))], truth: by };
    },
  },
  {
    name: "lobing near nil",
    plan: plan("kind: lobing, of: c, n: 3, max: 1 mm"),
    trial(noise) {
      const by = nearNil(noise);
      const places = range(12).map((i): Vec3 => {
        const a = (2 * Math.PI * i) / 12;
        const r = 40 + (by / 2) * Math.cos(3 * a);
        return jitter(noise, [r * Math.cos(a), r * Math.sin(a), 0]);
      });
      return { features: [touched("c", places)], truth: by };
    },
  },
  {
    name: "flatness of a flat and of a dished face",
    plan: plan("kind: flatness, of: a, max: 1 mm"),
    trial(noise) {
      const rise = [0, 0.01, 0.03][noise.below(3)]!;
      const places = range(25).map((i): Vec3 => {
        const [x, y] = [((i % 5) - 2) * 50, (Math.floor(i / 5) - 2) * 50];
        return [x, y, (rise * (x * x + y * y)) / 20_000 + SIGMA * noise.normal()];
      });
      return { features: [touched("a", places)], truth: rise };
    },
  },
  {
    name: "roundness of a round and of an oval bore",
    plan: plan("kind: roundness, of: c, max: 1 mm"),
    trial(noise) {
      const oval = [0, 0.01, 0.03][noise.below(3)]!;
      const places = range(16).map((i): Vec3 => {
        const a = (2 * Math.PI * i) / 16;
        const r = 40 + (oval / 2) * Math.cos(2 * a) + SIGMA * noise.normal();
        return [r * Math.cos(a), r * Math.sin(a), 0];
      });
      return { features: [touched("c", places)], truth: oval };
    },
  },
  {
    name: "runout of a sweep off centre",
    plan: plan("kind: runout, of: e, max: 1 mm").replace(
      "e: {fit: circle,",
      "e: {fit: circle, from: rim-sweep, radius: 50 mm,",
    ),
    trial(noise) {
      const off = [0, 0.01, 0.03][noise.below(3)]!;
      const readings = range(12).map(
        (i) => (off / 2) * Math.cos((2 * Math.PI * i) / 12) + SIGMA * noise.normal(),
      );
      return { features: [rimSweep("e", readings, { radius: 50, bore: true })], truth: off };
    },
  },
  {
    name: "straightness of a straight and of a bowed line",
    plan: plan("kind: straightness, of: lean, max: 1 mm"),
    trial(noise) {
      const bow = [0, 0.01, 0.03][noise.below(3)]!;
      const y = range(9).map((i) => i * 50);
      const heights = y.map((at) => 4 * bow * (at / 400) * (1 - at / 400) + SIGMA * noise.normal());
      return { features: [traverse("lean", y, heights)], truth: bow };
    },
  },
  {
    name: "parallelism of two faces",
    plan: plan("kind: parallelism, of: b, to: a, max: 1 mm"),
    trial(noise) {
      const wedge = [0, 0.02, 0.05][noise.below(3)]!;
      const places = range(9).map((i): Vec3 => {
        const [x, y] = [((i % 3) - 1) * 100, (Math.floor(i / 3) - 1) * 100];
        return [x, y, 30 + (wedge * x) / 200 + SIGMA * noise.normal()];
      });
      return {
        features: [touched("a", facePoints(noise, [0, 0, 0], [0, 0, 1], 16)), touched("b", places)],
        truth: wedge,
      };
    },
  },
  {
    name: "perpendicularity of a face",
    plan: plan("kind: perpendicularity, of: side, to: a, max: 1 mm"),
    trial(noise) {
      const lean = [0, 0.02, 0.05][noise.below(3)]!;
      const places = range(9).map((i): Vec3 => {
        const [y, z] = [((i % 3) - 1) * 100, (Math.floor(i / 3) - 1) * 100];
        return [(lean * z) / 200 + SIGMA * noise.normal(), y, z];
      });
      return {
        features: [touched("a", facePoints(noise, [0, 0, 0], [0, 0, 1], 16)), touched("side", places)],
        truth: lean,
      };
    },
  },
  ...SIZES,
  ...FORMS,
  ...(
    [
      ["parallelism", "b", (x: number, y: number): Vec3 => [x, y, 30]],
      ["perpendicularity", "side", (x: number, y: number): Vec3 => [90, x, y]],
    ] as const
  ).map(([kind, of, place]) => ({
    name: `${kind} of a fine face to a datum touched with a rough gauge`,
    plan: plan(`kind: ${kind}, of: ${of}, to: a, max: 1 mm`),
    trial(noise: SeededNoise): Trial {
      const lean = [0, 0.002, 0.03][noise.below(3)]!;
      const places = grid(3, 100, () => 0).map(([x, y]): Vec3 => {
        const [at, along] = [place(x, y), (lean * y) / 200 + SIGMA * noise.normal()];
        return kind === "parallelism" ? [at[0], at[1], at[2] + along] : [at[0] + along, at[1], at[2]];
      });
      return { features: [roughFace(noise), touched(of, places)], truth: lean };
    },
  })),
];

describe("the uncertainty holds the truth in 90 to 99.5 % of simulated parts", () => {
  it.each(SIMULATIONS)("$name", ({ plan: text, trial, runs = RUNS }) => {
    const read = planOf(text);
    const noise = seededNoise(2207);
    let inside = 0;
    for (let run = 0; run < runs; run++) {
      const { features, truth } = trial(noise);
      const entry = onlyCharacteristic(read, features);
      const [value, uncertainty] = [entry.value ?? Number.NaN, entry.uncertainty ?? Number.NaN];
      expect(Number.isFinite(uncertainty)).toBe(true);
      if (Math.abs(value - truth) <= uncertainty) inside++;
    }
    expect(inside / runs).toBeGreaterThanOrEqual(0.9);
    // That all of a few runs are inside says nothing.
    if (runs >= 120) expect(inside / runs).toBeLessThanOrEqual(0.995);
  });
});
