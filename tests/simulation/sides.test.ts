// Surfaces that look towards a minus axis, read by an indicator that stands outside them and by a probe.
import { describe, expect, it } from "vitest";
import { seededNoise } from "../../src/math/seededNoise.ts";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { makeReports } from "../../src/records/makeReports.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { signed } from "./machine.ts";
import { amountFor, askOne, logText, numberOf, planText } from "./road.ts";
import { type Flat, flatIn, type Pose, setDownOn } from "./solid.ts";

/** How far out along an axis a flat lies at a place given by the other two axes. */
function placeOn(flat: Flat, axis: 0 | 2, at: readonly [number, number, number]): number {
  const rest = [0, 1, 2].filter((i) => i !== axis);
  const across = rest.reduce((sum, i) => sum + flat.normal[i]! * (at[i]! - flat.at[i]!), 0);
  return flat.at[axis] - across / flat.normal[axis];
}
/** What an indicator outside the material shows there: plus is the surface coming towards it. */
const shown = (flat: Flat, axis: 0 | 2, at: readonly [number, number, number]): number =>
  Math.sign(flat.normal[axis]) * (placeOn(flat, axis, at) - flat.at[axis]);

function report(plan: string, logs: readonly string[]): SetupReport {
  const files = logs.map((text, i) => {
    const bytes = new TextEncoder().encode(
      `# job: J\n# unit: mm\n# sign: toward-plus\n# points: surface\n${text}`,
    );
    return { name: `${i}.csv`, bytes, sha256: sha256Of(bytes) };
  });
  const made = makeReports(files, {
    plan: planFromText({ text: plan, name: "sides.yaml", sha256: sha256Of(plan) }),
    issued: "2026-11-25T07:00:00Z",
  });
  expect(made.rejected).toEqual([]);
  return made.reports[0]!;
}
const characteristicOf = (made: SetupReport, id: string): number =>
  made.characteristics.find((one) => one.id === id)?.value ?? Number.NaN;

const HEIGHTS = [0, 100, 200, 300, 400, 500];

describe("a tilted flank", () => {
  it.each([-1, 1] as const)("on the side %i of X has one tilt, by indicator and by probe", (side) => {
    for (let seed = 1; seed <= 20; seed++) {
      const lean = signed(seededNoise(seed), 1e-4, 1e-3);
      // The top leans towards +X by `lean`, whichever side is read.
      const flank: Flat = { at: [side * 200, 0, 0], normal: [side, -side * lean, 0] };
      const normal = `normal: [${side}, 0, 0]`;
      const plan = `plinth: 1
name: sides
decision: {rule: simple}
features:
  swept: {fit: line, from: traverse, along: y, height: x, ${normal}}
  touched: {fit: line, along: y, height: x, ${normal}}
characteristics:
  - {id: swept-lean, kind: tilt, of: swept, along: y, per: 500 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm}
  - {id: touched-lean, kind: tilt, of: touched, along: y, per: 500 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm}
`;
      const made = report(plan, [
        logText(
          "sweep,position,reading",
          HEIGHTS.map((y) => ["swept", y, shown(flank, 0, [0, y, 0])]),
        ),
        logText(
          "feature,x,y,z",
          HEIGHTS.map((y) => ["touched", placeOn(flank, 0, [0, y, 0]), y, 0]),
        ),
      ]);
      expect(characteristicOf(made, "touched-lean"), `seed ${seed}`).toBeCloseTo(500 * lean, 6);
      expect(characteristicOf(made, "swept-lean"), `seed ${seed}`).toBeCloseTo(500 * lean, 6);
    }
  });
});

