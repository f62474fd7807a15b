import { describe, expect, it } from "vitest";
import { seededNoise } from "../../src/math/seededNoise.ts";
import { either, type Machine, palletAt, signed, touch } from "./machine.ts";
import { amountFor, askOne, logText, numberOf, planText, type Told } from "./road.ts";
import { directionIn, type Flat, flatIn, HOME, type Pose, setDownOn, type V, within } from "./solid.ts";

const SIGMA = 0.0003;
const GRID = [-150, -50, 50, 150].flatMap((x) => [50, 200, 350].map((y) => [x, y] as const));

/** A face of a column whose back rests on stops: it follows the line through the tips of the outermost two. */
function heldByStops(stops: readonly { readonly x: number; readonly z: number }[], wedge: number): Flat {
  const order = [...stops].sort((a, b) => a.x - b.x);
  const [left, right] = [order[0]!, order.at(-1)!];
  const along = Math.atan2(right.z - left.z, right.x - left.x) + wedge;
  const normal: V = [-Math.sin(along), 0, Math.cos(along)];
  return { at: [left.x, 0, left.z + 400], normal };
}
const probeLog = (rows: readonly V[], feature = "face"): string =>
  logText(
    "feature,x,y,z",
    rows.map((row) => [feature, ...row] as const),
  );
const slopeSeen = (told: Told): number => numberOf(told, "slopeX");

interface Stops {
  readonly names: readonly string[];
  readonly x: readonly number[];
  readonly pivot: number;
}
function stopsPlan({ names, x, pivot }: Stops, more = ""): string {
  const list = names.map((name, i) => `{name: ${name}, x: ${x[i]} mm, pitch: 1.5 mm}`).join(", ");
  return planText({
    features: ["face: {fit: plane, normal: [0, 0, 1]}"],
    advice: [`{kind: square-up, of: face, stops: [${list}], pivot: ${names[pivot]}${more}}`],
  });
}

/** Measures, asks, moves each stop as told (times `sign`), measures again: yaw before and after. */
function roundOfStops(seed: number, sign: 1 | -1): { readonly before: number; readonly after: number } {
  const noise = seededNoise(seed);
  const count = 2 + noise.below(3);
  const x = Array.from({ length: count }, (_, i) => -300 + (600 * i) / (count - 1) + noise.between(-40, 40));
  const stops: Stops = { names: x.map((_, i) => `stop-${i}`), x, pivot: noise.below(count) };
  const turned = signed(noise, 3e-4, 2e-3);
  let tips = x.map((at) => ({ x: at, z: turned * at + 20 }));
  const wedge = signed(noise, 1e-4, 1e-3) * 0.3;
  const plan = stopsPlan(stops);
  const look = (): Told =>
    askOne({ plan, logs: [probeLog(touch(heldByStops(tips, wedge), GRID, { noise, sigma: SIGMA }))] });
  const first = look();
  tips = tips.map((tip, i) => ({ x: tip.x, z: tip.z + sign * amountFor(first, stops.names[i]!, "z") }));
  return { before: slopeSeen(first), after: slopeSeen(look()) };
}

