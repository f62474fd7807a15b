import { describe, expect, it } from "vitest";
import { type SeededNoise, seededNoise } from "../../src/math/seededNoise.ts";
import { either, faceAt, type Machine, palletAt, signed, touch } from "./machine.ts";
import { amountFor, askOne, logText, numberOf, planText, type Told } from "./road.ts";
import { directionIn, type Flat, HOME, type Pose, setDownOn, turnedAbout, type V, within } from "./solid.ts";

const SIGMA = 0.0003;
const GRID = [-150, -50, 50, 150].flatMap((x) => [50, 300, 550].map((y) => [x, y] as const));
const INDICES = [0, 90, 180, 270] as const;

/** Four faces of a square column in its own coordinates, by the B that brings them to the spindle, with taper and wedge. */
function facesOf(
  sense: 1 | -1,
  half: number,
  wrong: (b: number) => { readonly taper: number; readonly wedge: number },
): Map<number, Flat> {
  return new Map(
    INDICES.map((b) => {
      // The face that looks at the spindle at B: turned back by B about the column's own upright.
      const back = turnedAbout([0, 0, 0], [0, 1, 0], (-sense * b * Math.PI) / 180);
      const { taper, wedge } = wrong(b);
      const square: V = [-wedge, -taper, 1];
      return [b, { at: directionIn(back, [0, 0, half]), normal: directionIn(back, square) }];
    }),
  );
}
const rowsOf = (feature: string, rows: readonly V[]) => rows.map((row) => [feature, ...row] as const);
const TRUE_FACES = () => ({ taper: 0, wedge: 0 });

/** Corners of a base: heights of what lies under them. */
interface Under {
  [corner: string]: number;
}
const CORNERS = ["-x-z", "+x-z", "+x+z", "-x+z"] as const;
const cornerAt = (corner: string, x: number, z: number, height: number): V => [
  (corner.startsWith("-") ? -x : x) / 2,
  height,
  (corner.endsWith("-z") ? -z : z) / 2,
];
/** The base rests on the raised corner and its two neighbours; an edge raised alike rests on the edge and one behind. */
function seated(under: Under, base: { readonly x: number; readonly z: number }): Pose {
  const order = [...CORNERS].sort((a, b) => under[b]! - under[a]!);
  const high = order[0]!;
  const place = CORNERS.indexOf(high as (typeof CORNERS)[number]);
  const three = [high, CORNERS[(place + 1) % 4]!, CORNERS[(place + 3) % 4]!];
  const [a, b, c] = three.map((corner) => cornerAt(corner, base.x, base.z, under[corner]!));
  return setDownOn(a!, b!, c!);
}

interface Seat {
  readonly machine: Machine;
  readonly base: { readonly x: number; readonly z: number };
  readonly faces: ReadonlyMap<number, Flat>;
  readonly noise: SeededNoise;
}
function askSeat({ machine, base, faces, noise }: Seat, under: Under, second: boolean): Told {
  const mounted = seated(under, base);
  const seen = (b: number) =>
    touch(faceAt(machine, b, mounted, faces.get(b)!), GRID, { noise, sigma: SIGMA });
  const plan = planText({
    features: ["f0: {fit: plane, normal: [0, 0, 1]}", "f90: {fit: plane, normal: [0, 0, 1]}"],
    advice: [
      `{kind: seat-check, of: f0, base: {x: ${base.x} mm, z: ${base.z} mm}, height: 600 mm, chip: 0.05 mm${second ? ", second: f90" : ""}}`,
    ],
    sense: machine.sense,
  });
  return askOne({
    plan,
    logs: [logText("feature,x,y,z", [...rowsOf("f0", seen(0)), ...rowsOf("f90", seen(90))])],
  });
}
const level = (): Under => ({ "-x-z": 0, "+x-z": 0, "+x+z": 0, "-x+z": 0 });
function seatOf(seed: number): Seat {
  const noise = seededNoise(seed);
  const sense = either(noise);
  return {
    noise,
    machine: {
      sense,
      center: [noise.between(-5, 5), 0, noise.between(-5, 5)],
      axis: [0, 1, 0],
      indexError: {},
    },
    base: { x: noise.between(300, 500), z: noise.between(300, 500) },
    faces: facesOf(sense, 200, TRUE_FACES),
  };
}

