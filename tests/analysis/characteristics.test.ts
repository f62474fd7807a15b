// Each kind of characteristic on parts whose answer is worked out by hand beside it.
import { describe, expect, it } from "vitest";
import { add, basis, scale, type Vec3 } from "../../src/math/vector.ts";
import {
  characteristic,
  grid,
  judged,
  PROBE,
  planOf,
  range,
  report,
  rimSweep,
  ring,
  swept,
  touched,
  traverse,
} from "./setting.ts";

const F = `${PROBE}features:
  a: {fit: plane, normal: [0, 0, 1]}
  b: {fit: plane, normal: [0, 0, 1]}
  side: {fit: plane, normal: [1, 0, 0]}
  c: {fit: circle, normal: [0, 0, 1], surface: bore}
  d: {fit: circle, normal: [0, 0, 1], surface: bore}
  rim: {fit: circle, from: rim-sweep, radius: 100 mm, surface: bore}
  boss: {fit: circle, from: rim-sweep, radius: 100 mm, surface: boss}
  facing: {fit: plane, from: face-sweep, radius: 100 mm}
  rod: {fit: cylinder, normal: [0, 0, 1], surface: boss}
  rod2: {fit: cylinder, normal: [0, 0, 1], surface: boss}
  ball: {fit: sphere, surface: boss}
  spot: {fit: point, normal: [0, 0, 1]}
  lean: {fit: line, from: traverse, along: y, height: z}
  through: {fit: axis, through: [c, d]}
characteristics:
`;
const one = (entry: string, features: Parameters<typeof judged>[1], decision?: string) =>
  judged(`${F}  - {id: it, ${entry}}\n`, features, decision);
const plain = grid(3, 100, () => 0);
/** A rod of radius 20 about an axis through the origin along (sx, sy, 1), rings square to it at places along it. */
const rod = (sx: number, sy: number, places: readonly number[], each = 8): Vec3[] => {
  const { u, v, w } = basis([sx, sy, 1]);
  return places.flatMap((at) =>
    ring(each, () => 20).map(([x, y]): Vec3 => add(scale(w, at), add(scale(u, x), scale(v, y)))),
  );
};

