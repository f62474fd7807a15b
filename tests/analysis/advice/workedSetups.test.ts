import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { weightKg } from "../../../src/analysis/weight.ts";
import { amountFor, askOne, logText, numberOf, planText, type Told } from "../../simulation/road.ts";

// Worked numbers of a setup in inches, from an independent calculation kept beside the other references.
const worked = JSON.parse(
  readFileSync(new URL("../../references/workedSetups.json", import.meta.url), "utf8"),
);
const IN = 25.4;
const inches = (value: number): number => value / IN;
const inchPlan = (features: readonly string[], advice: string, sense: 1 | -1 | null = 1): string =>
  planText({ features, advice: [advice], sense }).replace("unit: mm", "unit: in");
type Rows = readonly (readonly [number, number])[];
const sweep = (name: string, column: string, rows: Rows): string =>
  logText(
    `sweep,${column},reading`,
    rows.map((row) => [name, ...row] as const),
  );

describe("worked numbers", () => {
  it("square a face from two readings, with the screw and the indicator", () => {
    const { readings, stops, slope, move, indicatorAt, change, pitchMm, turnDegrees } = worked.squareUp;
    const told = askOne({
      plan: inchPlan(
        ["yaw: {fit: line, from: traverse, along: x, height: z}"],
        `{kind: square-up, of: yaw, stops: [{name: left, x: ${stops[0]} in}, {name: right, x: ${stops[1]} in, pitch: ${pitchMm} mm}], indicator: {x: ${indicatorAt} in}}`,
      ),
      logs: [sweep("yaw", "position", readings)],
    });
    expect(numberOf(told, "slopeX")).toBeCloseTo(slope, 12);
    expect(told.values.slopeY).toBeNull();
    expect(inches(amountFor(told, "right", "z"))).toBeCloseTo(move, 9);
    expect(told.moves[0]?.turnDegrees).toBeCloseTo(-turnDegrees, 1);
    const seen = told.expect?.values.change as { readonly mm: number } | undefined;
    expect(inches(seen?.mm ?? 0)).toBeCloseTo(change, 9);
    expect(told.headline.text).toBe("right: -0.041 mm along Z, away from the spindle, turn 8.4°");
    expect(numberOf(told, "rotary")).toBeCloseTo((Math.atan(slope) * 180) / Math.PI, 12);
  });
  it("shim a lean under the spindle-side edge", () => {
    const { slope, base, shim } = worked.lean;
    const told = askOne({
      plan: inchPlan(
        ["lean: {fit: line, from: traverse, along: y, height: z}"],
        `{kind: square-up, of: lean, stops: [{name: back, z: 0 in}, {name: front, z: ${base} in}]}`,
      ),
      logs: [
        sweep(
          "lean",
          "position",
          [0, 5, 10, 20].map((y) => [y, slope * y] as const),
        ),
      ],
    });
    expect(inches(amountFor(told, "front", "y"))).toBeCloseTo(shim, 9);
    expect(told.headline.text).toContain("up");
  });
  it("tell a chip from a lean and a lean from a chip, under an edge and a corner", () => {
    const { thickness, base, height, lean, cornerLean } = worked.chip;
    const told = askOne({
      plan: inchPlan(
        ["lean: {fit: line, from: traverse, along: y, height: z}"],
        `{kind: seat-check, of: lean, base: {x: ${base} in, z: ${base} in}, height: ${height} in, chip: ${thickness} in}`,
      ),
      logs: [
        sweep(
          "lean",
          "position",
          [0, 6, 12, 24].map((y) => [y, (lean / height) * y] as const),
        ),
      ],
    });
    expect(inches(numberOf(told, "chipLean"))).toBeCloseTo(lean, 12);
    expect(inches(numberOf(told, "leanOverHeight"))).toBeCloseTo(lean, 9);
    expect(inches(numberOf(told, "edgeThickness"))).toBeCloseTo(thickness, 9);
    expect(told.values.edge).toBe("-z");
    const corner = told.working.find((line) => line.text.startsWith("under a corner"));
    expect((corner?.values.lean as { readonly mm: number } | undefined)?.mm).toBeCloseTo(cornerLean * IN, 9);
    const metric = worked.chipMm;
    expect((metric.height * metric.thickness) / metric.base).toBeCloseTo(metric.lean, 12);
  });
  it("a chip as thick as paper shows as thousandths at the top (common practice, no source)", () => {
    const told = askOne({
      plan: inchPlan(
        ["lean: {fit: line, from: traverse, along: y, height: z}"],
        "{kind: seat-check, of: lean, base: {x: 16 in, z: 16 in}, height: 24 in, chip: 0.003 in}",
      ),
      logs: [
        sweep(
          "lean",
          "position",
          [0, 8, 16, 24].map((y) => [y, (-0.003 / 16) * y] as const),
        ),
      ],
    });
    expect(inches(numberOf(told, "chipLean"))).toBeCloseTo(0.0045, 9);
    expect(inches(numberOf(told, "edgeThickness"))).toBeCloseTo(0.003, 9);
    expect(told.values.edge).toBe("+z");
    expect(told.headline.text).not.toContain("too thin");
  });
  it("tram a face sweep", () => {
    const { radius, readings, slopeX, slopeY } = worked.faceSweep;
    const told = askOne({
      plan: inchPlan(
        [`face: {fit: plane, from: face-sweep, radius: ${radius} in}`],
        "{kind: square-up, of: face, rotary: b}",
      ),
      logs: [sweep("face", "angle", readings)],
    });
    expect(numberOf(told, "slopeX")).toBeCloseTo(slopeX, 12);
    expect(numberOf(told, "slopeY")).toBeCloseTo(slopeY, 12);
  });
  it("centre a rim sweep: the same readings of a bore and of a boss are opposite", () => {
    const { readings } = worked.rimSweep;
    for (const surface of ["bore", "boss"] as const) {
      const told = centred(surface, readings);
      expect(inches(numberOf(told, "x"))).toBeCloseTo(worked.rimSweep[surface][0], 6);
      expect(inches(numberOf(told, "y"))).toBeCloseTo(worked.rimSweep[surface][1], 6);
      expect(inches(2 * numberOf(told, "eccentricity"))).toBeCloseTo(worked.rimSweep.fittedMovement, 6);
      expect(amountFor(told, "part", "x")).toBeCloseTo(-numberOf(told, "x"), 12);
    }
  });
  it("take the sag off before moving", () => {
    const { sag, readings, apparentY, y } = worked.sag;
    expect(inches(numberOf(centred("bore", readings), "y"))).toBeCloseTo(apparentY, 6);
    expect(inches(numberOf(centred("bore", readings, `, sag: ${sag} in`), "y"))).toBeCloseTo(y, 6);
  });
  it("split a sweep into eccentricity, ovality and lobes", () => {
    const { readings, amplitudes, movement } = worked.harmonics;
    const told = centred(
      "boss",
      readings.map((value: number, i: number) => [30 * i, value] as const),
    );
    expect(inches(numberOf(told, "eccentricity"))).toBeCloseTo(amplitudes[0], 5);
    expect(inches(numberOf(told, "ovality"))).toBeCloseTo(2 * amplitudes[1], 5);
    expect(inches(numberOf(told, "lobing3"))).toBeCloseTo(2 * amplitudes[2], 5);
    expect(inches(numberOf(told, "fim"))).toBeCloseTo(movement, 9);
  });
  it("split four faces", () => {
    const of = worked.fourFace;
    const told = fourFaces(of, 1);
    for (const key of ["common", "seatX", "seatZ", "remainder", "yawCommon"])
      expect(numberOf(told, key), key).toBeCloseTo(of[key], 10);
    for (const b of [0, 90, 180, 270])
      expect(numberOf(told, `yawRemainder.${b}`)).toBeCloseTo(of.yawRemainder[b], 10);
    for (const b of [0, 90]) expect(inches(numberOf(told, `widths.${b}`))).toBeCloseTo(of.widths[b], 8);
    expect(inches(numberOf(told, "centerZ"))).toBeCloseTo(of.centerZ, 8);
    expect(inches(numberOf(told, "centerX"))).toBeCloseTo(of.centerX, 8);
    expect(numberOf(fourFaces(of, -1), "seatX")).toBeCloseTo(-of.seatX, 10);
    expect(inches(numberOf(fourFaces(of, -1), "centerX"))).toBeCloseTo(-of.centerX, 8);
  });
  it("find the centre of B, its sense and the wrong sense's residual", () => {
    const of = worked.rotation;
    const told = rotation(of);
    expect(inches(numberOf(told, "x"))).toBeCloseTo(of.x, 6);
    expect(inches(numberOf(told, "z"))).toBeCloseTo(of.z, 6);
    expect(inches(numberOf(told, "rms"))).toBeCloseTo(of.rms, 8);
    expect(told.values.bSense).toBe(1);
    const wrong = told.working.find((line) => line.text.startsWith("sense -1"));
    expect((wrong?.values.rms as { readonly mm: number } | undefined)?.mm).toBeCloseTo(
      of.wrongSenseRms * IN,
      4,
    );
    const circle = told.working.find((line) => line.text.startsWith("circle without the angles"));
    expect((circle?.values.z as { readonly mm: number } | undefined)?.mm).toBeCloseTo(of.circle[1] * IN, 4);
    const change = worked.effects.change;
    const moved = rotation(of, `, stored: {x: ${of.x - change} in, z: ${of.z} in}`);
    for (const b of ["90", "180", "270"]) {
      expect(inches(numberOf(moved, `effects.${b}.x`)), b).toBeCloseTo(worked.effects[b][0], 6);
      expect(inches(numberOf(moved, `effects.${b}.z`)), b).toBeCloseTo(worked.effects[b][1], 6);
    }
  });
  it("carry an offset round B and store a probed one", () => {
    const { from, center, to } = worked.carry;
    for (const [b, place] of Object.entries(to as Record<string, readonly number[]>)) {
      const told = askOne({
        plan: inchPlan(
          ["unused: {fit: point}"],
          `{kind: work-offset, from: {x: ${from[0]} in, z: ${from[1]} in}, b: ${b}, center: {x: ${center[0]} in, z: ${center[1]} in}}`,
        ),
        logs: [],
      });
      // The worked places are printed to four decimals.
      expect(Math.abs(inches(numberOf(told, "new.x")) - place[0]!), b).toBeLessThan(6e-5);
      expect(Math.abs(inches(numberOf(told, "new.z")) - place[1]!), b).toBeLessThan(6e-5);
    }
    const { old, nominal, measured, new: stored } = worked.offset;
    const told = askOne({
      plan: inchPlan(
        ["pin: {fit: point}"],
        `{kind: work-offset, of: pin, register: G54, old: {x: ${old} in}, nominal: {x: ${nominal} in}}`,
      ),
      logs: [logText("feature,x,y,z", [["pin", measured, 0, 0]])],
    });
    expect(inches(numberOf(told, "new.x"))).toBeCloseTo(stored, 9);
    expect(inches(amountFor(told, "G54", "x"))).toBeCloseTo(measured - nominal, 9);
    expect(told.expect?.text).toContain("X +50.8 mm");
  });
  it("face below the low spot and below what the rim is predicted to be", () => {
    const of = worked.faceCut;
    const places = [
      [0, 0],
      ...[0, 45, 90, 135, 180, 225, 270, 315].map((d) => [
        of.ring * Math.cos((d * Math.PI) / 180),
        of.ring * Math.sin((d * Math.PI) / 180),
      ]),
    ];
    const told = askOne({
      plan: inchPlan(
        ["sawn: {fit: plane, normal: [0, 0, 1]}"],
        `{kind: face-cut, of: sawn, below-low: 0.010 in, finish: 0.010 in, per-pass: 0.025 in, rim: {radius: ${of.radius} in}}`,
      ),
      logs: [
        logText(
          "feature,x,y,z",
          places.map(([x, y], i) => ["sawn", x!, y!, of.z[i]] as const),
        ),
      ],
    });
    for (const key of ["lowest", "rimLow", "rimHigh", "cutPlane", "deepest", "passDepth"])
      expect(inches(numberOf(told, key)), key).toBeCloseTo(of[key], 4);
    expect(told.values.passes).toBe(of.passes);
  });
  it("cuts 0.025 in below the low spot of a saw-cut face unless told (common practice, no source)", () => {
    const told = askOne({
      plan: inchPlan(["sawn: {fit: plane, normal: [0, 0, 1]}"], "{kind: face-cut, of: sawn}"),
      logs: [
        logText(
          "feature,x,y,z",
          [
            [-1, -1],
            [1, -1],
            [1, 1],
            [-1, 1],
          ].map(([x, y]) => ["sawn", x!, y!, 0.1 + 0.002 * x!] as const),
        ),
      ],
    });
    expect(inches(numberOf(told, "lowest") - numberOf(told, "cutPlane"))).toBeCloseTo(0.025, 9);
  });
  it("clean a bar up, from one height and from two", () => {
    const of = worked.cleanUp;
    for (const [finished, [here, best, heaviest]] of Object.entries(
      of.finished as Record<string, readonly number[]>,
    )) {
      const told = bar(
        "circle",
        of.points.map(([x, y]: readonly [number, number]) => [x, y, 0]),
        finished,
      );
      expect(inches(numberOf(told, "inscribedDiameter"))).toBeCloseTo(of.inscribedDiameter, 6);
      expect(inches(numberOf(told, "stockHere"))).toBeCloseTo(here!, 4);
      expect(inches(numberOf(told, "stockBest"))).toBeCloseTo(best!, 4);
      expect(inches(numberOf(told, "heaviest"))).toBeCloseTo(heaviest!, 4);
      expect(inches(amountFor(told, "work offset", "x"))).toBeCloseTo(of.bestCenter[0], 5);
      expect(inches(amountFor(told, "work offset", "y"))).toBeCloseTo(of.bestCenter[1], 5);
      expect(inches(numberOf(told, "unseenFlat"))).toBeCloseTo(1.6, 1);
    }
    expect(
      bar(
        "circle",
        of.points.map(([x, y]: readonly [number, number]) => [x, y, 0]),
        "6.1",
      ).values.cleansHere,
    ).toBe(false);
    const two = of.points.flatMap(([x, y]: readonly [number, number]) => [
      [x, y, 0],
      [x + of.twoHeights.shift, y, 1.5],
    ]);
    expect(inches(numberOf(bar("cylinder", two, "6.0"), "inscribedDiameter"))).toBeCloseTo(
      of.twoHeights.inscribedDiameter,
      6,
    );
  });
  it("map a thickness", () => {
    const of = worked.thickness;
    const rows = of.readings.map(
      ([d, t]: readonly [number, number]) =>
        [
          "map",
          (of.diameter / 2) * Math.cos((d * Math.PI) / 180),
          (of.diameter / 2) * Math.sin((d * Math.PI) / 180),
          t,
        ] as const,
    );
    const told = askOne({
      plan: inchPlan(["map: {fit: plane, from: map}"], "{kind: turned-over, map: map}"),
      logs: [logText("sweep,x,y,reading", rows)],
    });
    expect(numberOf(told, "wedgeX")).toBeCloseTo(of.wedgeX, 9);
    expect(numberOf(told, "wedgeY")).toBeCloseTo(of.wedgeY, 9);
    expect(numberOf(told, "thickAngle")).toBeCloseTo(of.thickAngle, 6);
    expect(inches(numberOf(told, "parallelism"))).toBeCloseTo(of.range, 9);
    expect(inches(numberOf(told, "thickness"))).toBeCloseTo(of.mean, 9);
    expect(told.working.some((line) => line.text.startsWith("cross sums"))).toBe(true);
  });
  it("weigh a round", () => {
    for (const { densityLbIn3, diameter, length, lb } of worked.weightLb) {
      const density = (densityLbIn3 * 0.45359237) / IN ** 3;
      expect(
        weightKg({ diameterMm: diameter * IN, lengthMm: length * IN }, density) / 0.45359237,
      ).toBeCloseTo(lb, 1);
    }
    // A 15 in round of Ti-6Al-4V that weighs about 150 lb is about 5.3 in thick (common practice, no source).
    const density = (0.16 * 0.45359237) / IN ** 3;
    const perInch = weightKg({ diameterMm: 15 * IN, lengthMm: IN }, density) / 0.45359237;
    expect(150 / perInch).toBeCloseTo(5.3, 1);
  });
});

