import { describe, expect, it } from "vitest";
import { adviceKinds } from "../../../src/analysis/advice/index.ts";
import { nextMoves } from "../../../src/analysis/nextMoves.ts";
import { HOIST_ABOVE_KG, weightLine } from "../../../src/analysis/weight.ts";
import { say } from "../../../src/model/say.ts";
import type { ReportAdvice } from "../../../src/model/setupReport.ts";
import { ask, askOne, logText, planOf, planText } from "../../simulation/road.ts";

const FEATURES = [
  "face: {fit: plane, normal: [0, 0, 1]}",
  "back: {fit: plane, normal: [0, 0, -1]}",
  "rim: {fit: circle, normal: [0, 0, 1], surface: boss}",
  "b0: {fit: sphere, surface: boss}",
  "b90: {fit: sphere, surface: boss}",
  "b180: {fit: sphere, surface: boss}",
  "b270: {fit: sphere, surface: boss}",
];
const ENTRIES = [
  "{kind: square-up, of: face, stops: [{name: left, x: -200 mm}, {name: right, x: 200 mm, pitch: 1.75 mm}], pivot: left}",
  "{kind: seat-check, of: face, base: {x: 400 mm, z: 400 mm}, height: 600 mm}",
  "{kind: four-face, of: {0: face, 180: back}, height: 600 mm}",
  "{kind: rotation-center, of: {0: b0, 90: b90, 180: b180}}",
  "{kind: work-offset, of: face, register: G54, old: {z: 1 mm}, nominal: {z: 0 mm}}",
  "{kind: centering, of: rim}",
  "{kind: face-cut, of: face, below-low: 0.5 mm, per-pass: 0.5 mm, rim: {radius: 60 mm}}",
  "{kind: clean-up, of: rim, finished: 99 mm}",
  "{kind: turned-over, first: back, second: face}",
  "{kind: re-seat, of: [b0, b90]}",
];
const VALUES: Readonly<Record<string, readonly string[]>> = {
  "square-up": ["slopeX", "slopeY", "rotary"],
  "seat-check": ["leanOverHeight", "edge", "edgeThickness", "cornerThickness", "chipLean"],
  "four-face": [
    "common",
    "seatX",
    "seatZ",
    "remainder",
    "yawCommon",
    "yawRemainder",
    "widths",
    "centerX",
    "centerZ",
  ],
  "rotation-center": ["x", "z", "arm", "rms", "bSense", "change", "effects"],
  "work-offset": ["new", "change"],
  centering: ["x", "y", "eccentricity", "ovality", "lobing3", "fim"],
  "face-cut": [
    "lowest",
    "lowestAt",
    "rimLow",
    "rimHigh",
    "cutPlane",
    "deepest",
    "passes",
    "passDepth",
    "lengthLeft",
  ],
  "clean-up": [
    "inscribedDiameter",
    "bestCenter",
    "stockHere",
    "stockBest",
    "leastAngle",
    "heaviest",
    "cleansHere",
    "cleansBest",
    "unseenFlat",
  ],
  "turned-over": ["parallelism", "wedgeX", "wedgeY", "thickAngle", "thickness"],
  "re-seat": ["count", "mean", "deviation", "range"],
};
const plan = planText({ features: FEATURES, advice: ENTRIES, sense: 1 });
const keysOf = (entry: ReportAdvice<unknown>): string[] => Object.keys(entry.values).sort();

