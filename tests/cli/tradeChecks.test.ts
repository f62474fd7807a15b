// The trade's own check values (common practice, no source), from log and plan through the whole program.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { openProgram } from "./plinth.ts";

const plinth = openProgram();
afterAll(() => plinth.remove());

const INCH = 25.4;
const PLAN = (features: string, advice: string): string => `plinth: 1
name: check
title: Trade check
show: in
decision: {rule: guarded}
instruments:
  probe: {uncertainty: 0.00005 in}
logs: {unit: in, instrument: probe}
features:
${features}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 1 in}
advice:
${advice}
`;
const PROBE = "# points: surface\nfeature,x,y,z\n";
const fixed = (...cells: readonly number[]): string => cells.map((cell) => cell.toFixed(5)).join(",");

async function answerOf(log: string, plan: string): Promise<{ report: SetupReport; said: string }> {
  const folder = plinth.folder();
  writeFileSync(join(folder, "log.csv"), log);
  writeFileSync(join(folder, "plan.yaml"), plan);
  const given = ["check", join(folder, "log.csv"), "--plan", join(folder, "plan.yaml")];
  const [json, text] = await Promise.all([plinth.run([...given, "--json"]), plinth.run(given)]);
  expect([json.code, json.err, text.code, text.err]).toEqual([0, "", 0, ""]);
  return { report: JSON.parse(json.out) as SetupReport, said: text.out };
}
const number = (values: SetupReport["advice"][number]["values"] | undefined, key: string): number => {
  const value = values?.[key];
  if (typeof value !== "number") throw new Error(`${key} is ${JSON.stringify(value)}`);
  return value;
};

describe("a chip of 0.002 in under a 400 mm base leans a column about 0.003 in at 24 in (common practice, no source)", () => {
  // The column turned as a rigid body about the far lower edge; its face stands at +Z and looks at the spindle.
  const tilt = Math.asin(0.002 / (400 / INCH));
  const log = (side: 1 | -1): string =>
    `${PROBE}${[2, 13, 24]
      .flatMap((y) =>
        [-6, 0, 6].map((x) => `face,${fixed(x, y * Math.cos(tilt), 7.874 - side * y * Math.sin(tilt))}\n`),
      )
      .join("")}`;
  const plan = PLAN(
    "  face: {fit: plane, normal: [0, 0, 1]}",
    "  - {kind: seat-check, of: face, base: {x: 400 mm, z: 400 mm}, height: 24 in, chip: 0.002 in}",
  );

  it.each([
    ["front", 1, "+z"],
    ["back", -1, "-z"],
  ] as const)("under the %s edge, and back from the lean to the chip", async (_edge, side, edge) => {
    const { report, said } = await answerOf(log(side), plan);
    const values = report.advice[0]?.values;
    expect(number(values, "chipLean") / INCH).toBeCloseTo(0.003, 3);
    // Raised at the front the top goes away from the spindle.
    expect(number(values, "leanOverHeight") / INCH).toBeCloseTo(-side * 0.003, 3);
    expect(number(values, "edgeThickness") / INCH).toBeCloseTo(0.002, 4);
    expect(values?.edge).toBe(edge);
    expect(said).toMatch(new RegExp(`Lean ${side === 1 ? "-" : "\\+"}0\\.003\\d* in over 24 in`));
  });
});