describe("form", () => {
  it("flatness: middle of a 3 x 3 grid 0.6 high: minimum zone 0.6, spread about least squares 0.6 too", () => {
    const dome = grid(3, 100, (x, y) => (x === 0 && y === 0 ? 0.6 : 0));
    expect(one("kind: flatness, of: a, max: 1 mm", [touched("a", dome)]).value).toBeCloseTo(0.6, 9);
  });
  it("flatness: a raised corner and its opposite, 1 and 1, the others 0", () => {
    // Planes 0 and 1 hold all; tilting cannot help because both diagonals pull apart: corners (+,+) and (-,-) high, (+,-) and (-,+) low.
    const twist = grid(2, 100, (x, y) => (x * y > 0 ? 1 : 0));
    const made = one("kind: flatness, of: a, max: 2 mm", [touched("a", twist)]);
    // Square to the planes: the four points of a twisted square of side 100 are 1 apart.
    expect(made.value).toBeCloseTo(1, 9);
    expect(made.verdict).toBe("undecided");
    expect(made.because.text).toMatch(/4 points on a are too few to say: at least 9/);
  });
  it("flatness by least squares: one of four corners 2 high leaves residuals of plus and minus 0.5", () => {
    const corner = grid(2, 100, (x, y) => (x > 0 && y > 0 ? 0.002 : 0));
    expect(
      one("kind: flatness, of: a, zone: least-squares, max: 2 mm", [touched("a", corner)]).value,
    ).toBeCloseTo(0.001, 8);
  });
  it("straightness: a bend of 0.2 in the middle of five readings", () => {
    const made = one("kind: straightness, of: lean, max: 1 mm", [
      traverse("lean", [0, 100, 200, 300, 400], [0, 0.1, 0.2, 0.1, 0]),
    ]);
    expect(made.value).toBeCloseTo(0.2, 9);
  });
  it("roundness: an ellipse of radii 50 and 50.01 has 0.01 between concentric circles", () => {
    const oval = ring(8, (a) => 50 + 0.01 * Math.abs(Math.sin(a)));
    const four = oval.filter((_, i) => i % 2 === 0);
    expect(
      one("kind: roundness, of: c, max: 1 mm", [
        touched("c", [
          ...four,
          ...ring(4, () => 50.005).map(([x, y]): Vec3 => [(x - y) * Math.SQRT1_2, (x + y) * Math.SQRT1_2, 0]),
        ]),
      ]).value,
    ).toBeCloseTo(0.01, 9);
  });
  it("roundness of a cylinder: the worst ring counts, and a ring of too few points does not decide", () => {
    const rings = [0, 30, 60].flatMap((z, i) =>
      ring(8, (a) => 20 + (i === 1 ? 0.004 : 0.001) * Math.cos(2 * a), [0, 0, z]),
    );
    const made = one("kind: roundness, of: rod, max: 1 mm", [touched("rod", rings)]);
    expect(made.value).toBeCloseTo(0.008, 4);
    expect(made.verdict).toBe("pass");
    const few = one("kind: roundness, of: rod, max: 1 mm", [touched("rod", rod(0, 0, [0, 30, 60], 6))]);
    expect(few.verdict).toBe("undecided");
    expect(few.because.text).toMatch(/6 points/);
  });
  it("roundness of a spiral has no rings and says so", () => {
    const spiral = range(40).map((i): Vec3 => [20 * Math.cos(i / 3), 20 * Math.sin(i / 3), i]);
    const made = one("kind: roundness, of: rod, max: 1 mm", [touched("rod", spiral)]);
    expect(made).toMatchObject({ value: null, verdict: "undecided" });
    expect(made.because.text).toMatch(/rings/);
  });
  it("cylindricity: one ring 0.003 larger than the others: the zone is 0.003 wide", () => {
    const rings = [0, 30, 60].flatMap((z) => ring(8, () => (z === 30 ? 20.003 : 20), [0, 0, z]));
    expect(one("kind: cylindricity, of: rod, max: 1 mm", [touched("rod", rings)]).value).toBeCloseTo(
      0.003,
      6,
    );
  });
  it("lobing: radius peak to valley of three lobes of amplitude 0.002 is 0.004, an oval does not mix in", () => {
    const lobed = ring(12, (a) => 50 + 0.002 * Math.cos(3 * a + 1) + 0.005 * Math.cos(2 * a));
    expect(one("kind: lobing, of: c, n: 3, max: 1 mm", [touched("c", lobed)]).value).toBeCloseTo(0.004, 6);
    const blind = one("kind: lobing, of: c, n: 3, max: 1 mm", [
      touched(
        "c",
        lobed.filter((_, i) => i % 2 === 0),
      ),
    ]);
    expect(blind).toMatchObject({ value: null, verdict: "undecided" });
  });
});

