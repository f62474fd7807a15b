// Fits against parts of known geometry: least squares to 1e-7 mm, sides of normals, tips taken off with the right sign.
import { describe, expect, it } from "vitest";
import type { FittedFeature } from "../../src/analysis/fittedFeature.ts";
import { fitFeatures } from "../../src/analysis/fitting/fitFeatures.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import {
  add,
  angleBetween,
  basis,
  dot,
  length,
  scale,
  subtract,
  unit,
  type Vec3,
} from "../../src/math/vector.ts";
import type { MeasuredFeature } from "../../src/model/measurement.ts";
import { grid, PROBE, planOf, range, ring, setOf, touched, traverse, withTouches } from "./setting.ts";

const fitted = (plan: string, features: readonly MeasuredFeature[], name = "it"): FittedFeature => {
  const found = fitFeatures(setOf(features), planOf(`${PROBE}features:\n${plan}`)).feature(name);
  if (!found.ok) expect.fail(found.text.text);
  return found;
};
const BALL = { tip: { points: "ball-center", radiusMm: 3 } } as const;

describe("random parts are found to 1e-7 mm", () => {
  const noise = seededNoise(7);
  const anyDirection = (): Vec3 => unit([noise.normal(), noise.normal(), noise.normal()]);
  const anyPlace = (): Vec3 => [noise.between(-500, 500), noise.between(-500, 500), noise.between(-500, 500)];
  const off = (found: FittedFeature, place: Vec3): number => {
    const from = subtract(place, found.geometry.center);
    return length(subtract(from, scale(found.geometry.direction!, dot(from, found.geometry.direction!))));
  };

  it.each(range(30))("plane, circle, cylinder, sphere, line and axis %i", () => {
    const [center, direction] = [anyPlace(), anyDirection()];
    const { u, v } = basis(direction);
    const radius = noise.between(5, 150);
    const on = (a: number, at: number, r = radius): Vec3 =>
      add(center, add(scale(direction, at), add(scale(u, r * Math.cos(a)), scale(v, r * Math.sin(a)))));
    const angles = range(14)
      .map(() => noise.between(0, 2 * Math.PI))
      .concat([0, 2, 4]);
    const plane = fitted("  it: {fit: plane}", [
      touched(
        "it",
        angles.map((a) => on(a, 0, noise.between(1, 200))),
      ),
    ]);
    expect(Math.abs(dot(subtract(plane.geometry.center, center), direction))).toBeLessThan(1e-7);
    expect(Math.sin(angleBetween(plane.geometry.direction!, direction))).toBeLessThan(1e-9);
    const circle = fitted("  it: {fit: circle}", [
      touched(
        "it",
        angles.map((a) => on(a, 0)),
      ),
    ]);
    expect(length(subtract(circle.geometry.center, center))).toBeLessThan(1e-7);
    expect(circle.geometry.radius).toBeCloseTo(radius, 7);
    const rod = fitted(`  it: {fit: cylinder, normal: [${direction.join(", ")}]}`, [
      touched(
        "it",
        angles.map((a, i) => on(a, (i % 3) * 40)),
      ),
    ]);
    expect(off(rod, center)).toBeLessThan(1e-6);
    expect(rod.geometry.radius).toBeCloseTo(radius, 6);
    const ball = fitted("  it: {fit: sphere}", [
      touched(
        "it",
        angles.map(() => add(center, scale(anyDirection(), radius))),
      ),
    ]);
    expect(length(subtract(ball.geometry.center, center))).toBeLessThan(1e-7);
    const line = fitted("  it: {fit: line}", [
      touched(
        "it",
        range(5).map((i) => add(center, scale(direction, i * 30))),
      ),
    ]);
    expect(off(line, center)).toBeLessThan(1e-7);
    const axis = fitted(
      "  one: {fit: circle}\n  two: {fit: circle}\n  it: {fit: axis, through: [one, two]}",
      [
        touched(
          "one",
          angles.map((a) => on(a, 0)),
        ),
        touched(
          "two",
          angles.map((a) => on(a, 120)),
        ),
      ],
    );
    expect(angleBetween(axis.geometry.direction!, direction)).toBeLessThan(1e-8);
    expect(axis.extent![1] - axis.extent![0]).toBeCloseTo(120, 7);
  });
});

