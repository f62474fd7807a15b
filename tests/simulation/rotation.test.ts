import { describe, expect, it } from "vitest";
import { type SeededNoise, seededNoise } from "../../src/math/seededNoise.ts";
import { either, type Machine, placeAt, signed, touch } from "./machine.ts";
import { amountFor, askOne, logText, numberOf, planText, type Told } from "./road.ts";
import type { Flat, V } from "./solid.ts";

const SIGMA = 0.0005;
const ball = (center: V, radius: number, noise: SeededNoise, sigma: number): V[] => {
  const places: V[] = [];
  for (const up of [-0.2, 0.4, 0.9])
    for (let k = 0; k < 6; k++) {
      const [angle, ring] = [k + up, Math.sqrt(1 - up * up)];
      const far = radius + sigma * noise.normal();
      places.push([
        center[0] + far * ring * Math.cos(angle),
        center[1] + far * ring * Math.sin(angle),
        center[2] + far * up,
      ]);
    }
  return places;
};
function machineOf(noise: SeededNoise): Machine {
  const center: V = [noise.between(-50, 50), 0, noise.between(-500, -300)];
  return { sense: either(noise), center, axis: [0, 1, 0], indexError: {} };
}
function rotationLog(
  machine: Machine,
  indices: readonly number[],
  at: V,
  noise: SeededNoise,
  sigma = SIGMA,
  tag = "b",
): string {
  const rows = indices.flatMap((b) =>
    ball(placeAt(machine, b, at), 12.7, noise, sigma).map((p) => [`${tag}${b}`, ...p] as const),
  );
  return logText("feature,x,y,z", rows, { frame: "machine" });
}
const rotationPlan = (indices: readonly number[], sense: 1 | -1 | null, more = ""): string =>
  planText({
    features: indices.map((b) => `b${b}: {fit: sphere, surface: boss}`),
    advice: [`{kind: rotation-center, of: {${indices.map((b) => `${b}: b${b}`).join(", ")}}${more}}`],
    sense,
  });

