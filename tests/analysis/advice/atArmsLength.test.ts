// What the card says first, in the order of doing: which jaw, clean before a shim, no cut beside a pass, no stale offset.
import { describe, expect, it } from "vitest";
import type { MeasuredFeature } from "../../../src/model/measurement.ts";
import { halted } from "../../../src/model/setupReport.ts";
import {
  characteristic,
  grid,
  planOf,
  range,
  report,
  rimSweep,
  ring,
  touched,
  traverse,
} from "../setting.ts";

const GAUGE = "instruments: {probe: {uncertainty: 0.0005 mm}}\n";
const made = (body: string, features: readonly MeasuredFeature[]) => report(planOf(GAUGE + body), features);
const cardOf = (...given: Parameters<typeof made>) => made(...given).card?.map(({ text }) => text) ?? [];

/** A rim whose centre lies off the sweep axis, with lobes: height of the wave and how many. */
const rim = ({ x = 0, y = 0, lobes = 0, waves = 3, count = 12, noise = 0 }) =>
  rimSweep(
    "rim",
    range(count).map((i) => {
      const angle = (2 * Math.PI * i) / count;
      const wave = lobes * Math.cos(waves * angle + 0.3);
      return x * Math.cos(angle) + y * Math.sin(angle) + wave + noise * Math.sin(7.3 * i * i);
    }),
  );
const RIM = "features: {rim: {fit: circle, from: rim-sweep, radius: 100 mm, surface: boss}}\n";
const CENTERING = `${RIM}advice:\n  - {kind: centering, of: rim`;
const JAWS = [90, 210, 330]
  .map((angle, i) => `{name: jaw ${i + 1}, angle: ${angle} deg, pitch: 2 mm}`)
  .join(", ");

describe("centring by jaws", () => {
  it.each(["jaws", "screws"])("names each of the %s, those that give way first", (what) => {
    const lines = cardOf(`${CENTERING}, ${what}: [${JAWS}]}\n`, [rim({ x: -0.034, y: -0.094 })]);
    expect(lines).toHaveLength(3);
    expect(lines[0]).toMatch(
      /^jaw 1: \+0\.094\d* mm, outward: back it off, turn 16\.9°; part X \+0\.034\d* mm/,
    );
    expect(lines[1]).toMatch(/^jaw 3: -0\.01[78]\d* mm, inward: push/);
    expect(lines[2]).toMatch(/^jaw 2: -0\.076\d* mm, inward: push/);
  });
  it("says in how many steps where one is too large", () => {
    const [first] = cardOf(`${CENTERING}, largest-move: 0.05 mm, jaws: [${JAWS}]}\n`, [rim({ y: -0.094 })]);
    expect(first).toMatch(/^jaw 1: \+0\.050\d* mm.* in 2 steps, sweep after each$/);
  });
});

describe("waves on a rim", () => {
  const advice = (given: Parameters<typeof rim>[0]) => {
    const [one] = made(`${CENTERING}}\n`, [rim({ ...given, noise: 0.0002 })]).advice;
    return { headline: one?.headline.text, cautions: one?.cautions.map(({ text }) => text).join(" ") };
  };
  it.each([8, 9, 10, 12, 24])(
    "of three jaws are seen with %i readings, and hide no eccentricity",
    (count) => {
      const { headline, cautions } = advice({ x: 0.015, lobes: 0.02, count });
      expect(cautions).toMatch(/three-jaw squeeze/);
      expect(headline).toMatch(/^Move the part X -0\.015/);
    },
  );
  it.each([8, 12, 24])("are not seen where there is noise alone, with %i readings", (count) => {
    expect(advice({ x: 0.015, count }).cautions).not.toMatch(/Looks/);
  });
  it("an oval is told as one, and a rim that is centred is left", () => {
    const { headline, cautions } = advice({ lobes: 0.02, waves: 2 });
    expect(cautions).toMatch(/Looks oval/);
    expect(headline).toMatch(/leave it/);
  });
  it("no way is told for what shows as no move", () => {
    expect(advice({ x: 0.015 }).headline).toMatch(/: to the left\.$/);
    expect(advice({ y: 0.02 }).headline).toMatch(/: down\.$/);
    expect(advice({ x: 0.015, y: 0.02 }).headline).toMatch(/: to the left and down\.$/);
  });
});

describe("a shim", () => {
  const LEAN = "features: {lean: {fit: line, from: traverse, along: y, height: z}}\n";
  const stops = "[{name: front, z: 100 mm}, {name: back, z: -100 mm}]";
  it("stands behind cleaning and seating again", () => {
    const heights = range(5).map((i) => 0.0002 * i * 50);
    const lines = cardOf(`${LEAN}advice:\n  - {kind: square-up, of: lean, stops: ${stops}}\n`, [
      traverse(
        "lean",
        range(5).map((i) => i * 50),
        heights,
      ),
    ]);
    expect(lines[0]).toMatch(/^Clean and re-seat first; if the lean stays, (front|back): /);
  });
});