describe("stops along a face", () => {
  it("leave only noise after one round, whatever the pivot, the wedge and the number of stops", () => {
    for (let seed = 1; seed <= 200; seed++) {
      const { before, after } = roundOfStops(seed, 1);
      expect(Math.abs(before), `seed ${seed}`).toBeGreaterThan(2e-5);
      expect(Math.abs(after), `seed ${seed}`).toBeLessThan(8e-6);
    }
  });
  it("double the error when moved the other way: these tests would see a wrong sign", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const { before, after } = roundOfStops(seed, -1);
      expect(after / before, `seed ${seed}`).toBeGreaterThan(1.9);
      expect(after / before, `seed ${seed}`).toBeLessThan(2.1);
    }
  });

  it("take a large error in steps, none larger than the largest move", () => {
    const noise = seededNoise(77);
    const stops: Stops = { names: ["left", "right"], x: [-200, 200], pivot: 0 };
    let tips = [
      { x: -200, z: 0 },
      { x: 200, z: 1.3 },
    ];
    const plan = stopsPlan(stops, ", largest-move: 0.5 mm");
    const seen: number[] = [];
    for (let step = 0; step < 4; step++) {
      const told = askOne({ plan, logs: [probeLog(touch(heldByStops(tips, 0), GRID, { noise, sigma: 0 }))] });
      const amount = amountFor(told, "right", "z");
      expect(Math.abs(amount)).toBeLessThanOrEqual(0.5 + 1e-9);
      if (step === 0) expect(told.headline.text).toContain("step 1 of 3");
      seen.push(amount);
      tips = [tips[0]!, { x: 200, z: tips[1]!.z + amount }];
    }
    expect(seen[0]).toBeCloseTo(-0.5, 6);
    expect(seen[2]).toBeCloseTo(-0.3, 6);
    expect(Math.abs(seen[3]!)).toBeLessThan(1e-5);
  });

  it("says what an indicator at a place shows during the move", () => {
    for (let seed = 1; seed <= 30; seed++) {
      const noise = seededNoise(500 + seed);
      const at = signed(noise, 50, 250);
      const turned = signed(noise, 3e-4, 1e-3);
      const tips = [-200, 200].map((x) => ({ x, z: turned * x }));
      const stops: Stops = { names: ["left", "right"], x: [-200, 200], pivot: noise.below(2) };
      const plan = stopsPlan(stops, `, indicator: {x: ${at} mm}`);
      const told = askOne({ plan, logs: [probeLog(touch(heldByStops(tips, 0), GRID, { noise, sigma: 0 }))] });
      const moved = tips.map((tip, i) => ({ x: tip.x, z: tip.z + amountFor(told, stops.names[i]!, "z") }));
      const height = (of: typeof tips): number =>
        touch(heldByStops(of, 0), [[at, 100]], { noise, sigma: 0 })[0]![2];
      const shown = told.expect?.values.change as { readonly mm: number };
      // The face turns about the stop's tip, the solid's own corner: equal up to the square of the angle.
      expect(shown.mm).toBeCloseTo(height(moved) - height(tips), 3);
      expect(Math.sign(shown.mm)).toBe(Math.sign(height(moved) - height(tips)));
    }
  });
});

/** A column on three supports, its face out of square with its base; the lean is read by a traverse up the face. */
function roundOfSupports(
  seed: number,
  sign: 1 | -1,
): { readonly before: number; readonly after: number; readonly told: Told } {
  const noise = seededNoise(9000 + seed);
  const depth = noise.between(250, 450);
  const named = noise.uniform() < 0.5;
  let heights = { front: noise.between(-0.1, 0.1), back: noise.between(-0.1, 0.1) };
  const wedge = signed(noise, 2e-4, 8e-4);
  const face: Flat = { at: [0, 0, 200], normal: [0, -Math.sin(wedge), Math.cos(wedge)] };
  const plan = planText({
    features: ["lean: {fit: line, from: traverse, along: y, height: z}"],
    advice: [
      `{kind: square-up, of: lean, stops: [{name: front, z: ${depth / 2} mm}, {name: back, z: ${-depth / 2} mm}]${named ? ", pivot: front" : ""}}`,
    ],
  });
  const look = (): Told => {
    const pose = setDownOn(
      [-200, heights.front, depth / 2],
      [200, heights.front, depth / 2],
      [0, heights.back, -depth / 2],
    );
    const places = Array.from({ length: 9 }, (_, i) => [0, 40 + 60 * i] as const);
    const rows = touch(flatIn(pose, face), places, { noise, sigma: SIGMA });
    const zero = rows[0]![2];
    return askOne({
      plan,
      logs: [
        logText(
          "sweep,position,reading",
          rows.map((row) => ["lean", row[1], row[2] - zero]),
        ),
      ],
    });
  };
  const first = look();
  heights = {
    front: heights.front + sign * amountFor(first, "front", "y"),
    back: heights.back + sign * amountFor(first, "back", "y"),
  };
  const second = look();
  return { before: numberOf(first, "slopeY"), after: numberOf(second, "slopeY"), told: first };
}