describe("orientation", () => {
  const wall = (leanPerMm: number): Vec3[] => grid(3, 100, () => 0).map(([y, z]) => [leanPerMm * z, y, z]);

  it("perpendicularity of a face: lean 0.0001 over 200 is 0.02", () => {
    expect(
      one("kind: perpendicularity, of: side, to: a, max: 1 mm", [
        touched("a", plain),
        touched("side", wall(0.0001)),
      ]).value,
    ).toBeCloseTo(0.02, 8);
  });
  it("perpendicularity does not count a face turned about the datum's normal", () => {
    const turned = wall(0).map(([x, y, z]): Vec3 => [x + 0.01 * y, y, z]);
    expect(
      one("kind: perpendicularity, of: side, to: a, max: 1 mm", [
        touched("a", plain),
        touched("side", turned),
      ]).value,
    ).toBeCloseTo(0, 9);
  });
  it("perpendicularity of a rod: relative slope times the measured length, and over a stated length", () => {
    // Datum slopes a = 0.0001, b = -0.00005: normal (-0.0001, 0.00005, 1). Axis slopes 0.000125, -0.000125.
    // Relative (0.000225, -0.000175), length 0.000285044; over 60 mm 0.01710.
    const datum = grid(3, 100, (x, y) => 0.0001 * x - 0.00005 * y);
    const parts = [touched("a", datum), touched("rod", rod(0.000125, -0.000125, [10, 40, 70]))];
    expect(one("kind: perpendicularity, of: rod, to: a, max: 1 mm", parts).value).toBeCloseTo(
      60 * Math.hypot(0.000225, 0.000175),
      8,
    );
    const short = one("kind: perpendicularity, of: rod, to: a, length: 30 mm, max: 1 mm", parts);
    expect(short.value).toBeCloseTo(30 * Math.hypot(0.000225, 0.000175), 8);
    const beyond = one("kind: perpendicularity, of: rod, to: a, length: 80 mm, max: 1 mm", parts);
    expect(beyond.value).toBeCloseTo(80 * Math.hypot(0.000225, 0.000175), 8);
    expect(beyond.verdict).toBe("undecided");
    expect(beyond.because.text).toMatch(/beyond/);
    expect(beyond.toDecide[0]?.text).toMatch(/at least 80 mm/);
  });
  it("perpendicularity of an axis through two bores ends at their centres", () => {
    // Centres (0.0002, 0.0001) and (0, 0.0003), 1.6 apart over a datum with slopes 0.0001 and -0.00005, in inches: 0.00046.
    const inch = 25.4;
    const datum = grid(3, 100, (x, y) => 0.0001 * x - 0.00005 * y);
    const parts = [
      touched("a", datum),
      touched(
        "c",
        ring(6, () => 20, [0, 0.0003 * inch, 0]),
      ),
      touched(
        "d",
        ring(6, () => 20, [0.0002 * inch, 0.0001 * inch, 1.6 * inch]),
      ),
    ];
    const value = one("kind: perpendicularity, of: through, to: a, max: 1 mm", parts).value ?? 0;
    expect(value / inch).toBeCloseTo(0.000456, 6);
  });
  it("angularity: a face at 30 degrees that is flat has none; at 30.01 it has 200 x the difference", () => {
    const at = (degrees: number) => {
      const t = (degrees * Math.PI) / 180;
      return grid(3, 100, () => 0).map(([u, y]): Vec3 => [u * Math.cos(t), y, -u * Math.sin(t)]);
    };
    const ask = (degrees: number) =>
      one("kind: angularity, of: b, to: a, angle: 30 deg, max: 1 mm", [
        touched("a", plain),
        touched("b", at(degrees)),
      ]).value;
    expect(ask(30)).toBeCloseTo(0, 9);
    expect(ask(30.01)).toBeCloseTo(200 * Math.sin((0.01 * Math.PI) / 180), 8);
  });
  it("parallelism of a face: largest less smallest distance from the datum", () => {
    const wedge = grid(3, 100, (x) => 30 + 0.0001 * x);
    expect(
      one("kind: parallelism, of: b, to: a, max: 1 mm", [touched("a", plain), touched("b", wedge)]).value,
    ).toBeCloseTo(0.02, 9);
  });
  it("parallelism of a rod to a rod and to a plane", () => {
    const parts = [
      touched("a", plain),
      touched("rod", rod(0.0003, 0.0004, [0, 30, 60])),
      touched(
        "rod2",
        rod(0, 0, [0, 30, 60]).map(([x, y, z]): Vec3 => [x + 200, y, z]),
      ),
    ];
    expect(one("kind: parallelism, of: rod, to: rod2, max: 1 mm", parts).value).toBeCloseTo(60 * 0.0005, 8);
    const lying = rod(0.0002, 0, [0, 30, 60]).map(([x, y, z]): Vec3 => [z, y, x]);
    const plan = `${F}  - {id: it, kind: parallelism, of: rod, to: a, max: 1 mm}\n`.replace(
      "rod: {fit: cylinder, normal: [0, 0, 1]",
      "rod: {fit: cylinder, normal: [1, 0, 0]",
    );
    expect(judged(plan, [touched("a", plain), touched("rod", lying)]).value).toBeCloseTo(60 * 0.0002, 8);
  });
  it("parallelism against a tangent datum differs by what the datum's form does, and says so", () => {
    const dome = grid(3, 100, (x, y) => (x === 0 && y === 0 ? 0.6 : 0) + 0.001 * x * (x > 0 ? 1 : 0));
    const above = grid(3, 100, () => 40);
    const made = one("kind: parallelism, of: b, to: a, datum: tangent, max: 9 mm", [
      touched("a", dome),
      touched("b", above),
    ]);
    expect(made.remarks.map(({ text }) => text).join(" ")).toMatch(/tangent plane of a/);
    expect(made.uncertainty).toBeGreaterThan(0);
  });
  it("angle: 0 to 90 degrees whichever way the normals point", () => {
    const steep = grid(3, 100, (x) => x);
    expect(
      one("kind: angle, of: b, to: a, max: 90 deg", [touched("a", plain), touched("b", steep)]).value,
    ).toBeCloseTo(45, 9);
    const made = one("kind: angle, of: side, to: a, nominal: 90 deg, plus: 0.1 deg, minus: 0.1 deg", [
      touched("a", plain),
      touched("side", wall(0.001)),
    ]);
    expect(made.value).toBeCloseTo(90 - (Math.atan(0.001) * 180) / Math.PI, 9);
    expect(made.unit).toBe("deg");
    expect(made.limits.upper).toBeCloseTo(90.1, 9);
  });
});

