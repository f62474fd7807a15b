import { describe, expect, it } from "vitest";
import { type SeededNoise, seededNoise } from "../../src/math/seededNoise.ts";
import { signed, touch } from "./machine.ts";
import { amountFor, askOne, logText, numberOf, planText, type Told } from "./road.ts";
import { directionIn, type Flat, flatIn, type Pose, turnedAbout, type V, within, zOn } from "./solid.ts";

const rowsOf = (feature: string, rows: readonly V[]) => rows.map((row) => [feature, ...row] as const);
const ring = (count: number, radius: number): (readonly [number, number])[] =>
  Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count;
    return [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
  });

describe("facing a saw-cut side", () => {
  it("cuts below every place of the face, also at the rim beyond the touches, and no deeper than told", () => {
    for (let seed = 1; seed <= 200; seed++) {
      const noise = seededNoise(seed);
      const radius = noise.between(50, 100);
      const sawn: Flat = {
        at: [0, 0, noise.between(-20, 20)],
        normal: [signed(noise, 0.001, 0.01), signed(noise, 0.001, 0.01), 1],
      };
      // Saw marks: waves across the face, known to the touches only where they touch.
      const [wave, height, turn] = [noise.between(8, 25), noise.between(0.02, 0.08), noise.between(0, 6)];
      const surface = (x: number, y: number): number =>
        zOn(sawn, x, y) + height * Math.sin((x * Math.cos(turn) + y * Math.sin(turn)) / wave);
      const places = [[0, 0] as const, ...ring(8, 0.9 * radius), ...ring(8, 0.5 * radius)];
      const below = 2 * height + 0.1;
      const plan = planText({
        features: ["sawn: {fit: plane, normal: [0, 0, 1]}"],
        advice: [
          `{kind: face-cut, of: sawn, below-low: ${below} mm, finish: 0.2 mm, per-pass: 0.5 mm, rim: {radius: ${radius} mm}, length: 80 mm, other-side: 1 mm, finished-length: 70 mm}`,
        ],
      });
      const told = askOne({
        plan,
        logs: [
          logText(
            "feature,x,y,z",
            places.map(([x, y]) => ["sawn", x, y, surface(x, y)] as const),
          ),
        ],
      });
      const cut = numberOf(told, "cutPlane");
      let [lowest, highest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
      for (let r = 1; r <= 10; r++)
        for (const [x, y] of ring(36, (radius * r) / 10)) {
          lowest = Math.min(lowest, surface(x, y));
          highest = Math.max(highest, surface(x, y));
        }
      expect(cut, `seed ${seed}`).toBeLessThan(lowest);
      expect(lowest - cut, `seed ${seed}`).toBeLessThan(below + 4 * height);
      expect(Math.abs(highest - cut - numberOf(told, "deepest")), `seed ${seed}`).toBeLessThan(4 * height);
      // Roughing and finishing together are the deepest cut, no pass larger than allowed.
      const [passes, depth] = [numberOf(told, "passes"), numberOf(told, "passDepth")];
      expect(passes * depth + 0.2).toBeCloseTo(numberOf(told, "deepest"), 9);
      expect(depth).toBeLessThanOrEqual(0.5 + 1e-9);
      expect(numberOf(told, "lengthLeft")).toBeCloseTo(80 - (numberOf(told, "lowest") - cut) - 1, 9);
    }
  });
  it("says before the first cut that the length does not suffice", () => {
    const plan = planText({
      features: ["sawn: {fit: plane, normal: [0, 0, 1]}"],
      advice: [
        "{kind: face-cut, of: sawn, below-low: 0.6 mm, rim: {x: 40 mm, y: 30 mm}, length: 70 mm, other-side: 1 mm, finished-length: 69 mm, per-pass: 1 mm}",
      ],
    });
    const rows = [
      [-30, -20],
      [30, -20],
      [30, 20],
      [-30, 20],
      [0, 0],
    ].map(([x, y]) => ["sawn", x!, y!, 0.01 * x!] as const);
    const told = askOne({ plan, logs: [logText("feature,x,y,z", rows)] });
    expect(told.headline.text).toMatch(/^NOT LONG ENOUGH/);
    expect(numberOf(told, "rimLow")).toBeCloseTo(-0.4, 9);
    expect(numberOf(told, "rimHigh")).toBeCloseTo(0.4, 9);
    expect(told.values.lowestAt).toEqual({ x: -30, y: -20 });
  });
});

/** A raw bar: a round with lobes, a ding, gripped off centre, leaning along Z. */
function barOf(noise: SeededNoise) {
  const radius = noise.between(40, 200);
  const [ex, ey] = [signed(noise, 0.1, 0.8), signed(noise, 0.1, 0.8)];
  const [lean, oval, three] = [noise.between(-0.004, 0.004), noise.between(0, 0.2), noise.between(0, 0.1)];
  const [p2, p3, ding] = [noise.between(0, 6), noise.between(0, 6), noise.between(0, 6)];
  const at = (angle: number, z: number): V => {
    const dented = Math.abs(Math.sin((angle - ding) / 2)) < 0.1 ? 0.25 : 0;
    const r = radius + oval * Math.cos(2 * angle - p2) + three * Math.cos(3 * angle - p3) - dented;
    return [ex + lean * z + r * Math.cos(angle), ey + r * Math.sin(angle), z];
  };
  return { radius, at };
}
const touches = (at: (angle: number, z: number) => V, count: number, heights: readonly number[]): V[] =>
  heights.flatMap((z) => Array.from({ length: count }, (_, i) => at((2 * Math.PI * i) / count, z)));

describe("cleaning up a round", () => {
  it("tells the stock as a cutter would find it here and after the shift, and no other centre is better", () => {
    for (let seed = 1; seed <= 150; seed++) {
      const noise = seededNoise(seed);
      const bar = barOf(noise);
      const finished = 2 * bar.radius - noise.between(0, 2);
      const center = [noise.between(-0.1, 0.1), noise.between(-0.1, 0.1)] as const;
      const two = noise.uniform() < 0.5;
      const rows = touches(bar.at, 12 + noise.below(12), two ? [0, 30] : [0]);
      const plan = planText({
        features: [
          two ? "od: {fit: cylinder, surface: boss}" : "od: {fit: circle, normal: [0, 0, 1], surface: boss}",
        ],
        advice: [
          `{kind: clean-up, of: od, finished: ${finished} mm, center: [${center[0]} mm, ${center[1]} mm], allowance: 0.05 mm}`,
        ],
      });
      const told = askOne({ plan, logs: [logText("feature,x,y,z", rowsOf("od", rows))] });
      // A cutter parallel to Z that runs round (x, y): metal left over it at the worst touch.
      const stock = (x: number, y: number): number =>
        Math.min(...rows.map((p) => Math.hypot(p[0] - x, p[1] - y))) - finished / 2;
      expect(numberOf(told, "stockHere"), `seed ${seed}`).toBeCloseTo(stock(...center), 9);
      const moved = [
        center[0] + amountFor(told, "work offset", "x"),
        center[1] + amountFor(told, "work offset", "y"),
      ] as const;
      expect(stock(...moved), `seed ${seed}`).toBeCloseTo(numberOf(told, "stockBest"), 6);
      expect(stock(2 * center[0] - moved[0], 2 * center[1] - moved[1]), `seed ${seed}`).toBeLessThan(
        stock(...moved),
      );
      for (let k = 0; k < 60; k++) {
        const reach = 10 ** noise.between(-4, 0);
        expect(
          stock(moved[0] + reach * noise.normal(), moved[1] + reach * noise.normal()),
          `seed ${seed}`,
        ).toBeLessThanOrEqual(numberOf(told, "stockBest") + 1e-9);
      }
      expect(told.values.cleansHere).toBe(stock(...center) >= 0.05);
      expect(told.values.cleansBest).toBe(numberOf(told, "stockBest") >= 0.05);
      expect(numberOf(told, "heaviest")).toBeCloseTo(
        Math.max(...rows.map((p) => Math.hypot(p[0] - moved[0], p[1] - moved[1]))) - finished / 2,
        6,
      );
      const angle = (numberOf(told, "leastAngle") * Math.PI) / 180;
      const worst = rows.reduce((a, p) =>
        Math.hypot(p[0] - center[0], p[1] - center[1]) < Math.hypot(a[0] - center[0], a[1] - center[1])
          ? p
          : a,
      );
      expect(
        Math.cos(angle - Math.atan2(worst[1] - center[1], worst[0] - center[0])),
        `seed ${seed}`,
      ).toBeCloseTo(1, 6);
    }
  });
  it("a 15 in saw-cut round sized to 14.95 in cleans up when round and centred better than 0.025 in, not beyond", () => {
    const plan = planText({
      features: ["od: {fit: circle, normal: [0, 0, 1], surface: boss}"],
      advice: ["{kind: clean-up, of: od, finished: 14.95 in, density: 0.160 lb/in3, length: 5.3 in}"],
    });
    const ask = (off: number): Told =>
      askOne({
        plan,
        logs: [
          logText(
            "feature,x,y,z",
            rowsOf(
              "od",
              ring(36, 190.5).map(([x, y]): V => [x + off, y, 0]),
            ),
          ),
        ],
      });
    expect(ask(0.02 * 25.4).values.cleansHere).toBe(true);
    expect(ask(0.03 * 25.4).values.cleansHere).toBe(false);
    expect(ask(0.03 * 25.4).values.cleansBest).toBe(true);
    expect(amountFor(ask(0.03 * 25.4), "work offset", "x")).toBeCloseTo(0.762, 6);
    expect(ask(0).cautions.some((line) => line.text.includes("150 lb") && line.text.includes("hoist"))).toBe(
      true,
    );
  });
});

describe("a part turned over", () => {
  const grid = [-50, 0, 50].flatMap((x) => [-40, 0, 40].map((y) => [x, y] as const));
  const plan = planText({
    features: ["first: {fit: plane, normal: [0, 0, -1]}", "second: {fit: plane, normal: [0, 0, 1]}"],
    advice: ["{kind: turned-over, first: first, second: second}"],
  });
  /** Both faces of a wedge, lying anyhow small in the machine: touches of each as rows. */
  function facesLog(mounted: Pose, top: Flat, noise: SeededNoise): string {
    const bottom: Flat = { at: [0, 0, 0], normal: [0, 0, -1] };
    const seen = (flat: Flat): V[] => touch(flatIn(mounted, flat), grid, { noise, sigma: 0.0003 });
    return logText("feature,x,y,z", [...rowsOf("first", seen(bottom)), ...rowsOf("second", seen(top))]);
  }
  it("shows its wedge and thickness however it lies, and is parallel when the wedge is cut away", () => {
    for (let seed = 1; seed <= 150; seed++) {
      const noise = seededNoise(seed);
      const thick = noise.between(15, 60);
      const [a, b] = [signed(noise, 5e-5, 1e-3), signed(noise, 5e-5, 1e-3)];
      const lying = within(
        turnedAbout([0, 0, 0], [1, 0, 0], noise.between(-1e-3, 1e-3)),
        turnedAbout([0, 0, 0], [0, 1, 0], noise.between(-1e-3, 1e-3)),
      );
      const mounted: Pose = { ...lying, origin: [0, 0, noise.between(-300, 300)] };
      const cutTop = (x: number, y: number): Flat => ({ at: [0, 0, thick], normal: [-x, -y, 1] });
      const told = askOne({ plan, logs: [facesLog(mounted, cutTop(a, b), noise)] });
      expect(Math.abs(numberOf(told, "wedgeX") - a), `seed ${seed}`).toBeLessThan(1.5e-5);
      expect(Math.abs(numberOf(told, "wedgeY") - b), `seed ${seed}`).toBeLessThan(1.5e-5);
      expect(Math.abs(numberOf(told, "thickness") - thick), `seed ${seed}`).toBeLessThan(0.06);
      const angle = (numberOf(told, "thickAngle") * Math.PI) / 180;
      const at = (k: number): number => zOn(cutTop(a, b), 40 * Math.cos(angle + k), 40 * Math.sin(angle + k));
      expect(at(0), `seed ${seed}`).toBeGreaterThan(at(Math.PI));
      const cured = askOne({
        plan,
        logs: [facesLog(mounted, cutTop(a - numberOf(told, "wedgeX"), b - numberOf(told, "wedgeY")), noise)],
      });
      expect(numberOf(cured, "parallelism"), `seed ${seed}`).toBeLessThan(0.004);
      const wrong = askOne({
        plan,
        logs: [facesLog(mounted, cutTop(a + numberOf(told, "wedgeX"), b + numberOf(told, "wedgeY")), noise)],
      });
      expect(numberOf(wrong, "wedgeX") / numberOf(told, "wedgeX"), `seed ${seed}`).toBeCloseTo(2, 0);
    }
  });
  it("names the seat when the part was faced square to Z on a sloping seat", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const noise = seededNoise(70 + seed);
      const seat: Flat = { at: [0, 0, 0], normal: [signed(noise, 2e-4, 6e-4), signed(noise, 2e-4, 6e-4), 1] };
      // On the seat the bottom follows it and the top is cut flat; measured later lying flat, the wedge shows.
      const up = turnedAbout(
        [0, 0, 0],
        [seat.normal[1], -seat.normal[0], 0],
        Math.atan(Math.hypot(seat.normal[0], seat.normal[1])),
      );
      const top: Flat = { at: directionIn(up, [0, 0, 30]), normal: directionIn(up, [0, 0, 1]) };
      const text = planText({
        features: [
          "first: {fit: plane, normal: [0, 0, -1]}",
          "second: {fit: plane, normal: [0, 0, 1]}",
          "seat: {fit: plane, normal: [0, 0, 1]}",
        ],
        advice: ["{kind: turned-over, first: first, second: second, seat: seat}"],
      });
      const rows = [
        ...rowsOf("first", touch({ at: [0, 0, 0], normal: [0, 0, -1] }, grid, { noise, sigma: 0.0002 })),
        ...rowsOf("second", touch(top, grid, { noise, sigma: 0.0002 })),
        ...rowsOf("seat", touch(seat, grid, { noise, sigma: 0.0002 })),
      ];
      const told = askOne({ plan: text, logs: [logText("feature,x,y,z", rows)] });
      expect(
        told.working.some((line) => line.text.endsWith(": looks like the seat")),
        `seed ${seed}`,
      ).toBe(true);
    }
  });
});

