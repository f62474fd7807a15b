// A report with every fit and every kind of characteristic of every feature it may be asked of, straight from the shelves.
import type { CharacteristicKind } from "../../src/analysis/characteristics/contract.ts";
import { characteristicKinds } from "../../src/analysis/characteristics/index.ts";
import { fitKinds } from "../../src/analysis/features/index.ts";
import { finishReport } from "../../src/analysis/finishReport.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import { add, scale, unit, type Vec3 } from "../../src/math/vector.ts";
import type { MeasuredFeature } from "../../src/model/measurement.ts";
import type { Plan } from "../../src/model/plan/plan.ts";
import type { SetupReport } from "../../src/model/setupReport.ts";
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

const noise = seededNoise(7);
const rough = (places: readonly Vec3[]): Vec3[] =>
  places.map((place) => add(place, scale([noise.normal(), noise.normal(), noise.normal()], 0.002)));
const ballAt = (center: Vec3): Vec3[] =>
  range(20).map((i) => add(center, scale(unit([Math.sin(3 * i), Math.cos(5 * i), Math.sin(i) + 0.2]), 25)));
const tube = (radius: number, [x, y, z]: Vec3): Vec3[] =>
  [0, 25, 50].flatMap((height) => ring(8, () => radius, [x, y, z + height]));

/** Two features of each fit, so that each can be the datum of the other. */
const PLANNED: Readonly<Record<string, readonly [string, string]>> = {
  plane: ["normal: [0, 0, 2]", ""],
  line: ["from: traverse, along: y, height: z", "from: traverse, along: y, height: z"],
  circle: ["surface: bore", "surface: boss"],
  cylinder: ["normal: [0, 0, 1], surface: boss", "normal: [0, 0, 1], surface: bore"],
  sphere: ["surface: boss", ""],
  point: ["", ""],
  axis: ["through: [circle-1, circle-2]", "through: [circle-1, sphere-1]"],
};
const SWEPT = `  rim: {fit: circle, from: rim-sweep, radius: 100 mm, surface: bore}
  turned-face: {fit: plane, from: face-sweep, radius: 90 mm, normal: [0, 0, 1]}
`;
export const FEATURES = `instruments:
  probe: {uncertainty: 0.001 mm, calibration-due: 2027-03-01, where: on-machine}
  lever: {uncertainty: 0.002 mm}
logs: {instrument: probe}
features:
${fitKinds
  .flatMap(({ fit }) =>
    (PLANNED[fit] ?? []).map(
      (more, i) => `  ${fit}-${i + 1}: {fit: ${fit}${more === "" ? "" : `, ${more}`}}\n`,
    ),
  )
  .join("")}${SWEPT}`;

const readings = range(12).map((i) => 0.01 * Math.cos((2 * Math.PI * i) / 12));
export const MEASURED: readonly MeasuredFeature[] = [
  touched("plane-1", rough(grid(4, 40, (x) => 0.3 * x))),
  touched("plane-2", rough(grid(4, 40, () => 0))),
  traverse(
    "line-1",
    range(8).map((i) => i * 20),
    range(8).map((i) => 0.001 * (i % 3)),
    { instrument: "lever" },
  ),
  traverse(
    "line-2",
    range(8).map((i) => i * 20),
    range(8).map((i) => 0.002 * (i % 2)),
  ),
  touched("circle-1", rough(ring(12, () => 35, [4, 5, 6]))),
  touched("circle-2", rough(ring(12, () => 20, [4, 5, 90]))),
  touched("cylinder-1", rough(tube(35, [4, 5, 0]))),
  touched("cylinder-2", rough(tube(20, [4, 5, 80]))),
  touched("sphere-1", rough(ballAt([4, 5, 200]))),
  touched("sphere-2", rough(ballAt([90, 5, 200]))),
  touched("point-1", rough([[1, 2, 3]])),
  touched("point-2", rough([[7, 8, 9]])),
  rimSweep("rim", readings, { bore: true }),
  swept(
    "turned-face",
    "face-sweep",
    ring(12, () => 90).map(([x, y], i): Vec3 => [x, y, readings[i] ?? 0]),
    readings,
    {
      station: range(12).map((i) => (2 * Math.PI * i) / 12),
    },
  ),
];

/** Keys that a kind asks for, in each way that changes how it stands in a document. A kind without an entry needs none. */
const INPUTS: Readonly<Record<string, readonly string[]>> = {
  flatness: ["", "zone: least-squares"],
  angularity: ["angle: 10 deg"],
  tilt: ["along: x, per: 10 mm", "along: y"],
  distance: ["along: z", "along: x"],
  diameter: ["", "size: inscribed", "size: circumscribed"],
  offset: ["from: {x: 0 mm}", "from: circle-2", "from: circle-2, along: y"],
  position: ["at: {x: 0 mm, y: 0 mm}", "at: {x: 0 mm, y: 0 mm, z: 0 mm}", "at: {x: 0 mm}"],
  lobing: ["n: 2"],
};
const LIMITS = (kind: CharacteristicKind): readonly string[] => {
  const measure = kind.limitDimension === "angle" ? "deg" : "mm";
  const max = `max: 9 ${measure}`;
  const signed = `nominal: 0 ${measure}, plus: 9 ${measure}, minus: 9 ${measure}`;
  return { max: [max], signed: [signed], either: [max, signed] }[kind.limit];
};
/** One entry for each kind, feature, datum, set of keys and sort of limit, and one without any limit. */
function entriesOf(kind: CharacteristicKind): string[] {
  const pairs = kind.of.flatMap((of) => [
    ...kind.to.map((to) => `of: ${of}-1, to: ${to}-2`),
    ...(kind.toRequired ? [] : [`of: ${of}-1`]),
  ]);
  const limits = LIMITS(kind);
  const asked = pairs.flatMap((pair) =>
    (INPUTS[kind.kind] ?? [""]).flatMap((inputs) => limits.map((limit) => [pair, inputs, limit])),
  );
  const unlimited = [pairs[0] ?? "", INPUTS[kind.kind]?.[0] ?? ""];
  return [...asked, unlimited].map((parts) => parts.filter((part) => part !== "").join(", "));
}
const SWEPT_ENTRIES = ["of: rim, max: 9 mm", "of: turned-face, max: 9 mm"].map(
  (entry, i) => `  - {id: runout-swept-${i}, kind: runout, ${entry}}\n`,
);
export const everything: { readonly plan: Plan; readonly text: string } = (() => {
  const entries = characteristicKinds.flatMap((kind) =>
    entriesOf(kind).map((entry, i) => `  - {id: ${kind.kind}-${i}, kind: ${kind.kind}, ${entry}}\n`),
  );
  const text = `${FEATURES}characteristics:\n${entries.join("")}${SWEPT_ENTRIES.join("")}`;
  return { plan: planOf(text), text };
})();

const SETUP = { job: "J-1", operation: "10", serial: "S-17", operator: "second shift" };
/** The report of that plan, with these features measured. */
export const reportOf = (measured: readonly MeasuredFeature[], plan: Plan = everything.plan): SetupReport =>
  finishReport(report(plan, measured, { setup: SETUP, logs: [log("faces.csv")] }));
