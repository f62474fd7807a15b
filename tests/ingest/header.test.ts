import { describe, expect, it } from "vitest";
import {
  codes,
  decision,
  feature,
  leftOut,
  planWith,
  points,
  rejected,
  sentence,
  understood,
} from "./helpers.ts";

const ROWS = "feature,x,y,z\nf,1,2,3\n";

describe("header lines", () => {
  it("may stand anywhere before the rows, in any case, and unknown keys are kept", () => {
    const log = understood(
      "# Unit : mm\n\n#JOB: J-2207\nfeature,x,y,z\n# Colour: red: dark\n# remark without a key\nf,1,2,3\n",
    );
    expect(log.record.header).toEqual({ unit: "mm", job: "J-2207", colour: "red: dark" });
    expect(points(log)).toEqual([[1, 2, 3]]);
  });
  it("with control characters get blanks, with a finding", () => {
    const log = understood(`# unit: mm\n# job: J\u00071\u202e2\n${ROWS}`);
    expect(log.record.header.job).toBe("J 1 2");
    expect(log.findings).toMatchObject([{ level: "warning", code: "control-characters", line: 2 }]);
  });
  it("cannot touch what every object has", () => {
    const log = understood(
      `# unit: mm\n# __proto__: x\n# constructor: y\n# tostring: z\n${ROWS}`,
      planWith({ features: {} }),
    );
    expect(Object.keys(log.record.header)).toEqual(["unit", "__proto__", "constructor", "tostring"]);
    expect(
      points(
        understood("# unit: mm\nfeature,x,y,z\n__proto__,1,2,3\nconstructor,4,5,6\n", planWith({})),
        "constructor",
      ),
    ).toEqual([[4, 5, 6]]);
  });
  it("of a spreadsheet may be quoted and filled up", () => {
    expect(
      understood(`"# unit: mm",,,\n# job: A-1,,,\n"# note: said ""so"", twice",,,\n${ROWS}`).record.header,
    ).toEqual({
      unit: "mm",
      job: "A-1",
      note: 'said "so", twice',
    });
  });
  it("near a known key are said", () => {
    const log = understood(`# unit: mm\n# seriall: 12\n${ROWS}`);
    expect(log.findings[0]?.text.text).toBe("the header key seriall has no meaning here; was serial meant?");
    expect(log.record.header.seriall).toBe("12");
  });
  it("twice with the same value are no question, with another they are", () => {
    expect(understood(`# unit: mm\n# unit: mm\n# note: a\n# note: b\n${ROWS}`).record.header).toEqual({
      unit: "mm",
      note: "a; b",
    });
    expect(sentence(`# unit: mm\n# unit: in\n${ROWS}`)).toBe(
      "log.csv, line 2: unit is in here but mm in line 1; keep the one that is true",
    );
  });
  it("below the first row may not change what rows mean", () => {
    expect(sentence(`# unit: mm\n${ROWS}# unit: in\nf,1,2,4\n`)).toContain(
      "unit: in stands below the first row",
    );
    const log = understood(`# unit: mm\n${ROWS}# unit: mm\n# operator: B\n# lunch\nf,1,2,4\n`);
    expect(codes(log)).toEqual(["warning header-after-rows"]);
    expect(log.record.header).toEqual({ unit: "mm" });
    expect(points(log)).toHaveLength(2);
  });
});