describe("seating again", () => {
  it("gives count, mean, deviation and range of the places seen, and holds them against the limit", () => {
    for (let seed = 1; seed <= 100; seed++) {
      const noise = seededNoise(seed);
      const places = Array.from({ length: 3 + noise.below(4) }, () => noise.between(-0.02, 0.02));
      const features = places.map((_, i) => `s${i}: {fit: circle, normal: [0, 0, 1], surface: bore}`);
      const plan = planText({
        features,
        advice: [
          `{kind: re-seat, of: [${places.map((_, i) => `s${i}`).join(", ")}], quantity: y, limit: 0.02 mm}`,
        ],
      });
      const rows = places.flatMap((y, i) =>
        rowsOf(
          `s${i}`,
          ring(8, 20).map((p): V => [p[0], p[1] + y, 0]),
        ),
      );
      const told = askOne({ plan, logs: [logText("feature,x,y,z", rows)] });
      const mean = places.reduce((total, y) => total + y, 0) / places.length;
      const variance = places.reduce((total, y) => total + (y - mean) ** 2, 0) / (places.length - 1);
      const range = Math.max(...places) - Math.min(...places);
      expect(told.values.count).toBe(places.length);
      expect(numberOf(told, "mean")).toBeCloseTo(mean, 7);
      expect(numberOf(told, "deviation")).toBeCloseTo(Math.sqrt(variance), 7);
      expect(numberOf(told, "range")).toBeCloseTo(range, 7);
      expect(told.headline.text.startsWith(range <= 0.02 ? "Comes back" : "Does NOT")).toBe(true);
    }
  });
  it("takes earlier seatings from the ledger and shows drift against them", () => {
    const history = [0.001, 0.002, 0.003].map((value, i) => ({
      of: "pin",
      quantity: "x",
      value,
      issued: `2026-0${i + 1}-01T00:00:00Z`,
      report: `r${i}`,
    }));
    const features = [
      "pin: {fit: circle, normal: [0, 0, 1], surface: bore}",
      "pin-b: {fit: circle, normal: [0, 0, 1], surface: bore}",
    ];
    const rows = ["pin", "pin-b"].flatMap((name) =>
      rowsOf(
        name,
        ring(8, 20).map((p): V => [p[0] + 0.01, p[1], 0]),
      ),
    );
    const logs = [logText("feature,x,y,z", rows)];
    const ledger = askOne({
      plan: planText({ features, advice: ["{kind: re-seat, of: ledger, feature: pin}"] }),
      logs,
      history,
    });
    expect(ledger.values.count).toBe(4);
    expect(numberOf(ledger, "mean")).toBeCloseTo(0.004, 9);
    expect(numberOf(ledger, "range")).toBeCloseTo(0.009, 9);
    const drift = askOne({
      plan: planText({ features, advice: ["{kind: re-seat, of: [pin, pin-b]}"] }),
      logs,
      history,
    });
    expect(drift.working.at(-1)?.text).toContain("drift against 3 earlier values");
    expect((drift.working.at(-1)?.values.drift as { readonly mm: number } | undefined)?.mm).toBeCloseTo(
      0.008,
      9,
    );
    const none = askOne({
      plan: planText({ features, advice: ["{kind: re-seat, of: [pin, pin-b]}"] }),
      logs,
    });
    expect(none.working.at(-1)?.text).toContain("no drift can be told");
  });
});
