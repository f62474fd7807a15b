import { describe, expect, it } from "vitest";
import { type SeededNoise, seededNoise } from "../../src/math/seededNoise.ts";
import { signed, sweepRim } from "./machine.ts";
import { amountFor, askOne, logText, numberOf, planText, type Told } from "./road.ts";

const SIGMA = 0.0004;
const RADIUS = 75;
const around = (count: number): number[] => Array.from({ length: count }, (_, i) => (360 * i) / count);

/** A round with lobes: harmonics as [n, amplitude, phase], and where its centre sits. */
interface Lobed {
  readonly center: readonly [number, number];
  readonly lobes: readonly (readonly [number, number, number])[];
}
const wallOf =
  ({ center, lobes }: Lobed) =>
  (t: number): readonly [number, number] => {
    const r =
      RADIUS + lobes.reduce((total, [n, amplitude, phase]) => total + amplitude * Math.cos(n * t - phase), 0);
    return [center[0] + r * Math.cos(t), center[1] + r * Math.sin(t)];
  };

interface Swept {
  readonly surface: "bore" | "boss";
  readonly sag: number;
  /** Where the sag is stated: in the plan's advice, in the header of the log, or nowhere. */
  readonly stated: "plan" | "header" | "nowhere";
  readonly jaws?: string;
  readonly count?: number;
}
function sweepAsk(part: Lobed, swept: Swept, noise: SeededNoise): Told {
  const { surface, sag, stated, jaws, count = 12 } = swept;
  const rows = sweepRim(wallOf(part), around(count), { radius: RADIUS, sag, surface, noise, sigma: SIGMA });
  const header: Record<string, string> = stated === "header" ? { sag: `${sag} mm` } : {};
  const plan = planText({
    features: [`rim: {fit: circle, from: rim-sweep, radius: ${RADIUS} mm, surface: ${surface}}`],
    advice: [`{kind: centering, of: rim${stated === "plan" ? `, sag: ${sag} mm` : ""}${jaws ?? ""}}`],
  });
  return askOne({
    plan,
    logs: [
      logText(
        "sweep,angle,reading",
        rows.map((row) => ["rim", ...row] as const),
        header,
      ),
    ],
  });
}
function roundOf(seed: number): { readonly part: Lobed; readonly swept: Swept; readonly noise: SeededNoise } {
  const noise = seededNoise(seed);
  const center = [signed(noise, 0.02, 0.8), signed(noise, 0.02, 0.8)] as const;
  const lobes = [2, 3].map((n) => [n, noise.between(0, 0.01), noise.between(0, 6)] as const);
  const surface = noise.uniform() < 0.5 ? "bore" : "boss";
  return {
    part: { center, lobes },
    swept: { surface, sag: noise.between(0, 0.05), stated: noise.uniform() < 0.5 ? "plan" : "header" },
    noise,
  };
}

describe("centering from a rim sweep", () => {
  it("moved as told leaves noise, for bore and boss, whatever the lobes and the sag", () => {
    for (let seed = 1; seed <= 200; seed++) {
      const { part, swept, noise } = roundOf(seed);
      const told = sweepAsk(part, swept, noise);
      expect(numberOf(told, "x"), `seed ${seed}`).toBeCloseTo(part.center[0], 2);
      const [dx, dy] = [amountFor(told, "part", "x"), amountFor(told, "part", "y")];
      const after = sweepAsk({ ...part, center: [part.center[0] + dx, part.center[1] + dy] }, swept, noise);
      expect(numberOf(after, "eccentricity"), `seed ${seed}`).toBeLessThan(0.0015);
      const wrong = sweepAsk({ ...part, center: [part.center[0] - dx, part.center[1] - dy] }, swept, noise);
      expect(numberOf(wrong, "eccentricity") / numberOf(told, "eccentricity"), `seed ${seed}`).toBeCloseTo(
        2,
        1,
      );
    }
  });
  it("tells ovality and three lobes apart from eccentricity, peak to valley", () => {
    for (let seed = 1; seed <= 100; seed++) {
      const { part, swept, noise } = roundOf(400 + seed);
      const told = sweepAsk(part, { ...swept, count: 24 }, noise);
      expect(Math.abs(numberOf(told, "ovality") - 2 * part.lobes[0]![1]), `seed ${seed}`).toBeLessThan(
        0.0012,
      );
      expect(Math.abs(numberOf(told, "lobing3") - 2 * part.lobes[1]![1]), `seed ${seed}`).toBeLessThan(
        0.0012,
      );
    }
  });
  it("without the sag the part would be moved too low or too high by just that sag", () => {
    const noise = seededNoise(4);
    const part: Lobed = { center: [0.1, -0.0076], lobes: [] };
    for (const surface of ["bore", "boss"] as const) {
      const blind = sweepAsk(part, { surface, sag: 0.02, stated: "nowhere" }, noise);
      const seeing = sweepAsk(part, { surface, sag: 0.02, stated: "plan" }, noise);
      expect(numberOf(blind, "y") - numberOf(seeing, "y"), surface).toBeCloseTo(0.02, 2);
      expect(Math.sign(amountFor(blind, "part", "y")), surface).toBe(-1);
      expect(Math.sign(amountFor(seeing, "part", "y")), surface).toBe(1);
    }
  });
  it("says which jaw moves outward and which pushes, and the jaws together bring the part home", () => {
    for (let seed = 1; seed <= 60; seed++) {
      const { part, swept, noise } = roundOf(800 + seed);
      const first = noise.between(0, 90);
      const angles = [0, 90, 180, 270].map((k) => first + k);
      const jaws = `, jaws: [${angles.map((a, i) => `{name: jaw-${i + 1}, angle: ${a} deg, pitch: 4 mm}`).join(", ")}]`;
      const told = sweepAsk(part, { ...swept, jaws }, noise);
      // A jaw that backs off lets the part come by that much; the opposite one pushes it as far.
      let [x, y] = part.center;
      for (const k of [0, 1]) {
        const [amount, opposite] = [
          amountFor(told, `jaw-${k + 1}`, "outward"),
          amountFor(told, `jaw-${k + 3}`, "outward"),
        ];
        expect(amount).toBeCloseTo(-opposite, 9);
        x += amount * Math.cos((angles[k]! * Math.PI) / 180);
        y += amount * Math.sin((angles[k]! * Math.PI) / 180);
      }
      expect(Math.hypot(x, y), `seed ${seed}`).toBeLessThan(0.0015);
      expect(told.moves[0]?.amount).toBeGreaterThan(0);
      expect(told.moves[0]?.turnDegrees).toBeCloseTo((told.moves[0]!.amount / 4) * 360, 9);
    }
  });
  it("four readings: gives the centre, no lobes, and says what they cannot tell", () => {
    const told = sweepAsk(
      { center: [0.2, 0.1], lobes: [] },
      { surface: "bore", sag: 0, stated: "nowhere", count: 4 },
      seededNoise(1),
    );
    expect(told.values.ovality).toBeNull();
    expect(told.values.lobing3).toBeNull();
    expect(told.cautions.some((line) => line.text.includes("three lobes read as eccentricity"))).toBe(true);
  });
  it("does not chase what lies within the sweep's own uncertainty", () => {
    const told = sweepAsk(
      { center: [0.0001, 0], lobes: [] },
      { surface: "bore", sag: 0, stated: "plan" },
      seededNoise(3),
    );
    expect(told.headline.text).toContain("leave it");
  });
});