describe("tilt", () => {
  it("of a plane: rise along Z per 100 along X, signed", () => {
    const face = grid(3, 100, (x, y) => 0.0001 * x - 0.0002 * y);
    const ask = (along: string) =>
      one(`kind: tilt, of: a, along: ${along}, per: 100 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm`, [
        touched("a", face),
      ]).value;
    expect(ask("x")).toBeCloseTo(0.01, 9);
    expect(ask("y")).toBeCloseTo(-0.02, 9);
    expect(ask("z")).toBeNull();
  });
  it("of a side face: rise along X, whichever way its normal points", () => {
    const wall = grid(3, 100, () => 0).map(([y, z]): Vec3 => [-0.0003 * z, y, z]);
    const ask = (normal: string) =>
      judged(
        `${F}  - {id: it, kind: tilt, of: side, along: z, per: 100 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm}\n`.replace(
          "normal: [1, 0, 0]",
          `normal: ${normal}`,
        ),
        [touched("side", wall)],
      ).value;
    expect(ask("[1, 0, 0]")).toBeCloseTo(-0.03, 9);
    expect(ask("[-1, 0, 0]")).toBeCloseTo(-0.03, 9);
  });
  it("of two readings: 0.0012 over 12 in is 0.0001 per in, and the uncertainty over the span is root 2 of a reading", () => {
    const made = one(
      "kind: tilt, of: lean, along: y, per: 12 in, nominal: 0 mm, plus: 0.1 mm, minus: 0.1 mm",
      [traverse("lean", [0, 304.8], [0, 0.03048])],
    );
    expect(made.value).toBeCloseTo(0.03048, 9);
    expect(made.uncertainty).toBeCloseTo(2 * Math.SQRT2 * 0.001, 8);
    expect(made.coverage).toBe(2);
    expect(made.verdict).toBe("pass");
  });
  it("counts the straightness of the travel where the plan states it", () => {
    const plan = `${F}  - {id: it, kind: tilt, of: lean, along: y, per: 304.8 mm, nominal: 0 mm, plus: 0.1 mm, minus: 0.1 mm}\nmachine: {straightness: 0.003 mm}\n`;
    expect(judged(plan, [traverse("lean", [0, 304.8], [0, 0.03])]).uncertainty).toBeCloseTo(
      2 * Math.hypot(Math.SQRT2 * 0.001, 0.003),
      8,
    );
  });
});