describe("a saw-cut face is cut about 0.025 in below its low spot (common practice, no source)", () => {
  // Out of square by 0.003 in per inch, in a 6.25 in bar, the low side at -X.
  const log = `${PROBE}${[0, 45, 90, 135, 180, 225, 270, 315]
    .flatMap((degrees) =>
      [1.5, 3].map((radius) => {
        const [x, y] = [
          radius * Math.cos((degrees * Math.PI) / 180),
          radius * Math.sin((degrees * Math.PI) / 180),
        ];
        return `face,${fixed(x, y, 0.25 + 0.003 * x)}\n`;
      }),
    )
    .join("")}`;

  it("below the lowest reading where nothing else is known", async () => {
    const { report } = await answerOf(
      log,
      PLAN("  face: {fit: plane, normal: [0, 0, 1]}", "  - {kind: face-cut, of: face}"),
    );
    const values = report.advice[0]?.values;
    expect(number(values, "lowest") / INCH).toBeCloseTo(0.25 - 0.003 * 3, 4);
    expect(number(values, "cutPlane") / INCH).toBeCloseTo(0.241 - 0.025, 4);
  });
  it("below the rim, where the rim is lower than any reading", async () => {
    const { report, said } = await answerOf(
      log,
      PLAN(
        "  face: {fit: plane, normal: [0, 0, 1]}",
        "  - {kind: face-cut, of: face, below-low: 0.025 in, finish: 0.01 in, per-pass: 0.03 in, rim: {radius: 3.125 in}, length: 4 in, other-side: 0.06 in, finished-length: 3.8 in}",
      ),
    );
    const values = report.advice[0]?.values;
    const low = 0.25 - 0.003 * 3.125;
    expect(number(values, "rimLow") / INCH).toBeCloseTo(low, 3);
    expect(number(values, "cutPlane") / INCH).toBeCloseTo(low - 0.025, 3);
    // Deepest cut 0.0438 in: 0.0338 in in passes of at most 0.03 in makes two, then the finish.
    expect(number(values, "deepest") / INCH).toBeCloseTo(0.0438, 3);
    expect(values?.passes).toBe(2);
    expect(number(values, "lengthLeft") / INCH).toBeCloseTo(4 - (0.241 - (low - 0.025)) - 0.06, 3);
    expect(said).toMatch(/Cut at Z \+0\.215\d* in: 2 passes of 0\.01\d* in, then finish 0\.01 in/);
  });
});

describe("a round gets cut about 0.05 in under its saw-cut size (common practice, no source)", () => {
  // A 6.125 in bar, oval by 0.012 in on the diameter, gripped 0.008 in off centre; 24 touches.
  const log = `${PROBE}${Array.from({ length: 24 }, (_, i) => {
    const a = (i * Math.PI) / 12;
    const r = 6.125 / 2 + 0.003 * Math.cos(2 * a);
    return `face,${fixed(0.008 + r * Math.cos(a), r * Math.sin(a), 0)}\n`;
  }).join("")}`;
  const plan = (finished: string): string =>
    PLAN(
      "  face: {fit: circle, normal: [0, 0, 1], surface: boss}",
      `  - {kind: clean-up, of: face, finished: ${finished}, center: [0 in, 0 in], allowance: 0.005 in}`,
    ).replace("kind: flatness", "kind: roundness");

  it.each([
    // Stock per side where it sits, and at the best place: half the difference of sizes less what shift and oval take,
    // 0.008 cos a + 0.003 cos 2a, which is least (-0.00567) where cos a = -2/3.
    ["6.075 in", 0.025 - 0.00567, 0.025 - 0.003, true, true],
    ["6.105 in", 0.01 - 0.00567, 0.01 - 0.003, false, true],
    ["6.12 in", 0.0025 - 0.00567, 0.0025 - 0.003, false, false],
  ])("at %s", async (finished, here, best, cleansHere, cleansBest) => {
    const { report } = await answerOf(log, plan(finished));
    const values = report.advice[0]?.values;
    expect(number(values, "stockHere") / INCH).toBeCloseTo(here, 4);
    expect(number(values, "stockBest") / INCH).toBeCloseTo(best, 4);
    expect([values?.cleansHere, values?.cleansBest]).toEqual([cleansHere, cleansBest]);
    expect(report.advice[0]?.moves.find(({ along }) => along === "x")?.amount ?? 0).toBeCloseTo(
      0.008 * INCH,
      1,
    );
  });
});