describe("every kind", () => {
  const missing = ask({ plan, logs: [logText("feature,x,y,z", [["other", 0, 0, 0]])] });
  it("is on the shelf under its name", () => {
    expect(adviceKinds.map((kind) => kind.kind).sort()).toEqual(Object.keys(VALUES).sort());
    expect(missing.map((entry) => entry.kind).sort()).toEqual(Object.keys(VALUES).sort());
  });
  it("says what is missing in its headline, keeps its keys and moves nothing", () => {
    for (const entry of missing) {
      expect(entry.status, entry.kind).toBe("missing");
      expect(entry.headline.text, entry.kind).toContain("not measured");
      expect(entry.moves).toEqual([]);
      expect(keysOf(entry), entry.kind).toEqual([...VALUES[entry.kind]!].sort());
    }
  });

  const rows = [
    ...[-50, 0, 50].flatMap((x) =>
      [-40, 0, 40].map((y) => ["face", x, y, 30 + 0.0004 * x - 0.0002 * y] as const),
    ),
    ...[-50, 0, 50].flatMap((x) => [-40, 0, 40].map((y) => ["back", x, y, 0.0001 * x] as const)),
    ...Array.from(
      { length: 12 },
      (_, i) => ["rim", 0.2 + 50 * Math.cos(i / 2), 50 * Math.sin(i / 2), 0] as const,
    ),
    ...["b0", "b90", "b180", "b270"].flatMap((b, k) =>
      [
        [1, 0, 0],
        [-1, 0, 0],
        [0, 1, 0],
        [0, -1, 0],
        [0, 0, 1],
        [0.6, 0, 0.8],
      ].map(
        (p) =>
          [
            b,
            10 * p[0]! + 60 * Math.sin((k * Math.PI) / 2),
            10 * p[1]!,
            10 * p[2]! + 60 * Math.cos((k * Math.PI) / 2),
          ] as const,
      ),
    ),
  ];
  const told = ask({ plan, logs: [logText("feature,x,y,z", rows)] });
  it("gives its own values, a short headline, the next check and working", () => {
    for (const entry of told) {
      expect(entry.status, entry.headline.text).toBe("advised");
      expect(keysOf(entry), entry.kind).toEqual([...VALUES[entry.kind]!].sort());
      expect(entry.headline.text.length, entry.headline.text).toBeLessThan(110);
      expect(entry.headline.text).not.toContain("\n");
      expect(entry.next, entry.kind).not.toBeNull();
      expect(entry.expect, entry.kind).not.toBeNull();
      expect(entry.working.length, entry.kind).toBeGreaterThan(0);
    }
  });
  it("keeps what it gives fit for JSON: nothing is lost or infinite", () => {
    for (const entry of told) expect(JSON.parse(JSON.stringify(entry)), entry.kind).toEqual(entry);
  });
  it("gives slopes, forms and centres but no places while the tip is unknown", () => {
    const unknown = ask({
      plan: plan.replace("points: surface, ", ""),
      logs: [logText("feature,x,y,z", rows)],
    });
    const by = new Map(unknown.map((entry) => [entry.kind, entry]));
    for (const kind of ["work-offset", "face-cut", "clean-up"])
      expect(by.get(kind)?.status, kind).toBe("undecided");
    for (const kind of ["square-up", "seat-check", "rotation-center", "centering", "turned-over"])
      expect(by.get(kind)?.status, kind).toBe("advised");
    expect(by.get("turned-over")?.values.thickness).toBeNull();
    expect(by.get("clean-up")?.values.bestCenter).not.toBeNull();
    expect(by.get("clean-up")?.values.stockHere).toBeNull();
    expect(by.get("face-cut")?.values.cutPlane).toBeNull();
    expect(by.get("face-cut")?.values.deepest).not.toBeNull();
  });
  it("puts the card in the order of doing, in at most five lines", () => {
    const card = nextMoves(told);
    expect(card.length).toBeLessThanOrEqual(5);
    expect(card[0]?.text).toBe(told.find((entry) => entry.kind === "seat-check")?.headline.text);
    const open = nextMoves([...told, ...missing.filter((entry) => entry.kind === "centering")]);
    expect(open[0]?.text).toContain("not measured");
    expect(nextMoves([])).toEqual([]);
    const wrong = {
      feature: "face",
      quantity: "slopeX",
      unit: "slope",
      asFound: 1e-4,
      asLeft: 2e-4,
      wanted: -1e-4,
      made: 1e-4,
      ratio: 2,
      judged: "wrong-way",
      because: say("the wrong way"),
    } as const;
    expect(nextMoves(told, [wrong])[0]?.text).toBe("the wrong way");
  });
});

describe("inputs", () => {
  const refused = (entry: string): string => {
    try {
      planOf(planText({ features: FEATURES, advice: [entry] }));
    } catch (error) {
      return String(error);
    }
    return "";
  };
  it("that mean nothing are refused with the plan", () => {
    expect(refused("{kind: square-up, of: face, stops: [{name: a, x: 0 mm, z: 0 mm}]}")).toContain(
      "one of them",
    );
    expect(refused("{kind: square-up, of: face, stops: [{name: a}]}")).toContain("one of them");
    expect(refused("{kind: seat-check, of: face, base: {z: -1 mm}, height: 1 mm}")).toContain("above zero");
    expect(refused("{kind: re-seat, of: [nothing]}")).toContain("nothing");
    expect(refused("{kind: clean-up, of: rim, finished: 99}")).toContain("unit");
  });
  it("name an unknown pivot, and never say clockwise", () => {
    const told = askOne({
      plan: planText({
        features: FEATURES,
        advice: [
          "{kind: square-up, of: face, stops: [{name: a, x: 0 mm}, {name: b, x: 9 mm, pitch: 1 mm}], pivot: c}",
        ],
      }),
      logs: [
        logText("feature,x,y,z", [
          ["face", 0, 0, 0],
          ["face", 9, 0, 0.1],
          ["face", 0, 9, 0],
          ["face", 9, 9, 0.1],
        ]),
      ],
    });
    expect(told.status).toBe("undecided");
    expect(told.headline.text).toContain("No stop is called c");
    expect(JSON.stringify(told)).not.toContain("clockwise");
  });
  it("tell screw in and out where the drive's way is stated", () => {
    const turned = (drive: string, rise: number) =>
      askOne({
        plan: planText({
          features: FEATURES,
          advice: [
            `{kind: square-up, of: face, stops: [{name: a, x: 0 mm}, {name: b, x: 90 mm, pitch: 1 mm, screw: ${drive}}]}`,
          ],
        }),
        logs: [
          logText("feature,x,y,z", [
            ["face", 0, 0, 0],
            ["face", 90, 0, rise],
            ["face", 0, 90, 0],
            ["face", 90, 90, rise],
          ]),
        ],
      }).moves[0]?.words;
    expect(turned("in-moves +z", -0.1)).toBe("towards the spindle: screw in");
    expect(turned("in-moves +z", 0.1)).toBe("away from the spindle: screw out");
    expect(turned("in-moves -z", 0.1)).toBe("away from the spindle: screw in");
    expect(turned("in-moves -z", -0.1)).toBe("towards the spindle: screw out");
  });
});

describe("the weight of a blank", () => {
  it("asks for the hoist above the shop's limit, 35 lb unless stated", () => {
    expect(HOIST_ABOVE_KG / 0.45359237).toBeCloseTo(35, 9);
    expect(weightLine(16).text).toContain("hoist");
    expect(weightLine(15.8).text).not.toContain("hoist");
    expect(weightLine(15.8, 10).text).toContain("hoist");
  });
});