describe("size and place", () => {
  it("diameter: least squares, inscribed, circumscribed", () => {
    const oval = [
      [50, 0, 0],
      [-50, 0, 0],
      [0, 50.02, 0],
      [0, -50.02, 0],
    ] as Vec3[];
    const ask = (size: string) =>
      one(`kind: diameter, of: c${size}, nominal: 100 mm, plus: 1 mm, minus: 1 mm`, [touched("c", oval)])
        .value;
    expect(ask("")).toBeCloseTo(100.02, 9);
    // Moved up by y until three points are equally far: 50.02 - y = sqrt(50^2 + y^2).
    const y = (50.02 ** 2 - 50 ** 2) / (2 * 50.02);
    expect(ask(", size: inscribed")).toBeCloseTo(2 * (50.02 - y), 9);
    expect(ask(", size: circumscribed")).toBeCloseTo(100.04, 9);
  });
  it("diameter of a rim sweep is what the plan says: undecided, no value", () => {
    expect(
      one("kind: diameter, of: rim, nominal: 200 mm, plus: 1 mm, minus: 1 mm", [
        rimSweep("rim", [0, 0.01, 0, -0.01], { bore: true }),
      ]),
    ).toMatchObject({ value: null, verdict: "undecided" });
  });
  it("diameter at 24 degrees of a steel part is brought to 20 where temperature and expansion are stated", () => {
    const plan = (part: string) =>
      `${F}  - {id: it, kind: diameter, of: c, nominal: 100 mm, plus: 1 mm, minus: 1 mm}\n${part}`;
    const warm = (part: string) =>
      judged(plan(part), [
        touched(
          "c",
          ring(8, () => 50),
          { temperatureC: 24 },
        ),
      ]);
    expect(warm("part: {expansion: 11.5 um/m/K}").value).toBeCloseTo(100 * (1 - 11.5e-6 * 4), 9);
    expect(warm("").value).toBeCloseTo(100, 9);
    const unstated = judged(plan("part: {expansion: 11.5 um/m/K}"), [
      touched(
        "c",
        ring(8, () => 50),
      ),
    ]);
    expect(unstated.value).toBeCloseTo(100, 9);
    expect(unstated.remarks.map(({ text }) => text).join(" ")).toMatch(
      /each degree from 20 °C changes this by 0\.0011 mm/,
    );
  });
  it("offset: from a place, axes left out not counting; from another feature; signed along an axis", () => {
    const c = touched(
      "c",
      ring(6, () => 10, [3, 4, 12]),
    );
    const d = touched(
      "d",
      ring(6, () => 10, [0, 4, 12]),
    );
    expect(one("kind: offset, of: c, from: {x: 0 mm, y: 0 mm}, max: 9 mm", [c]).value).toBeCloseTo(5, 9);
    expect(one("kind: offset, of: c, from: {y: 0 mm}, max: 9 mm", [c]).value).toBeCloseTo(4, 9);
    expect(one("kind: offset, of: c, from: d, max: 9 mm", [c, d]).value).toBeCloseTo(3, 9);
    expect(
      one(
        "kind: offset, of: c, from: {x: 5 mm, y: 0 mm}, along: x, nominal: -2 mm, plus: 0.1 mm, minus: 0.1 mm",
        [c],
      ),
    ).toMatchObject({ verdict: "pass" });
    expect(
      one(
        "kind: offset, of: c, from: {x: 5 mm, y: 0 mm}, along: x, nominal: -2 mm, plus: 0.1 mm, minus: 0.1 mm",
        [c],
      ).value,
    ).toBeCloseTo(-2, 9);
    expect(one("kind: offset, of: c, from: d, max: 9 mm", [c]).verdict).toBe("undecided");
  });
  it("position: twice the distance; of an axis the larger of its two ends", () => {
    const c = touched(
      "c",
      ring(6, () => 10, [10.003, 20.004, 0]),
    );
    const d = touched(
      "d",
      ring(6, () => 10, [10.01, 20, 50]),
    );
    expect(one("kind: position, of: c, at: {x: 10 mm, y: 20 mm}, max: 1 mm", [c]).value).toBeCloseTo(0.01, 9);
    expect(one("kind: position, of: through, at: {x: 10 mm, y: 20 mm}, max: 1 mm", [c, d]).value).toBeCloseTo(
      0.02,
      9,
    );
  });
  it("coaxiality: twice the distance of the farther end from the datum axis", () => {
    const parts = [
      touched(
        "c",
        ring(6, () => 10, [0.003, 0, 100]),
      ),
      touched(
        "d",
        ring(6, () => 10, [0.005, 0, 150]),
      ),
      touched("rod", rod(0, 0, [0, 30, 60])),
    ];
    expect(one("kind: coaxiality, of: through, to: rod, max: 1 mm", parts).value).toBeCloseTo(0.01, 6);
  });
  it("distance: of a plane from a plane along the datum's outward normal, mean over its points", () => {
    const above = grid(3, 100, (x) => 30 + 0.0001 * x);
    const ask = (normal: string) =>
      judged(
        `${F}  - {id: it, kind: distance, of: b, to: a, nominal: 30 mm, plus: 99 mm, minus: 99 mm}\n`.replace(
          "a: {fit: plane, normal: [0, 0, 1]}",
          `a: {fit: plane, normal: ${normal}}`,
        ),
        [touched("a", plain), touched("b", above)],
      ).value;
    expect(ask("[0, 0, 1]")).toBeCloseTo(30, 9);
    expect(ask("[0, 0, -1]")).toBeCloseTo(-30, 9);
  });
  it("distance: between centres, along an axis, of a point from a plane, from the log's zero", () => {
    const c = touched(
      "c",
      ring(6, () => 10, [3, 4, 12]),
    );
    const d = touched(
      "d",
      ring(6, () => 10, [0, 0, 0]),
    );
    const ask = (entry: string) =>
      one(`kind: distance, ${entry}, nominal: 0 mm, plus: 99 mm, minus: 99 mm`, [
        c,
        d,
        touched("a", plain),
        touched("spot", [[7, 8, -2.5]]),
      ]).value;
    expect(ask("of: c, to: d")).toBeCloseTo(13, 9);
    expect(ask("of: d, to: c, along: y")).toBeCloseTo(-4, 9);
    expect(ask("of: spot, to: a")).toBeCloseTo(-2.5, 9);
    expect(ask("of: a, to: spot")).toBeCloseTo(2.5, 9);
    expect(ask("of: c, along: z")).toBeCloseTo(12, 9);
  });
  it("distance of a ball's centre from a plane", () => {
    const touches = grid(3, 5, () => 0).map(([x, y]): Vec3 => [x, y, 50 + Math.sqrt(144 - x * x - y * y)]);
    expect(
      one("kind: distance, of: ball, to: a, nominal: 50 mm, plus: 1 mm, minus: 1 mm", [
        touched("a", plain),
        touched("ball", touches),
      ]).value,
    ).toBeCloseTo(50, 6);
  });
});

