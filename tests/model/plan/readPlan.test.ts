import { describe, expect, test } from "vitest";
import { problemLine } from "../../../src/model/plan/problem.ts";
import { readPlan } from "../../../src/model/plan/readPlan.ts";
import { SAMPLE_KINDS } from "./sampleKinds.ts";

const read = (text: string, name = "column-seat.yaml") =>
  readPlan({ text, name, sha256: "ab", kinds: SAMPLE_KINDS });
function plan(text: string, name?: string) {
  const result = read(text, name);
  if (!result.ok) throw new Error(result.problems.map(problemLine).join("\n"));
  return result.plan;
}
const notes = (text: string) => {
  const result = read(text);
  return result.ok ? result.notes.map(problemLine) : ["refused"];
};
const HEAD = "plinth: 1\ndecision: {rule: simple}\n";

const FULL = `plinth: 1
name: column-seat
title: Fixture column on pallet 4
show: in
language: de
match: [COLUMN_*.csv]
decision: {rule: guarded, guard: 0.5}
machine: {name: 4, b-sense: +1, travel: {x: [-400 mm, 400 mm]}, straightness: 1 um}
instruments:
  spindle-probe: {uncertainty: 0.0008 mm, calibration-due: 2027-03-01, where: on-machine}
  indicator: {resolution: 0.0001 in, repeat: 1 um, max-error: 2 um}
logs:
  unit: mm
  instrument: spindle-probe
  columns: {x: "X-Ist", y: 2}
  skip-rows: 3
  constant: {z: 1 mm, feature: face-0}
  keep: {Typ: [touch, 2], Art: T}
  order: [{sweep: rim, angle: 90 deg}, {sweep: lean, position: 1 in}]
  frame: work
  sign: toward-minus
  decimal: comma
  separator: ";"
  points: ball-center
  tip-diameter: 6 mm
  lever-angle: 15 deg
features:
  face-0: {fit: plane, normal: [0, 0, 1]}
  rim: {fit: circle, from: rim-sweep, radius: 3 in, surface: boss, instrument: indicator}
  lean: {fit: line, from: traverse, along: y, height: z}
  bore-front: {fit: circle, surface: bore, points: surface}
  bore-back: {fit: circle, surface: bore, tip-diameter: 4 mm}
  bores: {fit: axis, through: [bore-front, bore-back]}
  od: {fit: cylinder}
characteristics:
  - {id: flat-0, kind: flatness, of: face-0, max: 0.012 mm, zone: least-squares}
  - {id: square-od, kind: perpendicularity, of: od, to: face-0, max: 0.001 in, length: 50 mm}
  - {id: od-size, kind: diameter, of: od, nominal: 240 mm, plus: 0.05 mm, minus: 0.02 mm}
  - {id: at-most, kind: diameter, of: od, nominal: 240 mm, plus: -0.01 mm}
  - {id: turn, kind: angle, of: face-0, to: lean, nominal: 90 deg, minus: 1 deg}
  - {id: off, kind: offset, of: rim, from: {x: 1 in}, max: 5 um}
  - {id: off-x, kind: offset, of: rim, from: bore-front, along: x, max: 5 um}
advice:
  - {kind: square-up, of: face-0, stops: [{name: 1, x: -200 mm, pitch: 1.75 mm}], pivot: left}
  - {kind: four-face, of: {0: face-0, 90: face-0}, height: 20 in}
  - {kind: re-seat, of: ledger, limit: 3 um}
  - {kind: re-seat, of: [rim, od], limit: 3 um}
sign-offs:
  - {id: seat-stoned, ask: Pallet and base stoned and wiped}
  - {id: chuck-torque, unit: N·m, min: 80, max: 95}
points: {plane: 4}
part: {temperature: 68 F, expansion: 11.5 um/m/K}
closure: face-0
closure-limit: 3 um
cross-sum-limit: 4 um
exclude:
  - {log: a.csv, feature: face-0, line: 9, reason: chip on the tip}
`;

