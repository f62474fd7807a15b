import { describe, expect, it } from "vitest";
import type { FeaturePlan } from "../../src/model/plan/plan.ts";
import { codes, decision, feature, leftOut, planWith, points, sentence, understood } from "./helpers.ts";

const planned = (part: Partial<FeaturePlan>, logs = {}, closure: string[] = []) =>
  planWith({ logs: { unit: "mm", ...logs }, features: { s: part }, closure });
const FACE = planned({ from: "face-sweep", radiusMm: 100 });
const BORE = planned({ fit: "circle", from: "rim-sweep", radiusMm: 75, surface: "bore" });
const BOSS = planned({ fit: "circle", from: "rim-sweep", radiusMm: 75, surface: "boss" });

/** Centre and radius of the circle through points, exact for points that lie on one. */
function circle(at: readonly number[][]): { x: number; y: number; radius: number } {
  const rows = at.map(([x = 0, y = 0]) => [x, y, 1, x * x + y * y] as const);
  const m = [0, 1, 2].map((i) =>
    [0, 1, 2, 3].map((j) => rows.reduce((sum, row) => sum + (row[i] ?? 0) * (row[j] ?? 0), 0)),
  );
  for (let i = 0; i < 3; i++)
    for (let k = 0; k < 3; k++) {
      if (k === i) continue;
      const factor = m[k]![i]! / m[i]![i]!;
      for (let j = i; j < 4; j++) m[k]![j]! -= factor * m[i]![j]!;
    }
  const [a, b, c] = [0, 1, 2].map((i) => m[i]![3]! / m[i]![i]!) as [number, number, number];
  return { x: a / 2, y: b / 2, radius: Math.sqrt(c + (a * a + b * b) / 4) };
}

interface Arm {
  readonly side: "bore" | "boss";
  readonly center: readonly [number, number];
  readonly radius: number;
  readonly arm: number;
  readonly sag: number;
}
/** What an indicator on a drooping arm shows at an angle: its tip's circle lies `sag` below the axis of the spindle. */
function shown({ side, center: [cx, cy], radius, arm, sag }: Arm, degrees: number): number {
  const [ux, uy] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const [dx, dy] = [cx, cy + sag];
  const along = dx * ux + dy * uy;
  const across = dx * uy - dy * ux;
  const surface = along + Math.sqrt(radius * radius - across * across);
  return side === "bore" ? arm - surface : surface - arm;
}
const sweepLog = (arm: Arm, head: string, angles = [0, 45, 90, 135, 180, 225, 270, 315]): string =>
  `${head}sweep,angle,reading\n${angles.map((angle) => `s,${angle},${shown(arm, angle)}`).join("\n")}\n`;

