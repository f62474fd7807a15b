// Published cases through the whole analysis: what a report prints is what the source and an independent program say.
import { describe, expect, it } from "vitest";
import type { Vec3 } from "../../src/math/vector.ts";
import { circles, shapes } from "../references/cases.ts";
import { characteristic, planOf, report, touched } from "./setting.ts";

const plan = (fit: string, entries: readonly string[]) =>
  planOf(
    `features:\n  it: {fit: ${fit}, normal: [0, 0, 1], surface: boss}\ncharacteristics:\n${entries.map((entry) => `  - {${entry}}`).join("\n")}\n`,
    "rule: simple",
  );
const places = (points: readonly (readonly number[])[]): Vec3[] =>
  points.map(([x = 0, y = 0, z = 0]): Vec3 => [x, y, z]);
const byId = (cases: typeof circles, id: string) =>
  cases.find((entry) => entry.id === id) ?? expect.fail(`no case ${id}`);

describe("circles by orthogonal distance", () => {
  it.each(["circle-gander6-geometric", "circle-cookbook-full", "circle-commonsmath-5pt"])("%s", (id) => {
    const { points, recomputed } = byId(circles, id);
    const made = report(
      plan("circle", [
        "id: size, kind: diameter, of: it, nominal: 1 mm, plus: 1 mm, minus: 1 mm",
        "id: x, kind: offset, of: it, from: {x: 0 mm}, along: x, nominal: 0 mm, plus: 1 mm, minus: 1 mm",
        "id: y, kind: offset, of: it, from: {y: 0 mm}, along: y, nominal: 0 mm, plus: 1 mm, minus: 1 mm",
      ]),
      [touched("it", places(points))],
    );
    const relative = (value: number | null, wanted: number | undefined) =>
      expect(Math.abs((value ?? Number.NaN) - (wanted ?? Number.NaN))).toBeLessThan(
        1e-8 * Math.max(1, Math.abs(wanted ?? 1)),
      );
    relative((characteristic(made, "size").value ?? 0) / 2, recomputed.r);
    relative(characteristic(made, "x").value, recomputed.x);
    relative(characteristic(made, "y").value, recomputed.y);
  });
});

describe("spheres", () => {
  it.each(["sphere-bme-4pt-exact", "sphere-bme-20pt"])("%s", (id) => {
    const { points, recomputed } = byId(shapes, id);
    const made = report(
      plan("sphere", ["id: size, kind: diameter, of: it, nominal: 1 mm, plus: 1 mm, minus: 1 mm"]),
      [touched("it", places(points))],
    );
    const radius = (characteristic(made, "size").value ?? 0) / 2;
    const wanted = recomputed.r ?? Number.NaN;
    expect(Math.abs(radius / wanted - 1)).toBeLessThan(1e-8);
  });
});