describe("a face that looks towards minus Z", () => {
  it("has one tilt by map, by face sweep and by probe, and no angle between them", () => {
    const back: Flat = { at: [0, 0, -300], normal: [2e-4, -3e-4, -1] };
    const places = [-100, 0, 100].flatMap((x) => [-100, 0, 100].map((y) => [x, y] as const));
    const angles = [0, 45, 90, 135, 180, 225, 270, 315];
    const plan = `plinth: 1
name: sides
decision: {rule: simple}
features:
  mapped: {fit: plane, from: map, normal: [0, 0, -1]}
  round: {fit: plane, from: face-sweep, radius: 80 mm, normal: [0, 0, -1]}
  touched: {fit: plane, normal: [0, 0, -1]}
characteristics:
${["mapped", "round", "touched"].map((of) => `  - {id: ${of}-x, kind: tilt, of: ${of}, along: x, per: 100 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm}`).join("\n")}
  - {id: turn, kind: angle, of: mapped, to: touched, max: 1 deg}
`;
    const made = report(plan, [
      logText(
        "sweep,x,y,reading",
        places.map(([x, y]) => ["mapped", x, y, shown(back, 2, [x, y, 0])]),
      ),
      logText(
        "sweep,angle,reading",
        angles.map((angle) => {
          const a = (angle * Math.PI) / 180;
          return ["round", angle, shown(back, 2, [80 * Math.cos(a), 80 * Math.sin(a), 0])];
        }),
      ),
      logText(
        "feature,x,y,z",
        places.map(([x, y]) => ["touched", x, y, placeOn(back, 2, [x, y, 0])]),
      ),
    ]);
    for (const id of ["mapped-x", "round-x", "touched-x"])
      expect(characteristicOf(made, id), id).toBeCloseTo(0.02, 6);
    expect(characteristicOf(made, "turn")).toBeCloseTo(0, 6);
  });

  it("comes out straight when its stops are moved as told, and an indicator behind it shows what was said", () => {
    const plan = planText({
      features: ["back: {fit: line, from: traverse, along: x, height: z, normal: [0, 0, -1]}"],
      advice: [
        "{kind: square-up, of: back, stops: [{name: left, x: -200 mm}, {name: right, x: 200 mm}], pivot: left, indicator: {x: 150 mm}}",
      ],
    });
    for (let seed = 1; seed <= 20; seed++) {
      const turned = signed(seededNoise(seed), 3e-4, 2e-3);
      const faceOn = (left: number, right: number): Flat => ({
        at: [-200, 0, left - 300],
        normal: [(right - left) / 400, 0, -1],
      });
      const [left, right] = [-200 * turned, 200 * turned];
      const read = (flat: Flat) =>
        askOne({
          plan,
          logs: [
            logText(
              "sweep,position,reading",
              [-150, -75, 0, 75, 150].map((x) => ["back", x, shown(flat, 2, [x, 0, 0])]),
            ),
          ],
        });
      const before = read(faceOn(left, right));
      expect(numberOf(before, "slopeX"), `seed ${seed}`).toBeCloseTo(turned, 9);
      const moved = right + amountFor(before, "right", "z");
      expect(numberOf(read(faceOn(left, moved)), "slopeX"), `seed ${seed}`).toBeCloseTo(0, 9);
      const change = before.expect?.values.change as { readonly mm: number };
      const nearer = -(
        placeOn(faceOn(left, moved), 2, [150, 0, 0]) - placeOn(faceOn(left, right), 2, [150, 0, 0])
      );
      expect(change.mm).toBeCloseTo(nearer, 6);
    }
  });
});

describe("debris under a column, told by its front and its flank on minus X", () => {
  it.each(["+x", "-x"] as const)("under the edge %s is found there", (edge) => {
    const chip = 0.04;
    const sides = { "+x": [chip, 0], "-x": [0, chip] } as const;
    const [plus, minus] = sides[edge];
    const pose: Pose = setDownOn([200, plus, 200], [200, plus, -200], [-200, minus, 0]);
    const [front, flank] = [
      flatIn(pose, { at: [0, 0, 200], normal: [0, 0, 1] }),
      flatIn(pose, { at: [-200, 0, 0], normal: [-1, 0, 0] }),
    ];
    const told = askOne({
      plan: planText({
        features: [
          "front: {fit: line, from: traverse, along: y, height: z, normal: [0, 0, 1]}",
          "flank: {fit: line, from: traverse, along: y, height: x, normal: [-1, 0, 0]}",
        ],
        advice: [
          "{kind: seat-check, of: front, second: flank, base: {x: 400 mm, z: 400 mm}, height: 500 mm}",
        ],
      }),
      logs: [
        logText("sweep,position,reading", [
          ...HEIGHTS.map((y) => ["front", y, shown(front, 2, [0, y, 0])] as const),
          ...HEIGHTS.map((y) => ["flank", y, shown(flank, 0, [0, y, 0])] as const),
        ]),
      ],
    });
    expect(told.values.edge).toBe(edge);
    expect(numberOf(told, "edgeThickness")).toBeCloseTo(chip, 5);
  });
});

describe("a map of thickness on a part that lies face down", () => {
  it("is as thick as its readings say", () => {
    const told = askOne({
      plan: planText({
        features: ["map: {fit: plane, from: map, normal: [0, 0, -1]}"],
        advice: ["{kind: turned-over, map: map}"],
      }),
      logs: [
        logText(
          "sweep,x,y,reading",
          [-50, 0, 50].flatMap((x) => [-50, 0, 50].map((y) => ["map", x, y, 20 + x / 1000] as const)),
        ),
      ],
    });
    expect(numberOf(told, "thickness")).toBeCloseTo(20, 6);
    expect(numberOf(told, "wedgeX")).toBeCloseTo(0.001, 9);
    expect(numberOf(told, "thickAngle")).toBeCloseTo(0, 6);
  });
});