describe("a header line that is nearly right", () => {
  const inMm = planWith({ logs: { unit: "mm" } });
  const x = (line: string) => points(understood(`${line}\n${ROWS}`, inMm))[0]?.[0];
  it.each([
    "# unit = in",
    "# unit in",
    "# unit (in)",
    "# Unit [in]",
    "# unit in inch",
    "# units: in",
    "# UOM: inch",
    "# Einheit: Zoll",
    "# Einheit Zoll",
    "# Einheit = in",
    "# Maßeinheit: inch",
    "# Masseinheit: Zoll",
    "# Längeneinheit: Zoll",
    "# Werte in Zoll",
    "# all dimensions in inches",
    "# INCH",
  ])("%s is the unit", (line) => {
    expect(x(line)).toBe(25.4);
    expect(understood(`${line}\n${ROWS}`).record.header.unit).toBeDefined();
  });
  it.each(["# Masseinheit: mm", "# Einheit: Millimeter", "# unit mm", "# Einheit [mm]"])(
    "%s is millimetres, though the plan says inches",
    (line) => {
      const log = understood(`${line}\n${ROWS}`, planWith({ logs: { unit: "in" } }));
      expect(points(log)[0]?.[0]).toBe(1);
      expect(codes(log)).toEqual(["warning unit-differs-from-plan"]);
    },
  );
  it.each([
    ["# unti: in", "unit"],
    ["# unti = in", "unit"],
    ["# unti in", "unit"],
    ["# Einhiet: Zoll", "unit"],
    ["# log unit: in", "unit"],
    ["# ponits: ball-center", "points"],
    ["# staet: as-found", "state"],
    ["# stage: as-found", "state"],
    ["# farme: machine", "frame"],
    ["# sing: toward-minus", "sign"],
    ["# decimla = comma", "decimal"],
    ["# tip-diamter: 6 mm", "tip-diameter"],
    ["# sga: 0.01 mm", "sag"],
    ["# raduis: 75", "radius"],
    ["# form: traverse", "from"],
  ])("%s is refused, because it would change numbers", (line, near) => {
    const { code, line: at, text } = rejected(`${line}\n${ROWS}`, inMm).finding;
    expect({ code, at, near: text.values.near }).toEqual({ code: "near-key", at: 1, near });
  });
  it("beside the right one is refused only where it says something else", () => {
    expect(understood(`# unit: mm\n# unti: mm\n# tool unit: in\n${ROWS}`).findings).toEqual([]);
    expect(sentence(`# unit: mm\n# unti: in\n${ROWS}`)).toContain("looks like unit");
    expect(sentence(`# unit: mm\n${ROWS}# unti: in\nf,1,2,4\n`)).toContain("looks like unit");
  });
  it.each(["points = ball-center", "points ball-center", "tip-diameter = 6 mm", "state as-found"])(
    "without a colon counts where it has one meaning: # %s",
    (line) => {
      const [key = ""] = line.split(" ");
      expect(understood(`# unit: mm\n# ${line}\n${ROWS}`).record.header[key]).toBeDefined();
    },
  );
  it.each([
    ["jbo: J-1", "job"],
    ["tiem: 2026-11-25", "time"],
    ["tiem = 2026-11-25", "time"],
    ["staet: halfway", "state"],
    ["ponits: 25", "points"],
    ["operatoin: 10", "operation"],
    ["paletl: 4", "pallet"],
    ["machnie: HM-4", "machine"],
    ["clampnig: torqued", "clamping"],
  ])("%s is told", (line, near) => {
    const log = understood(`# unit: mm\n# ${line}\n${ROWS}`);
    expect(log.findings).toMatchObject([{ level: "warning", code: "unknown-key", line: 2 }]);
    expect(log.findings[0]?.text.values.near).toBe(near);
  });
  it("without a colon is told where it looks like a name", () => {
    const log = understood(`# unit: mm\n# job J-2207\n# jbo J-2207\n${ROWS}`);
    expect(codes(log)).toEqual(["warning no-colon", "warning no-colon"]);
    expect(log.findings[0]?.text.text).toBe(
      "the remark job J-2207 has no colon and was not read as a header line; was job: J-2207 meant?",
    );
  });
  it.each([
    "unit 7 of hall 2",
    "made by the night shift",
    "part was cold",
    "points 25",
    "sign here",
    "state unknown",
    "x = 5 is the edge",
    "date: 2026-11-25",
    "name: front",
    "tag: 7",
    "until: 15:00",
    "drawing scale: 1:10",
    "scale: 1:10",
    "scale: 1",
    "factor: safety",
    "angle unit: deg",
    "dimensions as drawn",
    "in the clamp",
  ])("leaves the remark # %s in peace", (remark) => {
    const log = understood(`# unit: mm\n# ${remark}\n${ROWS}`);
    expect(codes(log).filter((code) => !code.endsWith("unknown-key"))).toEqual([]);
    expect(points(log)).toEqual([[1, 2, 3]]);
  });
});