describe("supports under a base", () => {
  it("take the lean away, never a negative shim unless a pivot is named", () => {
    for (let seed = 1; seed <= 150; seed++) {
      const { before, after, told } = roundOfSupports(seed, 1);
      expect(Math.abs(after), `seed ${seed}`).toBeLessThan(6e-6 + 1e-3 * Math.abs(before));
      if (told.cautions.every((line) => !line.text.startsWith("A shim cannot")))
        for (const move of told.moves) expect(move.amount).toBeGreaterThanOrEqual(0);
      expect(told.cautions[0]?.text).toContain("Clean and re-seat first");
    }
  });
  it("double the lean when moved the other way", () => {
    for (let seed = 1; seed <= 30; seed++) {
      const { before, after } = roundOfSupports(seed, -1);
      if (Math.abs(before) < 1e-4) continue;
      expect(after / before, `seed ${seed}`).toBeGreaterThan(1.85);
    }
  });
});

describe("turning B instead", () => {
  const plan = (sense: 1 | -1 | null): string =>
    planText({
      features: ["yaw: {fit: line, from: traverse, along: x, height: z}"],
      advice: ["{kind: square-up, of: yaw, rotary: b}"],
      sense,
    });
  const sweepOf = (
    machine: Machine,
    b: number,
    mounted: Pose,
    noise: ReturnType<typeof seededNoise>,
  ): string => {
    const face = flatIn(within(palletAt(machine, b), mounted), { at: [0, 0, 200], normal: [0, 0, 1] });
    const places = Array.from({ length: 7 }, (_, i) => [-150 + 50 * i, 100] as const);
    const rows = touch(face, places, { noise, sigma: SIGMA });
    return logText(
      "sweep,position,reading",
      rows.map((row) => ["yaw", row[0], row[2]]),
    );
  };

  it("squares the face for both senses, and doubles the error with the sign turned", () => {
    for (let seed = 1; seed <= 120; seed++) {
      const noise = seededNoise(3000 + seed);
      const machine: Machine = { sense: either(noise), center: [3, 0, -50], axis: [0, 1, 0], indexError: {} };
      const turned = signed(noise, 4e-4, 3e-3);
      const mounted: Pose = {
        ...HOME,
        x: directionIn(HOME, [Math.cos(turned), 0, -Math.sin(turned)]),
        z: [Math.sin(turned), 0, Math.cos(turned)],
      };
      const told = askOne({ plan: plan(machine.sense), logs: [sweepOf(machine, 0, mounted, noise)] });
      const amount = amountFor(told, "B", "b");
      expect(told.values.rotary).toBe(amount);
      const slopeAt = (b: number): number =>
        numberOf(
          askOne({ plan: plan(machine.sense), logs: [sweepOf(machine, b, mounted, noise)] }),
          "slopeX",
        );
      const before = numberOf(told, "slopeX");
      expect(Math.abs(slopeAt(amount)), `seed ${seed}`).toBeLessThan(8e-6);
      expect(slopeAt(-amount) / before, `seed ${seed}`).toBeCloseTo(2, 1);
    }
  });
  it("gives no amount while the sense of B is unknown", () => {
    const machine: Machine = { sense: 1, center: [0, 0, 0], axis: [0, 1, 0], indexError: {} };
    const told = askOne({ plan: plan(null), logs: [sweepOf(machine, 0.05, HOME, seededNoise(5))] });
    expect(told.values.rotary).toBeNull();
    expect(told.moves).toEqual([]);
    expect(told.status).toBe("undecided");
    expect(told.headline.text).toContain("b-sense");
  });
});