describe("a plan that uses every key", () => {
  const full = plan(FULL);

  test("head, machine and instruments", () => {
    expect(full).toMatchObject({
      name: "column-seat",
      title: "Fixture column on pallet 4",
      show: "in",
      language: "de",
      match: ["COLUMN_*.csv"],
      decision: { rule: "guarded", guard: 0.5 },
      machine: { name: "4", bSense: 1, travel: { x: [-400, 400] }, straightnessMm: 0.001 },
      source: { name: "column-seat.yaml", text: FULL, sha256: "ab" },
    });
    expect(full.instruments).toEqual({
      "spindle-probe": {
        uncertaintyMm: 0.0008,
        resolutionMm: null,
        repeatMm: null,
        maxErrorMm: null,
        calibrationDue: "2027-03-01",
        where: "on-machine",
      },
      indicator: {
        uncertaintyMm: null,
        resolutionMm: 0.00254,
        repeatMm: 0.001,
        maxErrorMm: 0.002,
        calibrationDue: null,
        where: null,
      },
    });
  });

  test("logs", () => {
    expect(full.logs).toEqual({
      unit: "mm",
      instrument: "spindle-probe",
      columns: { x: "X-Ist", y: 2 },
      skipRows: 3,
      constant: { z: "1 mm", feature: "face-0" },
      keep: { Typ: ["touch", "2"], Art: ["T"] },
      order: [
        { sweep: "rim", position: null, angle: Math.PI / 2, x: null, y: null },
        { sweep: "lean", position: 25.4, angle: null, x: null, y: null },
      ],
      frame: "work",
      sign: "toward-minus",
      decimal: ",",
      separator: ";",
      points: "ball-center",
      tipDiameterMm: 6,
      leverAngleRad: Math.PI / 12,
    });
  });

  test("features in the order of the file", () => {
    expect(Object.keys(full.features)).toEqual("face-0 rim lean bore-front bore-back bores od".split(" "));
    expect(full.features.rim).toEqual({
      name: "rim",
      fit: "circle",
      normal: null,
      surface: "boss",
      from: "rim-sweep",
      radiusMm: 3 * 25.4,
      along: null,
      height: null,
      through: [],
      instrument: "indicator",
      points: null,
      tipDiameterMm: null,
    });
    expect(full.features.lean).toMatchObject({ from: "traverse", along: "y", height: "z" });
    expect(full.features["face-0"]?.normal).toEqual([0, 0, 1]);
    expect(full.features.bores?.through).toEqual(["bore-front", "bore-back"]);
    expect(full.features["bore-back"]?.tipDiameterMm).toBe(4);
  });

  test("characteristics with their limits", () => {
    expect(full.characteristics).toEqual([
      {
        id: "flat-0",
        kind: "flatness",
        of: "face-0",
        to: null,
        limits: { nominal: null, lower: null, upper: 0.012 },
        inputs: { zone: "least-squares" },
      },
      {
        id: "square-od",
        kind: "perpendicularity",
        of: "od",
        to: "face-0",
        limits: { nominal: null, lower: null, upper: 0.0254 },
        inputs: { length: 50 },
      },
      {
        id: "od-size",
        kind: "diameter",
        of: "od",
        to: null,
        limits: { nominal: 240, lower: 240 - 0.02, upper: 240 + 0.05 },
        inputs: {},
      },
      {
        id: "at-most",
        kind: "diameter",
        of: "od",
        to: null,
        limits: { nominal: 240, lower: null, upper: 240 - 0.01 },
        inputs: {},
      },
      {
        id: "turn",
        kind: "angle",
        of: "face-0",
        to: "lean",
        limits: { nominal: Math.PI / 2, lower: Math.PI / 2 - Math.PI / 180, upper: null },
        inputs: {},
      },
      {
        id: "off",
        kind: "offset",
        of: "rim",
        to: null,
        limits: { nominal: null, lower: null, upper: 0.005 },
        inputs: { from: { x: 25.4, y: null, z: null } },
      },
      {
        id: "off-x",
        kind: "offset",
        of: "rim",
        to: null,
        limits: { nominal: null, lower: -0.005, upper: 0.005 },
        inputs: { from: "bore-front", along: "x" },
      },
    ]);
  });

  test("advice, sign-offs and the rest", () => {
    expect(full.advice.map((entry) => entry.kind)).toEqual("square-up four-face re-seat re-seat".split(" "));
    expect(full.advice[0]?.inputs).toEqual({
      of: "face-0",
      stops: [{ name: "1", x: -200, pitch: 1.75 }],
      pivot: "left",
    });
    expect(full.advice[1]?.inputs).toEqual({ of: { 0: "face-0", 90: "face-0" }, height: 508 });
    expect(full.advice[2]?.inputs.of).toBe("ledger");
    expect(full.advice[3]?.inputs.of).toEqual(["rim", "od"]);
    expect(full.signOffs).toEqual([
      { id: "seat-stoned", ask: "Pallet and base stoned and wiped", unit: null, lower: null, upper: null },
      { id: "chuck-torque", ask: "chuck-torque", unit: "N·m", lower: 80, upper: 95 },
    ]);
    expect(full).toMatchObject({
      points: { plane: 4 },
      part: { temperatureC: 20, expansionPerK: 11.5e-6 },
      closure: ["face-0"],
      closureLimitMm: 0.003,
      crossSumLimitMm: 0.004,
      exclude: [{ log: "a.csv", feature: "face-0", line: 9, reason: "chip on the tip" }],
    });
  });
});