describe("sweeps become points", () => {
  it("a traverse along x with readings along z, unless header or plan say otherwise", () => {
    const rows = "sweep,position,reading\ns,10,0.5\ns,20,-0.25\n";
    expect(points(understood(rows, planned({ fit: "line", from: "traverse" })))).toEqual([
      [10, 0, 0.5],
      [20, 0, -0.25],
    ]);
    expect(
      points(understood(rows, planned({ fit: "line", from: "traverse", along: "y", height: "z" }))),
    ).toEqual([
      [0, 10, 0.5],
      [0, 20, -0.25],
    ]);
    expect(
      points(understood(`# along: y\n# height: x\n${rows}`, planWith({ logs: { unit: "mm" } }))),
    ).toEqual([
      [0.5, 10, 0],
      [-0.25, 20, 0],
    ]);
  });
  it("a map as it is", () => {
    expect(points(understood("sweep,x,y,reading\ns,1,2,0.5\n", planned({ from: "map" })))).toEqual([
      [1, 2, 0.5],
    ]);
  });
  it("a face sweep on its radius", () => {
    const [first, second] = points(understood("sweep,angle,reading\ns,0,0.5\ns,90,-0.25\n", FACE));
    expect(first).toEqual([100, 0, 0.5]);
    expect(second?.[0]).toBeCloseTo(0, 12);
    expect(second?.slice(1)).toEqual([100, -0.25]);
  });
  it("a rim sweep with minus for a bore and plus for a boss", () => {
    const rows = "sweep,angle,reading\ns,0,0.5\ns,180,0.25\n";
    expect(points(understood(rows, BORE)).map((point) => point[0])).toEqual([74.5, -74.75]);
    expect(points(understood(rows, BOSS)).map((point) => point[0])).toEqual([75.5, -75.25]);
    expect(feature(understood(rows, BOSS)).tip.points).toBe("surface");
  });
  it("worked by hand: bore .0000 +.0010 +.0030 +.0020 has its centre at (+.0015, +.0005), a boss at the opposite", () => {
    const rows = "# unit: in\nsweep,angle,reading\ns,0,.0000\ns,90,.0010\ns,180,.0030\ns,270,.0020\n";
    const bore = circle(points(understood(rows, BORE)));
    expect(bore.x / 25.4).toBeCloseTo(0.0015, 7);
    expect(bore.y / 25.4).toBeCloseTo(0.0005, 7);
    const boss = circle(points(understood(rows, BOSS)));
    expect(boss.x / 25.4).toBeCloseTo(-0.0015, 7);
    expect(boss.y / 25.4).toBeCloseTo(-0.0005, 7);
  });
  it("several kinds in one log, each by its own places", () => {
    const plan = planWith({
      logs: { unit: "mm" },
      features: { t: { fit: "line", from: "traverse" }, f: { from: "face-sweep", radiusMm: 10 } },
    });
    const log = understood("sweep,position,angle,reading\nt,1,,0.1\nt,2,,0.2\nf,,0,0.3\nf,,90,0.4\n", plan);
    expect(log.features.map((entry) => entry.sweep?.kind)).toEqual(["traverse", "face-sweep"]);
  });
});

describe("sag of the arm", () => {
  it.each(["bore", "boss"] as const)("leaves the true centre of a %s, and nothing else changes", (side) => {
    const arm: Arm = { side, center: [0.04, -0.03], radius: 75, arm: 75, sag: 0.02 };
    const plan = side === "bore" ? BORE : BOSS;
    const without = circle(points(understood(sweepLog(arm, ""), plan)));
    expect(without.y).toBeCloseTo(-0.01, 9);
    const log = understood(sweepLog(arm, "# sag: 0.02 mm\n"), plan);
    const found = circle(points(log));
    expect(found.x).toBeCloseTo(0.04, 9);
    expect(found.y).toBeCloseTo(-0.03, 9);
    expect(found.radius).toBeCloseTo(75, 9);
    expect(feature(log).sweep?.headerSagMm).toBe(0.02);
    const straight = { ...arm, sag: 0 };
    feature(log).sweep?.reading.forEach((value, at) => {
      expect(value).toBeCloseTo(shown(straight, at * 45), 4);
    });
  });
  it("worked by hand: mandrel -.0016 at the bottom is sag .0008, and +.0005 becomes -.0003", () => {
    const mandrel: Arm = { side: "boss", center: [0, 0], radius: 10, arm: 10, sag: 0.0008 };
    expect(shown(mandrel, 270) - shown(mandrel, 90)).toBeCloseTo(-0.0016, 9);
    for (const side of ["bore", "boss"] as const) {
      const arm: Arm = { side, center: [0, -0.0003 * 25.4], radius: 75, arm: 75, sag: 0.0008 * 25.4 };
      const plan = side === "bore" ? BORE : BOSS;
      expect(circle(points(understood(sweepLog(arm, ""), plan))).y / 25.4).toBeCloseTo(0.0005, 9);
      expect(circle(points(understood(sweepLog(arm, "# sag: 0.0008 in\n"), plan))).y / 25.4).toBeCloseTo(
        -0.0003,
        9,
      );
    }
  });
  it("is not applied to faces and traverses", () => {
    const log = understood("# sag: 0.02 mm\nsweep,angle,reading\ns,0,0.5\ns,90,-0.25\n", FACE);
    expect([...(feature(log).sweep?.reading ?? [])]).toEqual([0.5, -0.25]);
    expect(feature(log).sweep?.headerSagMm).toBeNull();
  });
});