describe("debris under a base", () => {
  it("is told by its edge and thickness, and the column stands level without it", () => {
    for (let seed = 1; seed <= 160; seed++) {
      const seat = seatOf(seed);
      const edge = ["+z", "-z", "+x", "-x"][seat.noise.below(4)]!;
      const thick = seat.noise.between(0.03, 0.2);
      const under = level();
      for (const corner of CORNERS) if (corner.includes(edge)) under[corner] = thick;
      const told = askSeat(seat, under, true);
      expect(told.values.edge, `seed ${seed}`).toBe(edge);
      expect(numberOf(told, "edgeThickness"), `seed ${seed}`).toBeCloseTo(thick, 2);
      expect(Math.abs(numberOf(told, "edgeThickness") - thick), `seed ${seed}`).toBeLessThan(0.003);
      expect(numberOf(told, "chipLean")).toBeCloseTo((600 * 0.05) / seat.base.z, 12);
      for (const corner of CORNERS)
        if (corner.includes(edge)) under[corner]! -= numberOf(told, "edgeThickness");
      expect(Math.abs(numberOf(askSeat(seat, under, true), "leanOverHeight")), `seed ${seed}`).toBeLessThan(
        0.004,
      );
    }
  });
  it("is told by its corner and thickness from two faces", () => {
    for (let seed = 1; seed <= 160; seed++) {
      const seat = seatOf(700 + seed);
      const corner = CORNERS[seat.noise.below(4)]!;
      const thick = seat.noise.between(0.03, 0.2);
      const told = askSeat(seat, { ...level(), [corner]: thick }, true);
      expect(told.values.edge, `seed ${seed}`).toBe(corner);
      expect(Math.abs(numberOf(told, "cornerThickness") - thick), `seed ${seed}`).toBeLessThan(0.003);
    }
  });
  it("with the opposite face keeps what flips for the seat and leaves a common lean to the machine", () => {
    for (let seed = 1; seed <= 60; seed++) {
      const seat = seatOf(2100 + seed);
      const { noise, base } = seat;
      const lean = signed(noise, 1e-4, 4e-4);
      const machine: Machine = { ...seat.machine, axis: [0, 1, lean] };
      const thick = noise.between(0.05, 0.15);
      const edge = either(noise) === 1 ? "+z" : "-z";
      const under = level();
      for (const corner of CORNERS) if (corner.endsWith(edge)) under[corner] = thick;
      // On a tilted pallet the base stands on the pallet: its frame leans with the axis.
      const pallet = turnedAbout([0, 0, 0], [1, 0, 0], Math.atan(lean));
      const mounted = within(pallet, seated(under, base));
      const seen = (b: number) =>
        touch(faceAt(machine, b, mounted, seat.faces.get(b)!), GRID, { noise, sigma: SIGMA });
      const plan = planText({
        features: ["f0: {fit: plane, normal: [0, 0, 1]}", "f180: {fit: plane, normal: [0, 0, 1]}"],
        advice: [`{kind: seat-check, of: f0, base: {z: ${base.z} mm}, height: 600 mm, opposite: f180}`],
      });
      const told = askOne({
        plan,
        logs: [logText("feature,x,y,z", [...rowsOf("f0", seen(0)), ...rowsOf("f180", seen(180))])],
      });
      expect(told.values.edge, `seed ${seed}`).toBe(edge);
      expect(Math.abs(numberOf(told, "edgeThickness") - thick), `seed ${seed}`).toBeLessThan(0.003);
    }
  });
  it("names the bolt that moved the top: the base is not seated there", () => {
    const features = ["f0", "bolt-a", "bolt-b"].map((name) => `${name}: {fit: plane, normal: [0, 0, 1]}`);
    const plan = planText({
      features,
      advice: ["{kind: seat-check, of: f0, base: {z: 400 mm}, height: 600 mm, bolts: [f0, bolt-a, bolt-b]}"],
    });
    const log = (feature: string, lean: number, bolt?: string): string =>
      logText(
        "feature,x,y,z",
        rowsOf(
          feature,
          GRID.map(([x, y]): V => [x, y, lean * y]),
        ),
        bolt === undefined ? {} : { bolt },
      );
    const told = (last: number) =>
      askOne({
        plan,
        logs: [log("f0", 1e-6), log("bolt-a", 2e-6, "front left"), log("bolt-b", last, "back right")],
      });
    expect(told(3e-5).headline.text).toMatch(/^Not seated: back right moved the top \+0\.017 mm/);
    expect(told(4e-6).headline.text).not.toContain("Not seated");
    expect(told(4e-6).working.some((line) => line.text.startsWith("front left pulled: the top moved"))).toBe(
      true,
    );
  });
  it("one face cannot tell a corner from an edge, and says the far edge from the way it leans", () => {
    for (let seed = 1; seed <= 60; seed++) {
      const seat = seatOf(1400 + seed);
      const edge = either(seat.noise) === 1 ? "+z" : "-z";
      const under = level();
      for (const corner of CORNERS) if (corner.endsWith(edge)) under[corner] = 0.08;
      const told = askSeat(seat, under, false);
      expect(told.values.edge).toBe(edge);
      expect(told.values.cornerThickness).toBe(told.values.edgeThickness);
      expect(Math.sign(numberOf(told, "leanOverHeight"))).toBe(edge === "-z" ? 1 : -1);
    }
  });
});