describe("numbers to key in", () => {
  const body = (more: string) => `features:
  face: {fit: plane, normal: [0, 0, 1]}
advice:
${more}  - {kind: work-offset, of: face, register: face 0 Z, old: {z: 0 mm}, nominal: {z: 0 mm}}
`;
  const face = (turn: number) =>
    touched(
      "face",
      grid(3, 50, (x) => 12 + turn * x),
    );
  const squareUp =
    "  - {kind: square-up, of: face, stops: [{name: left, x: -100 mm}, {name: right, x: 100 mm}]}\n";
  it("are told to be measured again where a move comes first", () => {
    const report = made(body(squareUp), [face(0.001)]);
    expect(report.card?.at(-1)?.text).toMatch(
      /^After the moves above measure again; as it stands now face 0 Z: /,
    );
    expect(report.advice.map(({ shifts }) => shifts)).toEqual([true, undefined]);
  });
  it("stand plainly where nothing moves, or too little to matter", () => {
    for (const turn of [0, 1e-8]) expect(cardOf(body(squareUp), [face(turn)]).at(-1)).toMatch(/^face 0 Z: /);
    expect(cardOf(body(""), [face(0.001)])).toEqual([expect.stringMatching(/^face 0 Z: /)]);
  });
});

describe("a pass beside an advice not to cut", () => {
  const blank = (finished: number, length: string) =>
    made(
      `features:
  raw: {fit: plane, normal: [0, 0, 1]}
  round: {fit: circle, normal: [0, 0, 1], surface: boss}
characteristics: [{id: flat, kind: flatness, of: raw, max: 1 mm}]
advice:
  - {kind: face-cut, of: raw, below-low: 1 mm, per-pass: 1 mm, ${length}}
  - {kind: clean-up, of: round, finished: ${finished} mm, center: [0 mm, 0 mm], allowance: 0.2 mm}
`,
      [
        touched(
          "raw",
          grid(3, 40, () => 0),
        ),
        touched(
          "round",
          ring(24, () => 50, [3, 0, 0]),
        ),
      ],
    );
  it.each([
    ["too short", 90, "length: 50 mm, other-side: 1 mm, finished-length: 49 mm", true],
    ["no clean-up", 120, "length: 90 mm", true],
    ["no clean-up where it stands", 99, "length: 90 mm", true],
    ["room for all", 90, "length: 90 mm", false],
  ])("%s", (_, finished, length, halt) => {
    const report = blank(finished, length);
    expect(report.verdict).toBe("pass");
    expect(halted(report)).toBe(halt);
  });
});

describe("what was meant to stay", () => {
  const found = (state: "as-found" | "as-left", turn: number, lean: number) =>
    touched(
      "face",
      grid(4, 60, (x, y) => turn * x + lean * y + 1e-5 * Math.sin(x * y)),
      { state },
    );
  const PLAN = "features: {face: {fit: plane, normal: [0, 0, 1]}}\n";
  it("is not told to have failed to move beside what went right", () => {
    const right = [found("as-found", 0.0005, 0.0003), found("as-left", 0, 0.0003)];
    expect(cardOf(PLAN, right).join()).not.toMatch(/nothing moved/);
    const stuck = [found("as-found", 0.0005, 0.0003), found("as-left", 0.0005, 0.0003)];
    expect(cardOf(PLAN, stuck).join()).toMatch(/nothing moved/);
  });
});

describe("four faces", () => {
  it("heights that are not from the axis of B are called so", () => {
    const faces = [0, 90, 180, 270].map((index) =>
      touched(
        `f${index}`,
        grid(3, 50, () => -300),
      ),
    );
    const body = (center: string) =>
      `machine: {name: M, b-sense: 1}\nfeatures: {${faces.map(({ name }) => `${name}: {fit: plane, normal: [0, 0, 1]}`).join(", ")}}\nadvice:\n  - {kind: four-face, of: {0: f0, 90: f90, 180: f180, 270: f270}${center}}\n`;
    const words = (center: string) => {
      const [one] = made(body(center), faces).advice;
      return [...(one?.working ?? []), ...(one?.cautions ?? [])].map(({ text }) => text).join("\n");
    };
    expect(words("")).toMatch(/= -600\.000\d* mm: no column is that wide/);
    expect(words("")).toMatch(/state the centre of B as center/);
    expect(words(", center: {x: 0 mm, z: -500 mm}")).not.toMatch(/no column is that wide|state the centre/);
  });
});

describe("eccentricity", () => {
  it.each([
    ["of its own", ", sag: 0.02 mm", ""],
    ["of another entry", "", ", sag: 0.02 mm"],
  ])("takes off the sag %s", (_, own, other) => {
    const body = `${RIM}characteristics:
  - {id: ecc, kind: eccentricity, of: rim, max: 0.01 mm${own}}
  - {id: out, kind: runout, of: rim, max: 0.1 mm${other}}
`;
    const { value, method } = characteristic(made(body, [rim({ y: 0.02 })]), "ecc");
    expect(value).toBeCloseTo(0, 5);
    expect(method.text).toMatch(/after a sag of 0\.02 mm/);
  });
  it("keeps what the header has taken off already", () => {
    const body = `${RIM}characteristics: [{id: ecc, kind: eccentricity, of: rim, max: 0.01 mm, sag: 0.02 mm}]\n`;
    const swept = rim({ y: 0.02 });
    const taken = { ...swept, sweep: { ...swept.sweep!, headerSagMm: 0.02 } };
    expect(characteristic(made(body, [taken]), "ecc").value).toBeCloseTo(0.02, 5);
  });
});
