import highsModule, { type Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import type { Outcome } from "../../../src/math/outcome.ts";
import type { Points2, Points3 } from "../../../src/math/points.ts";
import { add, basis, dot, scale, subtract, unit, type Vec2, type Vec3 } from "../../../src/math/vector.ts";
import {
  circumscribedCircle,
  circumscribedCylinder,
  inscribedCylinder,
  solveLinearProgram,
  zoneCircle,
  zoneCylinder,
  zonePlane,
} from "../../../src/math/zones/index.ts";
import { cylinder, face, round, uniform } from "./sets.ts";

let highs: Highs;
beforeAll(async () => {
  // The package types its default export as a CommonJS module; imported as here it is the loader itself.
  highs = await (highsModule as unknown as typeof highsModule.default)();
});
function got<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.text);
  return outcome;
}

/** A linear programme in the text form that the other solver reads: min cost . v, rows . v >= bounds, |v| <= box. */
function write(cost: number[], rows: number[][], bounds: number[], box: number[]): string {
  const sum = (row: readonly number[]): string =>
    row.map((value, j) => `${value < 0 ? "-" : "+"} ${Math.abs(value).toExponential()} v${j}`).join(" ");
  return [
    "Minimize",
    ` obj: ${sum(cost)}`,
    "Subject To",
    ...rows.map((row, i) => ` c${i}: ${sum(row)} >= ${bounds[i]!.toExponential()}`),
    "Bounds",
    ...box.map((limit, j) => ` ${-limit} <= v${j} <= ${limit}`),
    "End",
  ].join("\n");
}
function solveElsewhere(cost: number[], rows: number[][], bounds: number[], box: number[]): number[] {
  const solution = highs.solve(write(cost, rows, bounds, box), { primal_feasibility_tolerance: 1e-10 });
  if (solution.Status !== "Optimal") throw new Error(solution.Status);
  return cost.map((_, j) => solution.Columns[`v${j}`]!.Primal);
}

type Sides = "range" | "upper" | "lower";
/** Best step by the other solver for values[i] + gradients[i] . step; values must be of order one. */
function stepElsewhere(values: number[], gradients: number[][], sides: Sides, limit: number): number[] {
  const size = gradients[0]!.length;
  const middle = values.reduce((total, value) => total + value, 0) / values.length;
  // Spread to order one, since the other solver's tolerance is absolute.
  const unitOf = Math.max(...values.map((value) => Math.abs(value - middle)), 1e-12);
  const [rows, bounds]: [number[][], number[]] = [[], []];
  values.forEach((value, i) => {
    const height = (value - middle) / unitOf;
    if (sides !== "lower") {
      rows.push([...gradients[i]!.map((g) => -g), 1, 0]);
      bounds.push(height);
    }
    if (sides !== "upper") {
      rows.push([...gradients[i]!, 0, -1]);
      bounds.push(-height);
    }
  });
  const cost = [...new Array<number>(size).fill(0), sides === "lower" ? 0 : 1, sides === "upper" ? 0 : -1];
  const box = [...new Array<number>(size).fill(limit / unitOf), 1e4, 1e4];
  return solveElsewhere(cost, rows, bounds, box)
    .slice(0, size)
    .map((value) => value * unitOf);
}

const spread = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
const places = (points: Points3): Vec3[] =>
  Array.from(points.x, (x, i): Vec3 => [x, points.y[i]!, points.z[i]!]);

/** Minimum-zone plane as a sequence of height programmes, each in the frame of the last result. */
function planeElsewhere(points: Points3, start: Vec3): number {
  const all = places(points);
  const middle = scale(all.reduce(add), 1 / all.length);
  const arms = all.map((p) => subtract(p, middle));
  let normal = start;
  let width = spread(arms.map((arm) => dot(arm, normal)));
  for (let round = 0; round < 12; round++) {
    const { u, v, w } = basis(normal);
    const heights = arms.map((arm) => dot(arm, w));
    const size = Math.max(...arms.map((arm) => Math.hypot(...arm)));
    const flat = arms.map((arm) => [dot(arm, u) / size, dot(arm, v) / size]);
    const step = stepElsewhere(heights, flat, "range", size);
    const next = unit(add(w, add(scale(u, step[0]! / size), scale(v, step[1]! / size))));
    const nextWidth = spread(arms.map((arm) => dot(arm, next)));
    if (nextWidth >= width - 1e-14) break;
    [normal, width] = [next, nextWidth];
  }
  return width;
}
/** Ring or enclosing circle as a sequence of linear programmes in the shift of the centre. */
function circleElsewhere({ x, y }: Points2, start: Vec2, sides: Sides): number {
  let center = start;
  const radii = ([cx, cy]: Vec2): number[] => Array.from(x, (_, i) => Math.hypot(x[i]! - cx, y[i]! - cy));
  const measure = (values: number[]): number => (sides === "range" ? spread(values) : Math.max(...values));
  let value = measure(radii(center));
  let limit = value;
  for (let round = 0; round < 120 && limit > 1e-9; round++) {
    const r = radii(center);
    const gradients = r.map((radius, i) => [(center[0] - x[i]!) / radius, (center[1] - y[i]!) / radius]);
    const step = stepElsewhere(r, gradients, sides, limit);
    const next: Vec2 = [center[0] + step[0]!, center[1] + step[1]!];
    const nextValue = measure(radii(next));
    if (nextValue < value - 1e-14) [center, value] = [next, nextValue];
    else limit /= 3;
  }
  return value;
}
/** Cylinder about an axis as a sequence of linear programmes in shift and tilt. */
function cylinderElsewhere(points: Points3, start: { center: Vec3; direction: Vec3 }, sides: Sides): number {
  const all = places(points);
  let axis = start;
  const look = ({ center, direction }: typeof start) => {
    const { u, v, w } = basis(direction);
    return all.map((p) => {
      const arm = subtract(p, center);
      const [a, b, h] = [dot(arm, u), dot(arm, v), dot(arm, w)];
      return { r: Math.hypot(a, b), a, b, h };
    });
  };
  const measure = (seen: readonly { r: number }[]): number => {
    const r = seen.map((one) => one.r);
    return sides === "range" ? spread(r) : sides === "upper" ? Math.max(...r) : -Math.min(...r);
  };
  let value = measure(look(axis));
  let limit = 1;
  for (let round = 0; round < 60; round++) {
    const seen = look(axis);
    const long = Math.max(...seen.map(({ h }) => Math.abs(h)));
    const gradients = seen.map(({ r, a, b, h }) => [
      -a / r,
      -b / r,
      (-a * h) / (r * long),
      (-b * h) / (r * long),
    ]);
    const step = stepElsewhere(
      seen.map(({ r }) => r),
      gradients,
      sides,
      limit,
    );
    const { u, v, w } = basis(axis.direction);
    const center = add(axis.center, add(scale(u, step[0]!), scale(v, step[1]!)));
    const direction = unit(add(w, add(scale(u, step[2]! / long), scale(v, step[3]! / long))));
    const nextValue = measure(look({ center, direction }));
    if (nextValue < value - 1e-14) [axis, value] = [{ center, direction }, nextValue];
    else limit /= 4;
    if (limit < 1e-9) break;
  }
  return value;
}