describe("sweeps", () => {
  it("runout: largest less smallest reading", () => {
    expect(
      one("kind: runout, of: rim, max: 1 mm", [rimSweep("rim", [0, 0.01, 0.03, 0.02], { bore: true })]).value,
    ).toBeCloseTo(0.03, 9);
    const face = swept(
      "facing",
      "face-sweep",
      ring(4, () => 100).map(([x, y], i): Vec3 => [x, y, [6, 2, -4, 0][i]! / 1000]),
      [0.006, 0.002, -0.004, 0],
    );
    expect(one("kind: runout, of: facing, max: 1 mm", [face]).value).toBeCloseTo(0.01, 9);
    expect(
      one("kind: runout, of: c, max: 1 mm", [
        touched(
          "c",
          ring(6, () => 9),
        ),
      ]),
    ).toMatchObject({ value: null, verdict: "undecided" });
  });
  it("runout: a sag moves the centre down, in a bore and on a boss alike, unless the header has taken it out", () => {
    // Centre truly at y = -0.003, sag 0.008: a boss reads (-0.003 + 0.008) sin a; without the sag it reads -0.003 sin a.
    const readings = range(12).map((i) => 0.005 * Math.sin((2 * Math.PI * i) / 12));
    expect(
      one("kind: runout, of: boss, sag: 0.008 mm, max: 1 mm", [rimSweep("boss", readings)]).value,
    ).toBeCloseTo(0.006, 9);
    const inBore = readings.map((r) => -r);
    expect(
      one("kind: runout, of: rim, sag: 0.008 mm, max: 1 mm", [rimSweep("rim", inBore, { bore: true })]).value,
    ).toBeCloseTo(0.006, 9);
    expect(
      one("kind: runout, of: boss, sag: 0.008 mm, max: 1 mm", [
        rimSweep("boss", readings, { headerSagMm: 0.008 }),
      ]).value,
    ).toBeCloseTo(0.01, 9);
  });
  it("eccentricity: a bore read 0, 0.010, 0.030, 0.020 stands 0.015, 0.005 off the axis of the sweep", () => {
    expect(
      one("kind: eccentricity, of: rim, max: 1 mm", [rimSweep("rim", [0, 0.01, 0.03, 0.02], { bore: true })])
        .value,
    ).toBeCloseTo(Math.hypot(0.015, 0.005), 5);
  });
  it("eccentricity of a touched circle high above the zero is not levered by the tilt of its few touches", () => {
    const tilted = ring(6, () => 40, [0.03, 0.04, 0]).map(([x, y]): Vec3 => [x, y, 500 + 0.001 * x]);
    expect(one("kind: eccentricity, of: c, max: 1 mm", [touched("c", tilted)]).value).toBeCloseTo(0.05, 4);
  });
});