describe("what the header decides", () => {
  it("state, and as-left without one", () => {
    expect(feature(understood(`# unit: mm\n# state: As Found\n${ROWS}`)).state).toBe("as-found");
    const log = understood(`# unit: mm\n${ROWS}`);
    expect(feature(log).state).toBe("as-left");
    expect(decision(log, "state")).toBe("as-left: the log names no state");
    expect(sentence(`# unit: mm\n# state: halfway\n${ROWS}`)).toBe(
      "log.csv, line 2: state: halfway is none of as-found and as-left; write one of them, or leave the line out",
    );
  });
  it("tip state: header, then the feature, then the plan's logs", () => {
    const plan = planWith({
      logs: { unit: "mm", points: "surface", tipDiameterMm: 4 },
      features: { f: { points: "ball-center", tipDiameterMm: 5 } },
    });
    expect(feature(understood(`# points: ball-center\n# tip-diameter: 6 mm\n${ROWS}`, plan)).tip).toEqual({
      points: "ball-center",
      radiusMm: 3,
    });
    expect(feature(understood(ROWS, plan)).tip).toEqual({ points: "ball-center", radiusMm: 2.5 });
    expect(feature(understood(ROWS.replace("f,1", "g,1"), plan)).tip).toEqual({
      points: "surface",
      radiusMm: 2,
    });
    expect(feature(understood(`# unit: mm\n${ROWS}`)).tip).toEqual({ points: "unknown", radiusMm: null });
  });
  it("a bare tip diameter in the unit of the log, and it is said", () => {
    const log = understood(`# unit: in\n# tip-diameter: 0.25\n${ROWS}`);
    expect(feature(log).tip.radiusMm).toBe((0.25 * 25.4) / 2);
    expect(decision(log, "tip-diameter")).toBe("0.25 in: header line 2, its unit from header line 1");
    expect(sentence(`# tip-diameter: 6\nfeature,x_mm,y_mm,z_mm\nf,1,2,3\n`)).toContain(
      "tip-diameter: 6 has no unit",
    );
  });
  it("quantities with a decimal comma where the log has them, and with a point always", () => {
    const rows = "feature;x;y;z\nf;1,5;2;3\n";
    for (const tip of ["5,988 mm", "5.988 mm"])
      expect(feature(understood(`# unit: mm\n# tip-diameter: ${tip}\n${rows}`)).tip.radiusMm).toBe(2.994);
    expect(sentence(`# unit: mm\n# tip-diameter: 5,988 mm\n${ROWS}`)).toContain(
      "tip-diameter: 5,988 mm is not a quantity",
    );
  });
  it("frame, instrument, clamping, bolt and temperature", () => {
    const log = understood(
      `# unit: mm\n# frame: machine\n# instrument: probe-2\n# clamping: snug\n# bolt: 3\n# temperature: 68 F\n${ROWS}`,
    );
    expect(feature(log)).toMatchObject({
      frame: "machine",
      instrument: "probe-2",
      clamping: "snug",
      bolt: "3",
    });
    expect(feature(log).temperatureC).toBeCloseTo(20, 12);
    expect(decision(log, "frame")).toBe("machine: header line 2");
    expect(sentence(`# unit: mm\n# temperature: 68\n${ROWS}`)).toContain("too hot for °C");
  });
  it("temperature of the rows as their mean", () => {
    const log = understood("# unit: mm\nfeature,x,y,z,temperature\nf,1,2,3,20\nf,1,2,4,21\nf,1,2,5,\n");
    expect(feature(log).temperatureC).toBe(20.5);
  });
  it("the time of the log: header, then the first row, then when it was seen", () => {
    const timed = "feature,x,y,z,time\nf,1,2,3,2026-11-25 07:30\n";
    expect(understood(`# unit: mm\n# time: 2026-11-25T07:00:00+0100\n${timed}`).record.time).toBe(
      "2026-11-25T07:00:00+01:00",
    );
    expect(understood(`# unit: mm\n${timed}`).record.time).toBe("2026-11-25T07:30:00");
    expect(understood(`# unit: mm\n${ROWS}`).record.time).toBeNull();
    const odd = understood(`# unit: mm\n# time: 03.04.25 07:12\n${ROWS}`);
    expect(odd.record.time).toBeNull();
    expect(codes(odd)).toEqual(["warning time-not-read"]);
    expect(understood(`# unit: mm\n# time: 2026-02-30\n${ROWS}`).record.time).toBeNull();
  });
});