const SEEDS = Array.from({ length: 40 }, (_, seed) => 2001 + seed);
describe("against an independent linear solver", () => {
  test.each(SEEDS)("plane, set %i", (seed) => {
    const { points, normal } = face(seed);
    const zone = got(zonePlane(points, { about: normal }));
    expect(Math.abs(zone.width - planeElsewhere(points, normal))).toBeLessThan(2e-10);
  });
  test.each(SEEDS)("ring and enclosing circle, set %i", (seed) => {
    const { points, center, full } = round(seed);
    if (full) {
      const zone = got(zoneCircle(points, { start: center }));
      const other = circleElsewhere(points, center, "range");
      // The other road goes downhill from one start only: it may end in a worse optimum, never in a better one.
      expect(zone.width).toBeLessThanOrEqual(other + 2e-10);
      if (zone.width < other - 2e-10) expect(zone.proof).toBe("global");
    }
    const around = got(circumscribedCircle(points));
    const other = circleElsewhere(points, center, "upper");
    expect(around.radius).toBeLessThanOrEqual(other + 1e-10);
    expect(other - around.radius).toBeLessThan(1e-8);
  });
  test.each(SEEDS.slice(0, 20))("cylinders, set %i", (seed) => {
    const { points, center, direction } = cylinder(seed);
    const start = { center, direction };
    const close = (ours: number, other: number) => expect(ours).toBeLessThanOrEqual(other + 2e-10);
    close(got(zoneCylinder(points, start)).width, cylinderElsewhere(points, start, "range"));
    close(got(circumscribedCylinder(points, start)).radius, cylinderElsewhere(points, start, "upper"));
    close(-got(inscribedCylinder(points, start)).radius, cylinderElsewhere(points, start, "lower"));
  });
  test.each(SEEDS)("random programme %i", (seed) => {
    const random = uniform(seed);
    const k = 2 + (seed % 5);
    const count = 5 + Math.floor(40 * random());
    // Small whole numbers make many ties and repeated rows.
    const draw = (): number => (seed % 2 ? Math.round(6 * (random() - 0.5)) : 2 * (random() - 0.5));
    const rows = Array.from({ length: count }, () => Array.from({ length: k }, draw));
    const bounds = rows.map((row) => -Math.abs(draw()) - (row[0]! > 2 ? 0.5 : 0));
    const cost = Array.from({ length: k }, draw);
    const box = new Array<number>(k).fill(10);
    const programme = (most: number) => ({
      cost: Float64Array.from(cost),
      rows: Float64Array.from(rows.slice(0, most).flat()),
      bounds: Float64Array.from(bounds.slice(0, most)),
      box: Float64Array.from(box),
    });
    const ours = solveLinearProgram(programme(count));
    // What held fewer rows is a beginning, and so is anything else: the optimum is the same.
    const fewer = solveLinearProgram(programme(count - 3)).basis;
    const any = fewer.map((_, j) => (random() < 0.5 ? j : -1 - j));
    for (const begin of [ours.basis, fewer, any])
      expect(solveLinearProgram(programme(count), begin).value).toBeCloseTo(ours.value, 12);
    expect(solveLinearProgram(programme(count), ours.basis).iterations).toBe(0);
    const other = solveElsewhere(cost, rows, bounds, box);
    expect(ours.status).toBe("optimal");
    expect(ours.value).toBeCloseTo(
      cost.reduce((total, c, j) => total + c * other[j]!, 0),
      8,
    );
    // The dual weights alone must give the same value.
    const pull = cost.map((c, j) =>
      ours.weights.reduce((rest, { row, weight }) => rest - weight * rows[row]![j]!, c),
    );
    const dual = ours.weights.reduce((total, { row, weight }) => total + weight * bounds[row]!, 0);
    expect(dual - pull.reduce((total, p) => total + 10 * Math.abs(p), 0)).toBeCloseTo(ours.value, 8);
  });
});