describe("sign and lever", () => {
  const rows = "sweep,angle,reading\ns,0,0.5\ns,90,-0.25\n";
  it("plus is towards the indicator unless it is stated, and then it is said", () => {
    const log = understood(rows, FACE);
    expect(codes(log)).toEqual(["note sign-not-proved"]);
    expect(decision(log, "sign")).toBe("toward-plus: not stated: plunger or lever pushed in is plus");
    const declared = understood(`# sign: toward-plus\n${rows}`, FACE);
    expect(codes(declared)).toEqual([]);
    expect(decision(declared, "sign")).toBe("toward-plus: header line 1");
  });
  it("toward-minus turns readings and closure, from header or plan", () => {
    const closed = `${rows}s,360,0.75\n`;
    for (const log of [
      understood(`# sign: toward-minus\n${closed}`, FACE),
      understood(closed, planned({ from: "face-sweep", radiusMm: 100 }, { sign: "toward-minus" })),
    ]) {
      expect([...(feature(log).sweep?.reading ?? [])]).toEqual([-0.5, 0.25]);
      expect(feature(log).closureMm).toBe(-0.25);
    }
  });
  it("a lever shows its cosine too much, when its angle is stated", () => {
    const log = understood(`# lever-angle: 60\n# sign: toward-plus\n${rows}`, FACE);
    expect(feature(log).sweep?.reading[0]).toBeCloseTo(0.25, 12);
    expect(decision(log, "lever-angle")).toBe("60 deg: header line 1, its unit from angles are in degrees");
    const plan = planned({ from: "face-sweep", radiusMm: 100 }, { leverAngleRad: Math.PI / 3 });
    expect(feature(understood(rows, plan)).sweep?.reading[0]).toBeCloseTo(0.25, 12);
  });
});