describe("what the data do not decide", () => {
  it("size of uncorrected tip centres: value given, not judged; centre and form are", () => {
    const unknown = touched(
      "c",
      ring(8, () => 47),
      { tip: { points: "unknown", radiusMm: null } },
    );
    const size = one("kind: diameter, of: c, nominal: 94 mm, plus: 1 mm, minus: 1 mm", [unknown]);
    expect(size.verdict).toBe("undecided");
    expect(one("kind: offset, of: c, from: {x: 0 mm, y: 0 mm}, max: 1 mm", [unknown]).verdict).toBe("pass");
    expect(one("kind: roundness, of: c, max: 1 mm", [unknown]).verdict).toBe("pass");
    const face = touched("a", plain, { tip: { points: "unknown", radiusMm: null } });
    expect(one("kind: flatness, of: a, max: 1 mm", [face]).verdict).toBe("pass");
    expect(
      one("kind: tilt, of: a, along: x, per: 100 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm", [face]).verdict,
    ).toBe("pass");
    expect(
      one("kind: distance, of: a, along: z, nominal: 0 mm, plus: 1 mm, minus: 1 mm", [face]).verdict,
    ).toBe("undecided");
  });
  it("no stated uncertainty under a guard band; simple acceptance does without", () => {
    const bare = touched("a", plain, { instrument: null });
    const guarded = one("kind: flatness, of: a, max: 1 mm", [bare]);
    expect(guarded.verdict).toBe("undecided");
    expect(guarded.because.text).toMatch(/No uncertainty is stated/);
    expect(one("kind: flatness, of: a, max: 1 mm", [bare], "rule: simple").verdict).toBe("pass");
  });
  it("three points give a tilt that is judged and a flatness that is not", () => {
    const three = touched("a", plain.slice(0, 2).concat(plain.slice(5, 6)));
    expect(
      one("kind: tilt, of: a, along: x, per: 100 mm, nominal: 0 mm, plus: 1 mm, minus: 1 mm", [three])
        .verdict,
    ).toBe("pass");
    const flat = one("kind: flatness, of: a, max: 1 mm", [three]);
    expect(flat.value).toBeCloseTo(0, 9);
    expect(flat.verdict).toBe("undecided");
    const four = touched("a", plain.slice(0, 2).concat(plain.slice(5, 7)));
    const accepted = judged(`${F}  - {id: it, kind: flatness, of: a, max: 1 mm}\npoints: {plane: 4}\n`, [
      four,
    ]);
    expect(accepted.verdict).toBe("pass");
  });
  it("points on a line give no plane: undecided with the reason, and the next characteristic is judged", () => {
    const plan = planOf(
      `${F}  - {id: bad, kind: flatness, of: a, max: 1 mm}\n  - {id: good, kind: flatness, of: b, max: 1 mm}\n`,
    );
    const made = report(plan, [
      touched(
        "a",
        range(9).map((i): Vec3 => [i, 2 * i, 0]),
      ),
      touched("b", plain),
    ]);
    expect(characteristic(made, "bad")).toMatchObject({ value: null, verdict: "undecided" });
    expect(characteristic(made, "bad").because.text).toMatch(/one line/);
    expect(characteristic(made, "good").verdict).toBe("pass");
  });
});

