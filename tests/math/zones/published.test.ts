import { describe, expect, test } from "vitest";
import { fitCircle2 } from "../../../src/math/fitCircle2.ts";
import type { Outcome } from "../../../src/math/outcome.ts";
import { points2, points3 } from "../../../src/math/points.ts";
import type { Vec3 } from "../../../src/math/vector.ts";
import {
  circumscribedCircle,
  inscribedCircle,
  tangentPlane,
  zoneCircle,
  zoneLine,
  zonePlane,
} from "../../../src/math/zones/index.ts";
import casesFile from "../../references/zones.json" with { type: "json" };

interface ZoneCase {
  readonly id: string;
  readonly check: string;
  readonly points: readonly (readonly number[])[];
  readonly published: Readonly<Record<string, number>> | null;
  readonly tolerance: Readonly<Record<string, number>>;
  readonly recomputed: Readonly<Record<string, number>>;
}
const cases = casesFile as unknown as readonly ZoneCase[];
const byId = (id: string): ZoneCase => cases.find((one) => one.id === id)!;
const flat = ({ points }: ZoneCase) => points2(points as readonly [number, number][]);
const solid = ({ points }: ZoneCase) => points3(points as readonly Vec3[]);
function got<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.text);
  return outcome;
}

const solvers: Record<string, (one: ZoneCase) => Record<string, number>> = {
  mcc: (one) => {
    const { center, radius } = got(circumscribedCircle(flat(one)));
    return { x: center[0], y: center[1], r: radius };
  },
  mic: (one) => {
    const { center, radius } = got(inscribedCircle(flat(one)));
    return { x: center[0], y: center[1], r: radius };
  },
  minwidth: (one) => {
    const zone = got(zoneLine(flat(one), { about: [1, -2] }));
    return { width: zone.narrower?.width ?? zone.width };
  },
};

describe("published enclosing circles, inscribed circles and strips", () => {
  test.each(cases.filter((one) => one.published !== null))("$id", (one) => {
    const found = solvers[one.check]!(one);
    for (const [key, value] of Object.entries(one.published!)) {
      expect(Math.abs(found[key]! - value)).toBeLessThanOrEqual(one.tolerance[key]!);
      expect(found[key]).toBeCloseTo(one.recomputed[key]!, 9);
    }
  });
});

test("zones, enclosing and inscribed circle of six published points", () => {
  const one = byId("zones-cookbook-circle");
  const points = flat(one);
  const zone = got(zoneCircle(points, { start: [10.5, 9.66] }));
  expect(zone.proof).toBe("global");
  expect(zone.width).toBeCloseTo(one.recomputed.mz_roundness!, 12);
  expect(zone.center[0]).toBeCloseTo(one.recomputed.mz_x!, 10);
  expect(zone.center[1]).toBeCloseTo(one.recomputed.mz_y!, 10);
  expect(zone.outerRadius).toBeCloseTo(one.recomputed.mz_r_out!, 10);
  expect(zone.innerRadius).toBeCloseTo(one.recomputed.mz_r_in!, 10);
  expect(got(circumscribedCircle(points)).radius).toBeCloseTo(one.recomputed.mcc_r!, 10);
  expect(got(inscribedCircle(points)).radius).toBeCloseTo(one.recomputed.mic_r!, 10);
  expect(zone.width).toBeLessThan(one.recomputed.ls_roundness!);
});

test("strip of Pearson's points", () => {
  const one = byId("strip-pearson-1901");
  const zone = got(zoneLine(flat(one), { about: [1, -0.5455611975] }));
  expect(zone.width).toBeCloseTo(one.recomputed.mz_straightness!, 12);
  expect(zone.proof).toBe("global");
});

test("flatness of Moody's plate", () => {
  const one = byId("plate-moody-1955");
  const zone = got(zonePlane(solid(one), { about: [0, 0, 1] }));
  expect(zone.width).toBeCloseTo(one.recomputed.minimumZone!, 7);
  expect(zone.proof).toBe("global");
});

test("bar of twelve touches", () => {
  const one = byId("bar-12-touches");
  const points = flat(one);
  const fitted = got(fitCircle2(points));
  const zone = got(zoneCircle(points, { start: fitted.center }));
  expect(zone.width).toBeCloseTo(one.recomputed.roundness!, 10);
  const inscribed = got(inscribedCircle(points));
  expect(2 * inscribed.radius).toBeCloseTo(one.recomputed.inscribedDiameter!, 8);
  expect(inscribed.center[0]).toBeCloseTo(one.recomputed.inscribedX!, 6);
  expect(inscribed.center[1]).toBeCloseTo(one.recomputed.inscribedY!, 6);
  expect(2 * got(circumscribedCircle(points)).radius).toBeCloseTo(one.recomputed.circumscribedDiameter!, 12);
  expect(zone.width).toBeLessThan(one.recomputed.leastSquaresRoundness!);
});

test("domed face of nine readings: zone, and a tangent plane that touches one point and rocks", () => {
  const one = byId("dome-3x3");
  const zone = got(zonePlane(solid(one), { about: [0, 0, 1] }));
  expect(zone.width).toBeCloseTo(one.recomputed.minimumZone!, 9);
  const tangent = got(tangentPlane(solid(one), { outward: [0, 0, 1] }));
  expect(tangent.largestGap).toBeCloseTo(one.recomputed.tangentLargestGap!, 9);
  expect(tangent.contacts).toEqual([4]);
  expect(tangent.rocks).toBe(true);
});