describe("the centre of B", () => {
  it("is found with its sense from three indices or more, and what is carried with it arrives", () => {
    for (let seed = 1; seed <= 120; seed++) {
      const noise = seededNoise(seed);
      const machine = machineOf(noise);
      const indices = noise.uniform() < 0.5 ? [0, 90, 180, 270] : [0, 60, 200];
      const at: V = [
        machine.center[0] + noise.between(40, 120),
        80,
        machine.center[2] + noise.between(40, 120),
      ];
      const stored = {
        x: machine.center[0] + signed(noise, 0.005, 0.05),
        z: machine.center[2] + signed(noise, 0.005, 0.05),
      };
      const plan = rotationPlan(indices, null, `, stored: {x: ${stored.x} mm, z: ${stored.z} mm}`);
      const told = askOne({ plan, logs: [rotationLog(machine, indices, at, noise)] });
      expect(told.values.bSense, `seed ${seed}`).toBe(machine.sense);
      expect(Math.abs(numberOf(told, "x") - machine.center[0]), `seed ${seed}`).toBeLessThan(0.002);
      expect(Math.abs(numberOf(told, "z") - machine.center[2]), `seed ${seed}`).toBeLessThan(0.002);
      // Moved as told, the stored centre is the centre.
      expect(stored.x + amountFor(told, "B centre", "x")).toBeCloseTo(numberOf(told, "x"), 9);
      expect(stored.z + amountFor(told, "B centre", "z")).toBeCloseTo(numberOf(told, "z"), 9);
      // A place carried by a turn about either centre, done with the real turn of a machine that had that centre.
      for (const b of indices) {
        const with_ = (center: V): V => placeAt({ ...machine, center }, b, at);
        const fresh = with_([numberOf(told, "x"), 0, numberOf(told, "z")]);
        const old = with_([stored.x, 0, stored.z]);
        expect(numberOf(told, `effects.${b}.x`), `seed ${seed}`).toBeCloseTo(fresh[0] - old[0], 9);
        expect(numberOf(told, `effects.${b}.z`), `seed ${seed}`).toBeCloseTo(fresh[2] - old[2], 9);
      }
    }
  });
  it("tells data that contradict the plan's sense by an error, and follows the data", () => {
    const noise = seededNoise(8);
    const machine = machineOf(noise);
    const log = rotationLog(
      machine,
      [0, 90, 180],
      [machine.center[0] + 70, 0, machine.center[2] + 30],
      noise,
    );
    const wrong = machine.sense === 1 ? -1 : 1;
    const told = askOne({ plan: rotationPlan([0, 90, 180], wrong), logs: [log] });
    expect(told.values.bSense).toBe(machine.sense);
    expect(told.findings.map((one) => [one.level, one.code])).toContainEqual([
      "error",
      "b-sense-contradicted",
    ]);
    const right = askOne({ plan: rotationPlan([0, 90, 180], machine.sense), logs: [log] });
    expect(right.findings).toEqual([]);
  });
  it("from two indices: 180 apart give the centre and no sense, others need the plan's", () => {
    const noise = seededNoise(9);
    const machine = machineOf(noise);
    const at: V = [machine.center[0] + 70, 0, machine.center[2] + 30];
    const pair = (indices: number[], sense: 1 | -1 | null): Told =>
      askOne({ plan: rotationPlan(indices, sense), logs: [rotationLog(machine, indices, at, noise)] });
    const half = pair([0, 180], null);
    expect(half.values.bSense).toBeNull();
    expect(Math.abs(numberOf(half, "x") - machine.center[0])).toBeLessThan(0.002);
    expect(pair([0, 90], null).status).toBe("undecided");
    expect(Math.abs(numberOf(pair([0, 90], machine.sense), "z") - machine.center[2])).toBeLessThan(0.003);
  });
  it("at two heights shows the tilt of the axis", () => {
    const noise = seededNoise(10);
    const tilt = { x: 3e-5, z: -5e-5 };
    const machine: Machine = { ...machineOf(noise), axis: [tilt.x, 1, tilt.z] };
    const indices = [0, 120, 240];
    const plan = planText({
      features: indices.flatMap((b) => [
        `b${b}: {fit: sphere, surface: boss}`,
        `c${b}: {fit: sphere, surface: boss}`,
      ]),
      advice: [
        "{kind: rotation-center, of: {0: b0, 120: b120, 240: b240}, second: {0: c0, 120: c120, 240: c240}}",
      ],
    });
    const [x, z] = [machine.center[0] + 60, machine.center[2] + 20];
    const logs = [
      rotationLog(machine, indices, [x, 50, z], noise, 0),
      rotationLog(machine, indices, [x, 450, z], noise, 0, "c"),
    ];
    const line = askOne({ plan, logs }).working.find((one) => one.text.startsWith("tilt of the axis"));
    expect((line?.values.x as { readonly slope: number } | undefined)?.slope).toBeCloseTo(tilt.x, 8);
    expect((line?.values.z as { readonly slope: number } | undefined)?.slope).toBeCloseTo(tilt.z, 8);
  });
  it("shows what became of the centre since earlier reports", () => {
    const noise = seededNoise(11);
    const machine = machineOf(noise);
    const log = rotationLog(machine, [0, 90, 180], [machine.center[0] + 50, 0, machine.center[2]], noise, 0);
    const earlier = (quantity: "x" | "z", less: number) => ({
      of: "rotation-center",
      quantity,
      value: (quantity === "x" ? machine.center[0] : machine.center[2]) - less,
      issued: "2026-10-01T06:00:00Z",
      report: "J-1_10_center_r1",
    });
    const told = askOne({
      plan: rotationPlan([0, 90, 180], null),
      logs: [log],
      history: [earlier("x", 0.012), earlier("z", -0.02)],
    });
    const since = told.working.find((line) => line.text.startsWith("since J-1_10_center_r1 of 2026-10-01"));
    expect((since?.values.x as { readonly mm: number } | undefined)?.mm).toBeCloseTo(0.012, 6);
    expect((since?.values.z as { readonly mm: number } | undefined)?.mm).toBeCloseTo(-0.02, 6);
  });
});

