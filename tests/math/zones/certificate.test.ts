import { describe, expect, test } from "vitest";
import type { Outcome } from "../../../src/math/outcome.ts";
import type { Points2, Points3 } from "../../../src/math/points.ts";
import { basis, cross } from "../../../src/math/vector.ts";
import {
  angularityZone,
  axisCylinder,
  type Certified,
  checkCertificate,
  circumscribedCircle,
  circumscribedCylinder,
  inscribedCircle,
  inscribedCylinder,
  parallelZone,
  perpendicularityZone,
  tangentPlane,
  zoneCircle,
  zoneCylinder,
  zoneLine,
  zonePlane,
} from "../../../src/math/zones/index.ts";
import { cylinder, face, round } from "./sets.ts";

const SEEDS = Array.from({ length: 1000 }, (_, seed) => seed + 1);

function failures<K extends keyof Certified>(
  kind: K,
  solve: (seed: number) => { points: Certified[K]["points"]; outcome: Outcome<Certified[K]["result"]> },
): string[] {
  return SEEDS.flatMap((seed) => {
    const { points, outcome } = solve(seed);
    if (!outcome.ok) return [`seed ${seed}: ${outcome.code}, ${outcome.text}`];
    const check = checkCertificate(kind, points, outcome);
    return check.proved ? [] : [`seed ${seed}: ${check.because}`];
  });
}
const strip = (seed: number): Points2 => {
  const { points, normal } = face(seed);
  const { u, w } = basis(normal);
  const along = (d: readonly number[]) =>
    points.x.map((x, i) => x * d[0]! + points.y[i]! * d[1]! + points.z[i]! * d[2]!);
  return { x: along(u), y: along(w) };
};

describe("a thousand random results of every kind prove themselves", () => {
  test("minimum-zone planes", () => {
    expect(
      failures("planeZone", (seed) => {
        const { points, normal } = face(seed);
        return { points, outcome: zonePlane(points, { about: normal }) };
      }),
    ).toEqual([]);
  });
  test("tangent planes", () => {
    expect(
      failures("tangentPlane", (seed) => {
        const { points, normal } = face(seed);
        return { points, outcome: tangentPlane(points, { outward: normal }) };
      }),
    ).toEqual([]);
  });
  test("strips", () => {
    expect(
      failures("lineZone", (seed) => ({
        points: strip(seed),
        outcome: zoneLine(strip(seed), { about: [1, 0] }),
      })),
    ).toEqual([]);
  });
  test("minimum-zone circles", () => {
    expect(
      failures("circleZone", (seed) => {
        const { points, center } = round(seed);
        return { points, outcome: zoneCircle(points, { start: center }) };
      }),
    ).toEqual([]);
  });
  test("circumscribed circles", () => {
    expect(
      failures("circumscribedCircle", (seed) => {
        const { points } = round(seed);
        return { points, outcome: circumscribedCircle(points) };
      }),
    ).toEqual([]);
  });
  test("inscribed circles", () => {
    expect(
      failures("inscribedCircle", (seed) => {
        const { points } = round(seed);
        return { points, outcome: inscribedCircle(points) };
      }),
    ).toEqual([]);
  });
  test("perpendicularity, angularity and parallelism", () => {
    const datumOf = (seed: number) => {
      const { points, normal } = face(seed);
      return { points, normal, datum: basis(normal).u };
    };
    expect(
      failures("orientationZone", (seed) => {
        const { points, normal, datum } = datumOf(seed);
        return { points, outcome: perpendicularityZone(points, { datum, about: normal }) };
      }),
    ).toEqual([]);
    expect(
      failures("orientationZone", (seed) => {
        const { points, normal, datum } = datumOf(seed);
        const angle = 0.5 + (seed % 7) / 5;
        const tilted = cross(cross(datum, normal), [0.3, 0.2, 0.9]);
        return { points, outcome: angularityZone(points, { datum: tilted, about: normal, angle }) };
      }),
    ).toEqual([]);
    expect(
      failures("orientationZone", (seed) => {
        const { points, normal } = datumOf(seed);
        return { points, outcome: parallelZone(points, { datum: normal }) };
      }),
    ).toEqual([]);
  });
  test("cylinders along a direction", () => {
    expect(
      failures("axisCylinder", (seed) => {
        const { points, direction } = cylinder(seed);
        return { points, outcome: axisCylinder(points, { direction }) };
      }),
    ).toEqual([]);
  });
  test("minimum-zone cylinders", () => {
    expect(failures("cylinderZone", (seed) => solved(seed, zoneCylinder))).toEqual([]);
  });
  test("circumscribed cylinders", () => {
    expect(failures("circumscribedCylinder", (seed) => solved(seed, circumscribedCylinder))).toEqual([]);
  });
  test("inscribed cylinders", () => {
    expect(failures("inscribedCylinder", (seed) => solved(seed, inscribedCylinder))).toEqual([]);
  });
});

function solved<T>(
  seed: number,
  solver: (points: Points3, start: { center: Vec; direction: Vec }) => Outcome<T>,
): { points: Points3; outcome: Outcome<T> } {
  const { points, center, direction } = cylinder(seed);
  return { points, outcome: solver(points, { center, direction }) };
}
type Vec = readonly [number, number, number];

describe("a false claim is refused", () => {
  const { points, center } = round(7);
  const honest = zoneCircle(points, { start: center });
  if (!honest.ok) throw new Error(honest.text);
  test.each([
    ["a point outside", { outerRadius: honest.outerRadius - 1e-6 }, /outside/],
    ["a support off the border", { innerRadius: honest.innerRadius - 1e-6 }, /border/],
    ["a weight that is missing", { outer: honest.outer.slice(1) }, /sum to one|balance/],
    ["a negative weight", { outer: honest.outer.map((s) => ({ ...s, weight: -s.weight })) }, /negative/],
    ["one support for all", { inner: [{ index: honest.inner[0]!.index, weight: 1 }] }, /balance/],
  ])("%s", (_, change, because) => {
    expect(checkCertificate("circleZone", points, honest).proved).toBe(true);
    const check = checkCertificate("circleZone", points, { ...honest, ...change });
    expect(check.proved).toBe(false);
    expect(check.because).toMatch(because);
  });
  test("a zone about a direction that is not the best", () => {
    const set = face(3);
    const good = zonePlane(set.points, { about: set.normal });
    if (!good.ok) throw new Error(good.text);
    const wider = parallelZone(set.points, { datum: set.normal });
    if (!wider.ok) throw new Error(wider.text);
    expect(wider.width).toBeGreaterThan(good.width);
    expect(checkCertificate("planeZone", set.points, { ...good, ...wider }).proved).toBe(false);
  });
});