describe("directions of touches", () => {
  const log = (rows: string) => understood(`# unit: mm\nfeature,x,y,z,i,j,k\n${rows}`);
  it("are scaled to length 1", () => {
    const read = log("f,1,2,3,0,0,2\nf,1,2,3,0.6,0.8,0\n");
    const { i, j, k } = feature(read).readings;
    expect([i, j, k].map((column) => [...(column ?? [])])).toEqual([
      [0, 0.6],
      [0, 0.8],
      [1, 0],
    ]);
    expect(codes(read)).toEqual(["warning normal-not-unit"]);
  });
  it("of length zero are none, and then none of the feature is used", () => {
    const read = log("f,1,2,3,0,0,1\nf,1,2,4,0,0,0\ng,1,2,3,0,1,0\n");
    expect(feature(read, "f").readings.i).toBeUndefined();
    expect([...(feature(read, "g").readings.j ?? [])]).toEqual([1]);
    expect(read.findings).toMatchObject([{ code: "no-normal", line: 4, feature: "f" }]);
    expect(read.record.used).toBe(3);
  });
  it("that cannot be read leave the row out", () => {
    expect(leftOut(log("f,1,2,3,0,0,1\nf,1,2,3,0,x,1\n"))).toEqual(["4: j: x is not a number"]);
  });
});

describe("rows the plan leaves out", () => {
  it("are listed with the plan's reason", () => {
    const plan = planWith({
      logs: { unit: "mm" },
      exclude: [{ log: "log.csv", feature: "f", line: 3, reason: "chip on the tip" }],
    });
    const log = understood("feature,x,y,z\nf,1,2,3\nf,1,2,9\nf,1,2,4\n", plan);
    expect(leftOut(log)).toEqual(["3: left out by the plan: chip on the tip"]);
    expect(points(log)).toHaveLength(2);
    expect(understood("feature,x,y,z\nf,1,2,3\nf,1,2,9\n", plan, "other.csv").record.excluded).toEqual([]);
  });
});

describe("sign-offs", () => {
  it("keep words and numbers as written, with a decimal point", () => {
    const log = understood(
      "check;value;unit;by;time;note\nseat;yes;;AB;07:00;dry\ntorque;92,50;N·m;AB;;\nshim;0,05 mm;;;;\nold;-;;;;\n",
    );
    expect(log.signOffs.map(({ check, value, unit, by, note }) => [check, value, unit, by, note])).toEqual([
      ["seat", "yes", null, "AB", "dry"],
      ["torque", "92.5", "N·m", "AB", null],
      ["shim", "0.05", "mm", null, null],
      ["old", "-", null, null, null],
    ]);
  });
  it("take the unit from its column or the cell, and not two different ones", () => {
    const log = understood('check,value,unit\na,95 Nm,N·m\nb,95 lbf·ft,N·m\nc,9x5,\nd,,\n,yes,\ne,"1,5",\n');
    expect(log.signOffs.map(({ check, value, unit }) => [check, value, unit])).toEqual([["a", "95", "N·m"]]);
    expect(leftOut(log)).toEqual([
      "3: the value 95 lbf·ft says lbf·ft and its unit column N·m",
      "4: 9x5 is not a number",
      "5: d has no value",
      "6: the check is not named",
      "7: 1,5 has a comma although the decimal mark is the point",
    ]);
  });
  it("answered twice count as answered last", () => {
    const log = understood("check,value\nseat,no\nseat,yes\n");
    expect(log.signOffs.map((entry) => entry.value)).toEqual(["yes"]);
    expect(codes(log)).toEqual(["warning sign-off-twice"]);
    expect(log.record).toMatchObject({ rows: 2, used: 1 });
  });
});