describe("closure", () => {
  it.each([
    ["0", "0,90,180,270,0"],
    ["360", "0,90,180,270,360"],
    ["-315 after 45", "45,135,225,-45,-315"],
  ])("a last reading at the first place (%s) is no station", (_, angles) => {
    const rows = angles.split(",").map((angle, at) => `s,${angle},${at === 4 ? 0.75 : at}`);
    const log = understood(`sweep,angle,reading\n${rows.join("\n")}\n`, FACE);
    expect([...(feature(log).sweep?.reading ?? [])]).toEqual([0, 1, 2, 3]);
    expect(feature(log).closureMm).toBe(0.75);
    expect(log.record).toMatchObject({ rows: 5, used: 4 });
    expect(leftOut(log)).toEqual([
      "6: a repeat of an earlier place of s: it counts as closure, not as a station",
    ]);
    expect(decision(log, "closure of s")).toBe(
      "line 6: the last reading stands at the place of the first, line 2",
    );
  });
  it("a traverse that comes back closes as well, and places passed twice on the way count", () => {
    const log = understood(
      "sweep,position,reading\ns,0,0\ns,10,1\ns,20,2\ns,10,1.25\ns,0,0.5\n",
      planned({ fit: "line", from: "traverse" }),
    );
    expect([...(feature(log).sweep?.station ?? [])]).toEqual([0, 10, 20, 10]);
    expect(feature(log).closureMm).toBe(0.5);
  });
  it("two readings at one place are no sweep that closes", () => {
    const log = understood(
      "sweep,position,reading\ns,0,0\ns,0,1\n",
      planned({ fit: "line", from: "traverse" }),
    );
    expect(feature(log).closureMm).toBeUndefined();
    expect(feature(log).readings.x).toHaveLength(2);
  });
  it("a return after other sweeps closes when the plan or its name says so", () => {
    const start = "sweep,position,reading\ns,0,0\ns,10,1\nother,0,0\nother,5,0\n";
    const plan = { logs: { unit: "mm" as const }, features: { s: { fit: "line" as const } } };
    for (const log of [
      understood(`${start}s,0,0.25\ns,10,1.75\n`, planWith({ ...plan, closure: ["s"] })),
      understood(`${start}s-closure,0,0.25\ns-closure,10,1.75\n`, planWith(plan)),
    ]) {
      expect(feature(log, "s").closureMm).toBe(0.5);
      expect(feature(log, "s").readings.x).toHaveLength(2);
      expect(log.features.map((entry) => entry.name)).toEqual(["s", "other"]);
    }
    expect(sentence(`${start}s,0,0.25\n`, planWith(plan))).toContain(
      "s is measured again here after other rows",
    );
  });
  it("of touches is the mean along the normal of the nearest touches", () => {
    const text = (name: string) =>
      `feature,x,y,z\nf,0,0,1\nf,10,0,1\nf,0,10,1\ng,0,0,0\n${name},10.1,0,1.25\n${name},0,0,1.75\n`;
    const plan = { logs: { unit: "mm" as const }, features: { f: {} } };
    expect(feature(understood(text("f"), planWith({ ...plan, closure: ["f"] }))).closureMm).toBe(0.5);
    expect(feature(understood(text("f-closure"), planWith(plan))).closureMm).toBe(0.5);
    const down = planWith({ ...plan, features: { f: { normal: [0, 0, -2] } } });
    expect(feature(understood(text("f-closure"), down)).closureMm).toBe(-0.5);
    const log = understood(text("f-closure"), planWith(plan));
    expect(log.record).toMatchObject({ rows: 6, used: 4 });
  });
  it("of a round is how far its touches moved", () => {
    const plan = planWith({ logs: { unit: "mm" }, features: { f: { fit: "circle" } } });
    const log = understood(
      "feature,x,y,z\nf,10,0,0\nf,-10,0,0\ng,0,0,0\nf-closure,10.03,0.04,0\nf-closure,-9.97,0.04,0\n",
      plan,
    );
    expect(feature(log).closureMm).toBeCloseTo(0.05, 12);
  });
  it("a feature of the plan that is named so is a feature", () => {
    const plan = planWith({ logs: { unit: "mm" }, features: { f: {}, "f-closure": {} } });
    expect(understood("feature,x,y,z\nf,1,2,3\nf-closure,1,2,3\n", plan).features).toHaveLength(2);
  });
});

describe("geometry that is not stated is asked for", () => {
  const angles = "# unit: mm\nsweep,angle,reading\ns,0,0.5\ns,90,-0.25\n";
  it("kind, radius and side", () => {
    expect(sentence(angles)).toContain("s has angles, so it is a sweep of a face or of a rim");
    expect(sentence(angles, planned({ from: "face-sweep" }))).toBe(
      "log.csv, line 3: the face sweep s needs the radius it was made on; give the feature s radius: 75 mm in the plan, or write the same as # lines above the rows",
    );
    expect(sentence(angles, planned({ fit: "circle", from: "rim-sweep" }))).toContain(
      "needs the radius it was made on and bore or boss",
    );
  });
  it("may stand in the header", () => {
    const log = understood(`# from: rim-sweep\n# radius: 75 mm\n# surface: boss\n${angles}`);
    expect(points(log)[0]).toEqual([75.5, 0, 0]);
  });
  it("must agree between log and plan", () => {
    expect(sentence(`# surface: bore\n${angles}`, BOSS)).toContain(
      "s is a bore in the log and a boss in the plan",
    );
    expect(sentence(`# radius: 80 mm\n${angles}`, BOSS)).toContain(
      "swept at radius 80 mm by the log and at 75 mm by the plan",
    );
    expect(sentence("# unit: mm\nsweep,position,reading\ns,0,0\n", BOSS)).toContain(
      "said to come from a rim-sweep but has positions",
    );
    expect(sentence("# unit: mm\nsweep,position,angle,reading\ns,0,0,0\n")).toContain(
      "more than one kind of place",
    );
    expect(sentence("# unit: mm\nsweep,position,angle,reading\ns,0,,0\ns,,5,0\n")).toContain(
      "some readings of s have a position and others an angle",
    );
  });
});