interface Column {
  readonly machine: Machine;
  readonly faces: ReadonlyMap<number, Flat>;
  readonly noise: SeededNoise;
}
const fourPlan = (sense: 1 | -1, center: V): string =>
  planText({
    features: INDICES.map((b) => `f${b}: {fit: plane, normal: [0, 0, 1]}`),
    advice: [
      `{kind: four-face, of: {0: f0, 90: f90, 180: f180, 270: f270}, height: 500 mm, center: {x: ${center[0]} mm, z: ${center[2]} mm}}`,
    ],
    sense,
  });
function askFour({ machine, faces, noise }: Column, mounted: Pose): Told {
  const rows = INDICES.flatMap((b) =>
    rowsOf(`f${b}`, touch(faceAt(machine, b, mounted, faces.get(b)!), GRID, { noise, sigma: SIGMA })),
  );
  // The axis where the faces are touched: 300 up, along its own direction.
  const [ax, ay, az] = machine.axis;
  const axisThere: V = [machine.center[0] + (300 * ax) / ay, 300, machine.center[2] + (300 * az) / ay];
  return askOne({ plan: fourPlan(machine.sense, axisThere), logs: [logText("feature,x,y,z", rows)] });
}
/** A column tilted by small turns: top towards +Z and towards +X, then turned about its upright, then shifted. */
function tilted(lean: { readonly x: number; readonly z: number }, yaw: number, shift: V): Pose {
  const forward = turnedAbout([0, 0, 0], [1, 0, 0], Math.atan(lean.z));
  const sideways = turnedAbout([0, 0, 0], [0, 0, 1], -Math.atan(lean.x));
  const upright = turnedAbout([0, 0, 0], [0, 1, 0], yaw);
  const turned = within(forward, within(sideways, upright));
  return { ...turned, origin: [turned.origin[0] + shift[0], turned.origin[1], turned.origin[2] + shift[2]] };
}