describe("as found and as left", () => {
  it("judges as left and gives the value as found beside it; as found alone is judged", () => {
    const before = touched(
      "a",
      grid(3, 100, (x) => 0.001 * x),
      { state: "as-found" },
    );
    const after = touched(
      "a",
      grid(3, 100, (x) => 0.0001 * x),
    );
    const entry = "kind: tilt, of: a, along: x, per: 100 mm, nominal: 0 mm, plus: 0.05 mm, minus: 0.05 mm";
    const both = one(entry, [before, after]);
    expect(both.value).toBeCloseTo(0.01, 9);
    expect(both.asFound).toBeCloseTo(0.1, 9);
    expect(both).toMatchObject({ state: "as-left", verdict: "pass" });
    expect(one(entry, [before])).toMatchObject({ state: "as-found", verdict: "fail", asFound: null });
  });
});

describe("readings left out on purpose", () => {
  const chip = grid(3, 100, (x, y) => (x === 100 && y === 100 ? 0.05 : 0.0001 * ((x + 2 * y) % 3)));
  it("are listed with their reason, and the value with them stands beside", () => {
    const plan = `${F}  - {id: it, kind: flatness, of: a, zone: least-squares, max: 1 mm}\nexclude: [{feature: a, line: 18, reason: chip under the tip}]\npoints: {plane: 8}\n`;
    const made = report(planOf(plan), [touched("a", chip)]);
    const entry = characteristic(made, "it");
    expect(entry.points).toBe(8);
    expect(entry.value).toBeLessThan(0.001);
    expect(entry.remarks.map(({ text }) => text).join(" ")).toMatch(
      /With the readings that the plan leaves out it would be 0\.0/,
    );
    expect(made.logs[0]?.excluded).toEqual([expect.objectContaining({ line: 18 })]);
    expect(made.logs[0]?.excluded[0]?.reason.text).toMatch(/chip under the tip/);
  });
});