describe("what a plan need not say", () => {
  test("the least plan", () => {
    const least = plan("plinth: 1\ndecision: {rule: guarded}\n", "stock.yml");
    expect(least).toMatchObject({
      name: "stock",
      title: "stock",
      show: "mm",
      language: "en",
      decision: { rule: "guarded", guard: 1 },
      machine: { name: null, bSense: null, travel: {}, straightnessMm: null },
      characteristics: [],
      advice: [],
      signOffs: [],
      closure: [],
      exclude: [],
    });
    expect(least.logs.unit).toBeNull();
    expect(Object.keys(least.features)).toEqual([]);
  });

  test("under simple there is no guard band", () => expect(plan(HEAD).decision.guard).toBe(0));

  test("a section whose entries are commented out is empty", () => {
    const empty = plan(
      `${HEAD}features:\ncharacteristics:\n  # - {id: a}\nadvice:\nlogs:\nmachine:\nsign-offs: []\n`,
    );
    expect(empty.characteristics).toEqual([]);
    expect(empty.machine.name).toBeNull();
  });

  test("a byte order mark, CRLF and quoted keys change nothing", () => {
    const text = `\uFEFF"plinth": 1\r\n'decision': {"rule": "simple"}\r\nfeatures: {"face 0": {fit: plane}}\r\n`;
    expect(Object.keys(plan(text).features)).toEqual(["face 0"]);
  });
});

describe("names that look like something else", () => {
  test("numbers and truth values are names as they are written", () => {
    const odd = plan(
      `${HEAD}features:\n  007: {fit: plane}\n  1.0: {fit: plane}\n  on: {fit: plane}\n  true: {fit: plane}\ncharacteristics:\n` +
        "  - {id: 1, kind: flatness, of: 007, max: 1 um}\n  - {id: 2, kind: perpendicularity, of: 1.0, to: on, max: 1 um}\n" +
        "  - {id: 3, kind: flatness, of: true, max: 1 um}\n",
    );
    expect(odd.characteristics.map(({ id, of, to }) => [id, of, to])).toEqual([
      ["1", "007", null],
      ["2", "1.0", "on"],
      ["3", "true", null],
    ]);
  });

  test("a feature that nobody declared is not there, whatever objects inherit", () => {
    const { features } = plan(`${HEAD}features:\n  f: {fit: plane}\n`);
    for (const name of ["constructor", "toString", "hasOwnProperty"]) expect(features[name]).toBeUndefined();
    const named = plan(`${HEAD}features:\n  constructor: {fit: plane}\n`);
    expect(named.features.constructor).toMatchObject({ fit: "plane", name: "constructor" });
  });
});

describe("what is worth knowing although the plan is right", () => {
  const F = "features:\n  f: {fit: plane}\n  c: {fit: circle}\n";
  test.each<[string, string, string]>([
    [
      "guarded without any uncertainty",
      "plinth: 1\ndecision: {rule: guarded}\n",
      "2:11: no instrument states an uncertainty, so under rule guarded every verdict is undecided; add it under instruments",
    ],
    [
      "no limit",
      `${HEAD}${F}characteristics:\n  - {id: a, kind: flatness, of: f}\n`,
      "7:5: a flatness entry has no limit: its value is reported, the verdict is undecided",
    ],
    [
      "a lower limit above nominal",
      `${HEAD}${F}characteristics:\n  - {id: a, kind: diameter, of: c, nominal: 1 mm, plus: 2 um, minus: -1 um}\n`,
      '7:70: "minus" is negative: the lower limit, nominal - minus, lies above nominal',
    ],
    [
      "max of a signed value",
      `${HEAD}${F}characteristics:\n  - {id: a, kind: offset, of: c, from: f, along: x, max: 1 um}\n`,
      '7:58: with "along" the value has a sign: "max" bounds it on both sides',
    ],
    [
      "a unit that is not converted",
      `${HEAD}sign-offs:\n  - {id: a, unit: turns, max: 2}\n`,
      '4:19: "turns" is no unit that is converted; readings must carry the same word',
    ],
    [
      "uncertainty stated twice",
      `${HEAD}instruments:\n  probe: {uncertainty: 1 um, repeat: 1 um}\n`,
      '4:3: "uncertainty" is stated, so resolution, repeat and max-error are only printed',
    ],
  ])("%s", (_, text, note) => expect(notes(text)).toEqual([`column-seat.yaml:${note}`]));
});
