import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { amountFor, askOne, logText, numberOf, planText } from "../../simulation/road.ts";

// Published alignment cases, with their sources beside the numbers.
interface Case {
  readonly id: string;
  readonly points: never;
  readonly params: Readonly<Record<string, number>>;
  readonly published: never;
  readonly recomputed: never;
}
const cases: readonly Case[] = JSON.parse(
  readFileSync(new URL("../../references/alignmentSweeps.json", import.meta.url), "utf8"),
);
const caseOf = (id: string): Case => {
  const found = cases.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no case ${id}`);
  return found;
};
const IN = 25.4;
const inches = (value: number): number => value / IN;
const inchPlan = (features: readonly string[], advice: string): string =>
  planText({ features, advice: [advice], sense: 1 }).replace("unit: mm", "unit: in");

describe("published alignment cases", () => {
  it("foot corrections from two centreline offsets", () => {
    const { points, params, recomputed } = caseOf("reverse-indicator-bloch");
    const {
      S_to_A: apart,
      A_to_IB: toInner,
      IB_to_OB: toOuter,
    } = params as { S_to_A: number; A_to_IB: number; IB_to_OB: number };
    for (const [plane, keys, side] of [
      ["vertical", ["v_ib", "v_ob"], 1],
      // The source takes the horizontal terms in the other order: its sign counts to the other side.
      ["horizontal", ["h_ib", "h_ob"], -1],
    ] as const) {
      const { offset_S: atS, offset_A: atA } = (
        points as Readonly<Record<string, { offset_S: number; offset_A: number }>>
      )[plane]!;
      // The line of offsets crosses zero where the other shaft's line is: that place does not move.
      const still = (atS * apart) / (atS - atA);
      const feet = [apart + toInner, apart + toInner + toOuter];
      const told = askOne({
        plan: inchPlan(
          ["run: {fit: line, from: traverse, along: x, height: z}"],
          `{kind: square-up, of: run, stops: [{name: inner, x: ${feet[0]} in}, {name: outer, x: ${feet[1]} in}], pivot: {x: ${still} in}}`,
        ),
        logs: [
          logText("sweep,position,reading", [
            ["run", 0, atS],
            ["run", apart, atA],
          ]),
        ],
      });
      expect(inches(amountFor(told, "inner", "z")), plane).toBeCloseTo(side * recomputed[keys[0]], 6);
      expect(inches(amountFor(told, "outer", "z")), plane).toBeCloseTo(side * recomputed[keys[1]], 6);
    }
  });
  it("a face gap as shims by similar triangles", () => {
    const { points, published } = caseOf("face-gap-shim-carrier");
    const { D, L, M } = points as { D: number; L: number; M: number };
    const told = askOne({
      plan: inchPlan(
        ["gap: {fit: line, from: traverse, along: y, height: z}"],
        `{kind: square-up, of: gap, stops: [{name: near, z: 0 in}, {name: far, z: ${L} in}]}`,
      ),
      logs: [
        logText("sweep,position,reading", [
          ["gap", 0, 0],
          ["gap", D, M],
        ]),
      ],
    });
    expect(inches(amountFor(told, "far", "y"))).toBeCloseTo((published as { S: number }).S, 9);
  });
  it("the axis of a shaft from four turns, with the runout about it", () => {
    const { published, recomputed } = caseOf("plumb-runout-fist-fig16");
    const turns = published as Readonly<
      Record<string, { ns: number; ns_dir: string; ew: number; ew_dir: string }>
    >;
    const beyond = (recomputed as { beyond_source: Readonly<Record<string, number>> }).beyond_source;
    const rows = ["0", "90", "180", "270"].map((turn) => {
      const { ns, ns_dir, ew, ew_dir } = turns[turn]!;
      return [`t${turn}`, ew_dir === "E" ? ew : -ew, 0, ns_dir === "N" ? ns : -ns] as const;
    });
    const told = askOne({
      plan: inchPlan(
        ["0", "90", "180", "270"].map((turn) => `t${turn}: {fit: point}`),
        "{kind: rotation-center, of: {0: t0, 90: t90, 180: t180, 270: t270}}",
      ),
      logs: [logText("feature,x,y,z", rows)],
    });
    expect(inches(numberOf(told, "z"))).toBeCloseTo(beyond.mean_out_of_plumb_north_in!, 9);
    expect(inches(numberOf(told, "x"))).toBeCloseTo(beyond.mean_out_of_plumb_east_in!, 9);
    const circle = told.working.find((line) => line.text.startsWith("circle without the angles"));
    const seen = circle?.values as Readonly<Record<string, { readonly mm: number }>> | undefined;
    expect(inches(seen?.x?.mm ?? 0)).toBeCloseTo(beyond.ls_circle_center_east_in!, 6);
    expect(inches(seen?.z?.mm ?? 0)).toBeCloseTo(beyond.ls_circle_center_north_in!, 6);
    expect(inches(seen?.arm?.mm ?? 0)).toBeCloseTo(beyond.ls_circle_radius_in!, 6);
  });
});