describe("work offsets", () => {
  const plan = (old: V, nominal: V, frame: "work" | "machine"): string =>
    planText({
      features: ["ball: {fit: sphere, surface: boss}"],
      advice: [
        `{kind: work-offset, of: ball, register: G55, old: {x: ${old[0]} mm, y: ${old[1]} mm, z: ${old[2]} mm}, nominal: {x: ${nominal[0]} mm, y: ${nominal[1]} mm, z: ${nominal[2]} mm}}`,
      ],
    }).replace("frame: work", `frame: ${frame}`);

  it("stored as told make the feature read its nominal, from work and from machine coordinates", () => {
    for (let seed = 1; seed <= 120; seed++) {
      const noise = seededNoise(60 + seed);
      const machineAt: V = [noise.between(-300, 300), noise.between(-300, 300), noise.between(-300, 300)];
      const nominal: V = [noise.between(-50, 50), noise.between(-50, 50), noise.between(-50, 50)];
      const drift = [0, 1, 2].map(() => signed(noise, 0.01, 0.2));
      // The offset is the machine place of the part's zero, and someone stored it a little wrong.
      const old = machineAt.map((value, i) => value - nominal[i]! + drift[i]!) as unknown as V;
      const frame = either(noise) === 1 ? "work" : "machine";
      const reads = (offset: V): V =>
        machineAt.map((value, i) => value - (frame === "work" ? offset[i]! : 0)) as unknown as V;
      const log = logText(
        "feature,x,y,z",
        ball(reads(old), 10, noise, 0.0002).map((p) => ["ball", ...p] as const),
      );
      const told = askOne({ plan: plan(old, nominal, frame), logs: [log] });
      ["x", "y", "z"].forEach((axis, i) => {
        const moved = old[i]! + amountFor(told, "G55", axis);
        expect(moved).toBeCloseTo(numberOf(told, `new.${axis}`), 9);
        const proof = machineAt[i]! - moved;
        expect(Math.abs(proof - nominal[i]!), `seed ${seed}`).toBeLessThan(0.001);
        // The other way is twice as wrong.
        const wrong = machineAt[i]! - (old[i]! - amountFor(told, "G55", axis));
        expect((wrong - nominal[i]!) / -drift[i]!, `seed ${seed}`).toBeCloseTo(2, 0);
      });
      expect(told.findings).toEqual([]);
    }
  });
  it("from a face touched with a ball take its radius off along the face, and the proof reads nominal", () => {
    for (let seed = 1; seed <= 80; seed++) {
      const noise = seededNoise(5000 + seed);
      const tip = noise.between(2, 8);
      const [faceZ, error] = [noise.between(-200, 200), signed(noise, 0.02, 0.3)];
      const grid = [-40, 0, 40].flatMap((x) => [-40, 0, 40].map((y) => [x, y] as const));
      const read = (offset: number): Told => {
        const flat: Flat = { at: [0, 0, faceZ - offset], normal: [0.01, -0.006, 1] };
        const rows = touch(flat, grid, { noise, sigma: 0.0003, ball: tip / 2 });
        const text = planText({
          features: ["face: {fit: plane, normal: [0, 0, 1]}"],
          advice: [
            `{kind: work-offset, of: face, register: G54, old: {z: ${offset} mm}, nominal: {z: 0 mm}}`,
          ],
        }).replace("points: surface", "points: ball-center");
        const header = { "tip-diameter": `${tip} mm` };
        return askOne({
          plan: text,
          logs: [
            logText(
              "feature,x,y,z",
              rows.map((p) => ["face", ...p] as const),
              header,
            ),
          ],
        });
      };
      const told = read(faceZ + error);
      const stored = faceZ + error + amountFor(told, "G54", "z");
      // The touches lie a little uphill of where the ball was; over the grid that is the tilt times the radius.
      expect(Math.abs(stored - faceZ), `seed ${seed}`).toBeLessThan(0.001 + 0.0002 * tip);
      expect(Math.abs(numberOf(read(stored), "change.z")), `seed ${seed}`).toBeLessThan(0.001);
    }
  });
  it("assume the work frame with a warning where none is stated", () => {
    const noise = seededNoise(2);
    const text = plan([0, 0, 0], [0, 0, 0], "work").replace(", frame: work", "");
    const log = logText(
      "feature,x,y,z",
      ball([0.01, 0, 0], 10, noise, 0).map((p) => ["ball", ...p] as const),
    );
    const told = askOne({ plan: text, logs: [log] });
    expect(told.findings.map((one) => [one.level, one.code])).toEqual([["warning", "frame-assumed"]]);
    expect(numberOf(told, "new.x")).toBeCloseTo(0.01, 9);
  });
  it("carried to another index follow the part round, for both senses", () => {
    for (let seed = 1; seed <= 120; seed++) {
      const noise = seededNoise(300 + seed);
      const machine = machineOf(noise);
      const from: V = [noise.between(-300, 300), 12, noise.between(-600, -100)];
      const b = noise.uniform() < 0.5 ? [90, 180, 270][noise.below(3)]! : noise.between(-180, 180);
      const carry = planText({
        features: ["ball: {fit: sphere, surface: boss}"],
        advice: [
          `{kind: work-offset, from: {x: ${from[0]} mm, y: 12 mm, z: ${from[2]} mm}, b: ${b}, center: {x: ${machine.center[0]} mm, z: ${machine.center[2]} mm}, register: 7}`,
        ],
        sense: machine.sense,
      });
      const told = askOne({ plan: carry, logs: [] });
      const truth = placeAt(machine, b, from);
      expect(numberOf(told, "new.x"), `seed ${seed}`).toBeCloseTo(truth[0], 9);
      expect(numberOf(told, "new.y")).toBe(12);
      expect(numberOf(told, "new.z"), `seed ${seed}`).toBeCloseTo(truth[2], 9);
    }
  });
  it("asks for a second look above half a millimetre and never prints control code", () => {
    const log = logText(
      "feature,x,y,z",
      ball([0.8, 0, 0], 10, seededNoise(1), 0).map((p) => ["ball", ...p] as const),
    );
    const told = askOne({ plan: plan([0, 0, 0], [0, 0, 0], "work"), logs: [log] });
    expect(told.headline.text).toContain("look twice");
    expect(told.cautions.some((line) => line.text.includes("second time"))).toBe(true);
    expect(told.cautions.some((line) => line.text.includes("dry run"))).toBe(true);
    expect(JSON.stringify(told)).not.toMatch(/G10|G92|L2\b/);
  });
});