describe("the normal points out of the material", () => {
  const face = grid(3, 50, () => 4);
  const normalOf = (plan: string, feature: MeasuredFeature) => fitted(plan, [feature]).geometry.direction!;
  it("along the touches before the plan's normal, the plan's normal before the largest component", () => {
    const down = withTouches(
      touched("it", face),
      face.map((): Vec3 => [0, 0, -1]),
    );
    expect(normalOf("  it: {fit: plane, normal: [0, 0, 1]}", down)[2]).toBeCloseTo(-1, 12);
    expect(normalOf("  it: {fit: plane, normal: [0, 0, -1]}", touched("it", face))[2]).toBeCloseTo(-1, 12);
    expect(normalOf("  it: {fit: plane}", touched("it", face))[2]).toBeCloseTo(1, 12);
  });
  it("of equal components Z counts before Y and Y before X", () => {
    const across = grid(3, 50, () => 0).map(([a, b]): Vec3 => [a, a, b]);
    // Normal along (1, -1, 0): Y is to be positive.
    const normal = normalOf("  it: {fit: plane}", touched("it", across));
    expect(normal[1]).toBeCloseTo(Math.SQRT1_2, 9);
    expect(normal[0]).toBeCloseTo(-Math.SQRT1_2, 9);
  });
  it("turns a circle's direction only: its place stays", () => {
    const up = fitted("  it: {fit: circle, normal: [0, 0, 1]}", [
      touched(
        "it",
        ring(6, () => 10, [1, 2, 3]),
      ),
    ]);
    const down = fitted("  it: {fit: circle, normal: [0, 0, -1]}", [
      touched(
        "it",
        ring(6, () => 10, [1, 2, 3]),
      ),
    ]);
    expect(up.geometry.direction![2]).toBeCloseTo(1, 12);
    expect(down.geometry.direction![2]).toBeCloseTo(-1, 12);
    expect(down.geometry.center[0]).toBeCloseTo(up.geometry.center[0], 12);
  });
});

describe("the ball is taken off", () => {
  it("a face lies a ball's radius below the centres, along its own normal and not along the approach", () => {
    const slope = Math.tan(Math.PI / 18);
    const centers = grid(3, 50, (x) => 100 + slope * x);
    const found = fitted("  it: {fit: plane, normal: [0, 0, 1]}", [touched("it", centers, BALL)]);
    // Ten degrees: square to the face 3, along Z 3 / cos(10 degrees) below the centres.
    const below = 100 - found.geometry.center[2] + slope * found.geometry.center[0];
    expect(below).toBeCloseTo(3 / Math.cos(Math.PI / 18), 9);
  });
  it("a face seen from below lies above the centres", () => {
    expect(
      fitted("  it: {fit: plane, normal: [0, 0, -1]}", [
        touched(
          "it",
          grid(3, 50, () => 100),
          BALL,
        ),
      ]).geometry.center[2],
    ).toBeCloseTo(103, 9);
  });
  it("a bore of 93.998 over centres is 99.998 with a 6 mm ball, a boss 87.998; the centre stays", () => {
    const centers = touched(
      "it",
      ring(8, () => 46.999, [5, 6, 7]),
      BALL,
    );
    expect(2 * fitted("  it: {fit: circle, surface: bore}", [centers]).geometry.radius!).toBeCloseTo(
      99.998,
      9,
    );
    const boss = fitted("  it: {fit: circle, surface: boss}", [centers]);
    expect(2 * boss.geometry.radius!).toBeCloseTo(87.998, 9);
    expect(boss.geometry.center[0]).toBeCloseTo(5, 9);
    expect(Math.hypot(boss.points.x[0]! - 5, boss.points.y[0]! - 6)).toBeCloseTo(43.999, 9);
  });
  it("touch directions tell a bore from a boss where the plan does not; without them the size is not known", () => {
    const centers = ring(8, () => 47);
    const inwards = withTouches(
      touched("it", centers, BALL),
      centers.map(([x, y]): Vec3 => unit([-x, -y, 0])),
    );
    const found = fitted("  it: {fit: circle}", [inwards]);
    expect(found.geometry.radius).toBeCloseTo(50, 9);
    expect(found.tipUnknown).toBe(false);
    expect(fitted("  it: {fit: circle}", [touched("it", centers, BALL)]).tipUnknown).toBe(true);
  });
  it("a sphere of ball centres has the centre of the sphere and the radius less the ball's", () => {
    const places = range(12).map((i): Vec3 => {
      const [a, b] = [i * 2.4, (i / 12) * 1.4];
      return [10 + 15 * Math.cos(a) * Math.cos(b), 15 * Math.sin(a) * Math.cos(b), 15 * Math.sin(b)];
    });
    const found = fitted("  it: {fit: sphere, surface: boss}", [touched("it", places, BALL)]);
    expect(found.geometry.radius).toBeCloseTo(12, 9);
    expect(found.geometry.center[0]).toBeCloseTo(10, 9);
  });
  it("a point is the mean of its readings, moved against the touch direction", () => {
    const spot = withTouches(
      touched(
        "it",
        [
          [1, 2, 10.001],
          [1, 2, 9.999],
        ],
        BALL,
      ),
      [
        [0, 0, 1],
        [0, 0, 1],
      ],
    );
    expect(fitted("  it: {fit: point}", [spot]).geometry.center).toEqual([1, 2, expect.closeTo(7, 9)]);
  });
  it("the plan's tip counts where the log is silent", () => {
    const silent = touched(
      "it",
      ring(8, () => 47),
      { tip: { points: "unknown", radiusMm: null } },
    );
    expect(
      fitted("  it: {fit: circle, surface: bore, points: ball-center, tip-diameter: 6 mm}", [silent]).geometry
        .radius,
    ).toBeCloseTo(50, 9);
    expect(fitted("  it: {fit: circle, surface: bore}", [silent]).tipUnknown).toBe(true);
  });
});