describe("four faces", () => {
  it("split seat, machine, faces and place as they were built, and the seat and the turn vanish when taken away", () => {
    for (let seed = 1; seed <= 120; seed++) {
      const noise = seededNoise(40 + seed);
      const sense = either(noise);
      const axisLean = signed(noise, 1e-5, 2e-4);
      const center: V = [noise.between(-20, 20), 0, noise.between(-400, -300)];
      const wedges = new Map(INDICES.map((b) => [b as number, noise.between(-1e-4, 1e-4)]));
      const meanWedge = [...wedges.values()].reduce((total, w) => total + w, 0) / 4;
      const machine: Machine = { sense, center, axis: [0, 1, axisLean], indexError: {} };
      const faces = facesOf(sense, 200, (b) => ({ taper: 0, wedge: wedges.get(b)! - meanWedge }));
      const column: Column = { machine, faces, noise };
      const lean = { x: signed(noise, 2e-5, 3e-4), z: signed(noise, 2e-5, 3e-4) };
      const yaw = signed(noise, 5e-5, 5e-4);
      const off: V = [center[0] + noise.between(-0.3, 0.3), 0, center[2] + noise.between(-0.3, 0.3)];
      const told = askFour(column, tilted(lean, yaw, off));
      const near = (path: string, truth: number, within_ = 1.5e-6): void =>
        expect(Math.abs(numberOf(told, path) - truth), `${path}, seed ${seed}`).toBeLessThan(within_);
      // The pallet tilts with its axis about the axis; the column's own lean is what flips, so the axis is common.
      near("common", axisLean);
      near("seatZ", lean.z - axisLean);
      near("seatX", lean.x);
      near("yawCommon", -yaw, 3e-6);
      for (const b of INDICES) near(`yawRemainder.${b}`, wedges.get(b)! - meanWedge, 4e-6);
      near("widths.0", 400, 0.001);
      near("widths.90", 400, 0.001);
      expect(Math.abs(numberOf(told, "remainder")), `seed ${seed}`).toBeLessThan(2e-6);
      // Told, then done: lean back by what the seat is said to do, turn by what is said of the column.
      const turn = (amountFor(told, "column", "y") * Math.PI) / 180;
      const better = {
        x: lean.x - numberOf(told, "seatX"),
        z: lean.z - numberOf(told, "seatZ"),
      };
      const after = askFour(column, tilted(better, yaw + turn, off));
      expect(Math.abs(numberOf(after, "seatZ")), `seed ${seed}`).toBeLessThan(2e-6);
      expect(Math.abs(numberOf(after, "seatX")), `seed ${seed}`).toBeLessThan(2e-6);
      expect(Math.abs(numberOf(after, "yawCommon")), `seed ${seed}`).toBeLessThan(4e-6);
      const worse = askFour(column, tilted(lean, yaw - turn, off));
      expect(numberOf(worse, "yawCommon") / numberOf(told, "yawCommon"), `seed ${seed}`).toBeCloseTo(2, 0);
    }
  });
  it("finds the column's middle off the axis for both senses", () => {
    for (let seed = 1; seed <= 60; seed++) {
      const noise = seededNoise(900 + seed);
      const sense = either(noise);
      const machine: Machine = { sense, center: [10, 0, -350], axis: [0, 1, 0], indexError: {} };
      const column: Column = { machine, faces: facesOf(sense, 200, TRUE_FACES), noise };
      const [dx, dz] = [signed(noise, 0.02, 0.4), signed(noise, 0.02, 0.4)];
      const told = askFour(column, { ...HOME, origin: [10 + dx, 0, -350 + dz] });
      expect(Math.abs(numberOf(told, "centerX") - dx)).toBeLessThan(0.0006);
      expect(Math.abs(numberOf(told, "centerZ") - dz)).toBeLessThan(0.0006);
      const cured = askFour(column, {
        ...HOME,
        origin: [10 + dx - numberOf(told, "centerX"), 0, -350 + dz - numberOf(told, "centerZ")],
      });
      expect(Math.abs(numberOf(cured, "centerX"))).toBeLessThan(0.001);
    }
  });
  it("gives no sideways sign without the sense of B, and says so", () => {
    const noise = seededNoise(3);
    const machine: Machine = { sense: 1, center: [0, 0, 0], axis: [0, 1, 0], indexError: {} };
    const faces = facesOf(1, 200, TRUE_FACES);
    const mounted = tilted({ x: 1e-4, z: 1e-4 }, 0, [0, 0, 0]);
    const rows = INDICES.flatMap((b) =>
      rowsOf(`f${b}`, touch(faceAt(machine, b, mounted, faces.get(b)!), GRID, { noise, sigma: 0 })),
    );
    const plan = planText({
      features: INDICES.map((b) => `f${b}: {fit: plane, normal: [0, 0, 1]}`),
      advice: ["{kind: four-face, of: {0: f0, 90: f90, 180: f180, 270: f270}, height: 500 mm}"],
    });
    const told = askOne({ plan, logs: [logText("feature,x,y,z", rows)] });
    expect(told.values.seatX).toBeNull();
    expect(told.values.centerX).toBeNull();
    expect(numberOf(told, "seatZ")).toBeCloseTo(1e-4, 7);
    expect(palletAt(machine, 0).origin).toEqual([0, 0, 0]);
  });
});