function centred(surface: "bore" | "boss", readings: Rows, more = ""): Told {
  return askOne({
    plan: inchPlan(
      [`rim: {fit: circle, from: rim-sweep, radius: 3 in, surface: ${surface}}`],
      `{kind: centering, of: rim${more}}`,
    ),
    logs: [sweep("rim", "angle", readings)],
  });
}
interface FourFaces {
  readonly lean: Readonly<Record<number, number>>;
  readonly yaw: Readonly<Record<number, number>>;
  readonly heights: Readonly<Record<number, number>>;
}
function fourFaces(of: FourFaces, sense: 1 | -1): Told {
  const rows = [0, 90, 180, 270].flatMap((b) =>
    [-6, 0, 6].flatMap((x) =>
      [-10, 0, 10].map((y) => [`f${b}`, x, y, of.heights[b]! + of.yaw[b]! * x + of.lean[b]! * y] as const),
    ),
  );
  return askOne({
    plan: inchPlan(
      [0, 90, 180, 270].map((b) => `f${b}: {fit: plane, normal: [0, 0, 1]}`),
      "{kind: four-face, of: {0: f0, 90: f90, 180: f180, 270: f270}, height: 20 in}",
      sense,
    ),
    logs: [logText("feature,x,y,z", rows)],
  });
}
function rotation(
  of: { readonly places: Readonly<Record<string, readonly [number, number]>> },
  more = "",
): Told {
  const indices = ["0", "90", "180", "270"];
  return askOne({
    plan: inchPlan(
      indices.map((b) => `b${b}: {fit: point}`),
      `{kind: rotation-center, of: {${indices.map((b) => `${b}: b${b}`).join(", ")}}${more}}`,
      null,
    ),
    logs: [
      logText(
        "feature,x,y,z",
        indices.map((b) => [`b${b}`, of.places[b]![0], 0, of.places[b]![1]] as const),
        { frame: "machine" },
      ),
    ],
  });
}
function bar(fit: "circle" | "cylinder", points: readonly (readonly number[])[], finished: string): Told {
  const normal = fit === "circle" ? ", normal: [0, 0, 1]" : "";
  return askOne({
    plan: inchPlan(
      [`od: {fit: ${fit}, surface: boss${normal}}`],
      `{kind: clean-up, of: od, finished: ${finished} in}`,
    ),
    logs: [
      logText(
        "feature,x,y,z",
        points.map((p) => ["od", p[0]!, p[1]!, p[2]!] as const),
      ),
    ],
  });
}