describe("lines and states", () => {
  it("a traverse is fitted in the plane of travel and height, square to the line", () => {
    const found = fitted("  it: {fit: line, from: traverse, along: y, height: z}", [
      traverse("it", [0, 100, 200], [1, 1.01, 1.02]),
    ]);
    expect(found.geometry.direction![0]).toBe(0);
    expect(found.geometry.direction![2] / found.geometry.direction![1]).toBeCloseTo(0.0001, 12);
    expect(found.extent![1] - found.extent![0]).toBeCloseTo(200, 5);
  });
  it("as left counts before as found; each can be asked for; what was not measured is missing", () => {
    const plan = planOf(
      `${PROBE}features:\n  it: {fit: plane}\n  other: {fit: plane}\n  c: {fit: circle}\n  d: {fit: circle}\n  both: {fit: axis, through: [c, d]}`,
    );
    const before = touched(
      "it",
      grid(3, 50, () => 1),
      { state: "as-found" },
    );
    const after = touched(
      "it",
      grid(3, 50, () => 2),
    );
    const lookup = fitFeatures(setOf([after, before]), plan);
    const height = (state?: "as-found" | "as-left") => {
      const found = lookup.feature("it", state);
      return found.ok ? found.geometry.center[2] : null;
    };
    expect([height(), height("as-found"), height("as-left")]).toEqual([2, 1, 2]);
    expect(lookup.feature("other")).toMatchObject({ ok: false, why: "missing" });
    expect(lookup.feature("both")).toMatchObject({ ok: false, why: "missing" });
    expect(() => lookup.feature("nowhere")).toThrow(RangeError);
  });
  it("an uncertainty is stated, or put together from resolution, repeat and largest error", () => {
    const scaleOf = (instrument: string) =>
      (
        fitFeatures(
          setOf([
            touched(
              "it",
              grid(3, 50, () => 1),
            ),
          ]),
          planOf(`instruments: {probe: ${instrument}}\nfeatures:\n  it: {fit: plane}`),
        ).feature("it") as FittedFeature
      ).scale;
    expect(scaleOf("{uncertainty: 0.002 mm}").statedMm).toBe(0.002);
    expect(scaleOf("{resolution: 0.001 mm, repeat: 0.0005 mm, max-error: 0.002 mm}").statedMm).toBeCloseTo(
      Math.hypot(0.001 / Math.sqrt(12), 0.0005, 0.002 / Math.sqrt(3)),
      12,
    );
  });
});
