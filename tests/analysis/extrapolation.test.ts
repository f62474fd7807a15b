import { describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import type { Vec3 } from "../../src/math/vector.ts";
import { ISSUED, log, planOf, touched } from "./setting.ts";

const ring = (z: number): Vec3[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((i): Vec3 => [20 * Math.cos(i * 0.785), 20 * Math.sin(i * 0.785), z]);
const face = [-50, 0, 50].flatMap((x) => [-50, 0, 50].map((y): Vec3 => [x, y, 0]));
function codes(length: string): string[] {
  const plan = planOf(
    `features:\n  f: {fit: plane, normal: [0, 0, 1]}\n  w: {fit: cylinder, normal: [0, 0, 1], surface: boss}\ncharacteristics:\n  - {id: p, kind: perpendicularity, of: w, to: f, ${length}max: 1 mm}\n`,
    "rule: simple",
  );
  const set = {
    logs: [log()],
    features: [touched("f", face), touched("w", [...ring(-10), ...ring(-30)])],
    signOffs: [],
    setup: {},
    findings: [],
  };
  return analyse({ set, plan, issued: ISSUED })
    .findings.filter(({ code }) => code === "extrapolation")
    .map(({ text }) => text.text);
}

describe("extrapolation", () => {
  it("is said when a length beyond the measured one is asked for, and not otherwise", () => {
    expect(codes("length: 60 mm, ")).toEqual([
      "p is asked for over 60 mm, and w was touched over 20 mm only: the rest is a straight line nobody has measured.",
    ]);
    expect(codes("length: 20 mm, ")).toEqual([]);
    expect(codes("")).toEqual([]);
  });
});
