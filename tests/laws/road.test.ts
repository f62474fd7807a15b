// Laws of the whole road, log text to record: form, size and angle do not depend on where the part lies, how its touches are
// ordered, or in which unit they are written.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compose, movePoint, rotationAbout, translation } from "../../src/math/rigidMotion.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import type { Vec3 } from "../../src/math/vector.ts";
import { makeReports } from "../../src/records/makeReports.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { sha256Of } from "../../src/records/readLogs.ts";

const PLAN_TEXT = `plinth: 1
name: law
title: Law
decision: {rule: simple}
features:
  face: {fit: plane}
  wall: {fit: cylinder, surface: boss}
  ring: {fit: circle, surface: boss}
  ball: {fit: sphere, surface: boss}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 1 mm}
  - {id: square, kind: perpendicularity, of: wall, to: face, max: 1 mm}
  - {id: round, kind: roundness, of: ring, max: 1 mm}
  - {id: size, kind: diameter, of: wall, nominal: 80 mm, plus: 1 mm, minus: 1 mm}
  - {id: ball-size, kind: diameter, of: ball, nominal: 25 mm, plus: 1 mm, minus: 1 mm}
  - {id: lean, kind: angle, of: wall, to: face, nominal: 0 deg, plus: 1 deg, minus: 1 deg}
`;
const PLAN = planFromText({ text: PLAN_TEXT, name: "law.yaml", sha256: sha256Of(PLAN_TEXT) });
const ids = ["flat", "square", "round", "size", "ball-size", "lean"] as const;

interface Touch {
  readonly feature: string;
  readonly place: Vec3;
}
function part(seed: number): Touch[] {
  const noise = seededNoise(seed);
  const rough = (): number => 0.004 * noise.normal();
  const touches: Touch[] = [];
  for (let i = 0; i < 20; i++)
    touches.push({ feature: "face", place: [noise.between(-60, 60), noise.between(-60, 60), rough()] });
  for (let i = 0; i < 36; i++) {
    const [angle, z] = [noise.between(0, 2 * Math.PI), -10 - 12 * (i % 4)];
    const r = 40 + rough();
    touches.push({ feature: "wall", place: [r * Math.cos(angle) + 0.0004 * z, r * Math.sin(angle), z] });
  }
  for (let i = 0; i < 16; i++) {
    const [angle, r] = [(i * Math.PI) / 8, 30 + rough()];
    touches.push({ feature: "ring", place: [r * Math.cos(angle), r * Math.sin(angle), rough()] });
  }
  for (let i = 0; i < 14; i++) {
    const [angle, up] = [(i * 2 * Math.PI) / 7, i < 7 ? 0.2 : 0.7];
    const r = 12.5 + rough();
    const flat = Math.sqrt(1 - up * up);
    touches.push({
      feature: "ball",
      place: [r * flat * Math.cos(angle), r * flat * Math.sin(angle), r * up + 90],
    });
  }
  return touches;
}

function logOf(touches: readonly Touch[], unit: "mm" | "in"): string {
  const scale = unit === "in" ? 25.4 : 1;
  const rows = touches.map(
    ({ feature, place }) => `${feature},${place.map((v) => String(v / scale)).join(",")}`,
  );
  return `# job: LAW\n# unit: ${unit}\n# points: surface\nfeature,x,y,z\n${rows.join("\n")}\n`;
}
function values(touches: readonly Touch[], unit: "mm" | "in" = "mm"): Record<string, number | null> {
  const text = logOf(touches, unit);
  const bytes = new TextEncoder().encode(text);
  const { reports, rejected } = makeReports([{ name: "law.csv", bytes, sha256: sha256Of(text) }], {
    plan: PLAN,
    issued: "2026-11-25T07:00:00Z",
  });
  expect(rejected).toEqual([]);
  return Object.fromEntries((reports[0]?.characteristics ?? []).map(({ id, value }) => [id, value]));
}
function expectSame(
  found: Record<string, number | null>,
  wanted: Record<string, number | null>,
  within: number,
): void {
  for (const id of ids) {
    expect(typeof wanted[id]).toBe("number");
    expect(Math.abs((found[id] ?? Number.NaN) - (wanted[id] ?? Number.NaN))).toBeLessThan(within);
  }
}
/** Touches of one feature stay together: a log that comes back to a feature is refused. */
const shuffled = (touches: readonly Touch[], seed: number): Touch[] => {
  const noise = seededNoise(seed);
  const keyed = touches.map((touch) => ({ touch, key: noise.uniform() }));
  return keyed
    .sort((a, b) => a.touch.feature.localeCompare(b.touch.feature) || a.key - b.key)
    .map(({ touch }) => touch);
};
const seeds = fc.integer({ min: 1, max: 1_000_000 });

describe("the whole road", () => {
  it("does not depend on where the part lies and how it is turned", () => {
    const places = fc.tuple(
      fc.double({ min: -5000, max: 5000, noNaN: true }),
      fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
    );
    fc.assert(
      fc.property(seeds, places, places, places, (seed, [x, a], [y, b], [z, c]) => {
        const touches = part(seed);
        const turn = compose(
          rotationAbout([0, 0, 0], [1, 0, 0], a),
          compose(rotationAbout([0, 0, 0], [0, 1, 0], b), rotationAbout([0, 0, 0], [0, 0, 1], c)),
        );
        const motion = compose(translation([x, y, z]), turn);
        const moved = touches.map(({ feature, place }) => ({ feature, place: movePoint(motion, place) }));
        expectSame(values(moved), values(touches), 1e-7);
      }),
      { numRuns: 25 },
    );
  });
  it("does not depend on the order of the touches", () => {
    fc.assert(
      fc.property(seeds, seeds, (seed, order) =>
        expectSame(values(shuffled(part(seed), order)), values(part(seed)), 1e-9),
      ),
      { numRuns: 25 },
    );
  });
  it("does not depend on the unit of the log", () => {
    fc.assert(
      fc.property(seeds, (seed) => expectSame(values(part(seed), "in"), values(part(seed)), 1e-9)),
      { numRuns: 25 },
    );
  });
});
