import { describe, expect, it } from "vitest";
import { points3 } from "../../../src/math/points.ts";
import { seededNoise } from "../../../src/math/seededNoise.ts";
import { length, scale, subtract, unit, type Vec3 } from "../../../src/math/vector.ts";
import { circumscribedSphere } from "../../../src/math/zones/circumscribedSphere.ts";
import { inscribedSphere, zoneSphere } from "../../../src/math/zones/zoneSphere.ts";

const OCTAHEDRON: Vec3[] = [
  [10, 0, 0],
  [-10, 0, 0],
  [0, 10, 0],
  [0, -10, 0],
  [0, 0, 10.4],
  [0, 0, -10.4],
];
const radii = (places: readonly Vec3[], center: Vec3) =>
  places.map((place) => length(subtract(place, center)));

describe("an octahedron with two corners 0.4 further out", () => {
  it("has a zone of 0.4, lies in a sphere of 10.4 and holds one that reaches a hair beyond 10", () => {
    const points = points3(OCTAHEDRON);
    const zone = zoneSphere(points, [0.1, 0.05, -0.2]);
    expect(zone.ok && zone.width).toBeCloseTo(0.4, 9);
    const outer = circumscribedSphere(points);
    expect(outer.ok && outer.radius).toBeCloseTo(10.4, 9);
    const inner = inscribedSphere(points, [0, 0, 0.01]);
    // Moved along z until four corners and one end are equally far: root(100 + h^2) = 10.4 - h, h = 8.16 / 20.8.
    expect(inner.ok && inner.radius).toBeCloseTo(10.4 - 8.16 / 20.8, 9);
  });
});

describe("random balls", () => {
  const noise = seededNoise(5);
  it.each([...Array(40).keys()])("hold what they promise, against a search round about, %i", () => {
    const places = [...Array(12 + noise.below(30)).keys()].map(
      (): Vec3 => scale(unit([noise.normal(), noise.normal(), noise.normal()]), 20 + 0.01 * noise.normal()),
    );
    const points = points3(places);
    const start: Vec3 = [0.001, -0.002, 0.001];
    const [zone, outer] = [zoneSphere(points, start), circumscribedSphere(points)];
    if (!zone.ok || !outer.ok) throw new Error("no result");
    const spread = (center: Vec3) => Math.max(...radii(places, center)) - Math.min(...radii(places, center));
    expect(spread(zone.center)).toBeCloseTo(zone.width, 10);
    expect(Math.max(...radii(places, outer.center))).toBeCloseTo(outer.radius, 10);
    for (let trial = 0; trial < 200; trial++) {
      const size = 10 ** -noise.between(1, 5);
      const near = (center: Vec3): Vec3 => [
        center[0] + size * noise.normal(),
        center[1] + size * noise.normal(),
        center[2] + size * noise.normal(),
      ];
      expect(spread(near(zone.center))).toBeGreaterThanOrEqual(zone.width - 1e-9);
      expect(Math.max(...radii(places, near(outer.center)))).toBeGreaterThanOrEqual(outer.radius - 1e-9);
    }
    const inner = inscribedSphere(points, start);
    if (inner.ok) expect(Math.min(...radii(places, inner.center))).toBeCloseTo(inner.radius, 10);
  });
  it("find the sphere between the points from a start far from its centre, none in a touched half", () => {
    const reach = Math.max(...OCTAHEDRON.flat());
    const near = inscribedSphere(points3(OCTAHEDRON), [0, 0, 0.01 * reach]);
    const far = inscribedSphere(points3(OCTAHEDRON), [0.1 * reach, 0.2 * reach, -0.3 * reach]);
    if (!near.ok || !far.ok) throw new Error("no result");
    expect(far.radius).toBeCloseTo(near.radius, 9);
    // The usual touches on a reference ball: its pole, four half-way up and four just above its equator.
    const half = [0, 1, 2, 3].flatMap((i): Vec3[] => {
      const [c, s] = [Math.cos((i * Math.PI) / 2), Math.sin((i * Math.PI) / 2)];
      return [
        [20 * c, 20 * s, 0.5],
        [20 * Math.SQRT1_2 * c, 20 * Math.SQRT1_2 * s, 20 * Math.SQRT1_2],
      ];
    });
    expect(inscribedSphere(points3([[0, 0, 20], ...half]), [0, 0, 0])).toMatchObject({
      ok: false,
      code: "no-convergence",
    });
  });
  it("are held from outside by a few points whose weighted mean is the centre, also where many lie on one sphere", () => {
    const noise = seededNoise(11);
    for (let trial = 0; trial < 60; trial++) {
      // Steps of a scale put many points exactly on one sphere, one plane or one place.
      const places = Array.from(
        { length: 5 + (trial % 20) },
        (): Vec3 => [
          Math.round(2 * noise.normal()),
          Math.round(2 * noise.normal()),
          trial % 3 === 0 ? 7 : Math.round(2 * noise.normal()),
        ],
      );
      const outer = circumscribedSphere(points3(places));
      if (!outer.ok) throw new Error(outer.text);
      expect(Math.max(...radii(places, outer.center))).toBeCloseTo(outer.radius, 12);
      for (const axis of [0, 1, 2] as const) {
        const mean = outer.held.reduce(
          (sum, { index, weight }) => sum + weight * (places[index]?.[axis] ?? 0),
          0,
        );
        expect(mean).toBeCloseTo(outer.center[axis], 8);
      }
      for (const { index, weight } of outer.held) {
        expect(weight).toBeGreaterThanOrEqual(0);
        expect(radii(places, outer.center)[index]).toBeCloseTo(outer.radius, 8);
      }
    }
  });
  it("refuse what leaves a side open, too few points and no numbers", () => {
    const cap = [...Array(20).keys()].map(
      (i): Vec3 => scale(unit([Math.cos(i), Math.sin(i), 2 + (i % 3)]), 20),
    );
    expect(inscribedSphere(points3(cap), [0, 0, 0]).ok).toBe(false);
    expect(zoneSphere(points3(OCTAHEDRON.slice(0, 3)), [0, 0, 0]).ok).toBe(false);
    expect(zoneSphere(points3([[Number.NaN, 0, 0], ...OCTAHEDRON]), [0, 0, 0]).ok).toBe(false);
  });
});
