import { describe, expect, it } from "vitest";
import { markEvidence, readNumber } from "../../src/ingest/readNumber.ts";
import { codes, decision, leftOut, planWith, points, sentence, understood } from "./helpers.ts";

describe("a number in a cell", () => {
  it.each([
    ["0", ".", 0],
    [" 1.5 ", ".", 1.5],
    ["+.0004", ".", 0.0004],
    ["-.0004", ".", -0.0004],
    ["5.", ".", 5],
    ["4E-4", ".", 4e-4],
    ["1,5", ",", 1.5],
    ["4,5e-4", ",", 4.5e-4],
    ["\u22121.5", ".", -1.5],
    ["\u20131.5", ".", -1.5],
    ["\u00a01.5\u202f", ".", 1.5],
    ["1\u202f234.5", ".", 1234.5],
    ["1\u00a0234,5", ",", 1234.5],
    ["1.234,5", ",", 1234.5],
    ["1,234.5", ".", 1234.5],
    ["12,345,678", ".", 12345678],
    ["0.1234567890123456789", ".", Number("0.1234567890123456789")],
    ["123456789.123456789", ".", Number("123456789.123456789")],
    ["99.999", ".", 99.999],
    ["999.9", ".", 999.9],
  ] as const)("%s with %s is %d", (cell, mark, value) => {
    expect(readNumber(cell, mark)).toMatchObject({ ok: true, value, unit: "" });
  });
  it.each([
    ["1.5 mm", 1.5, "mm"],
    ['0.0012"', 0.0012, '"'],
    ["90°", 90, "°"],
    ["20.5°C", 20.5, "°C"],
    ["-3in", -3, "in"],
    ["95 N·m", 95, "N·m"],
  ] as const)("%s has a unit behind it", (cell, value, unit) => {
    expect(readNumber(cell, ".")).toMatchObject({ ok: true, value, unit });
  });
  it.each([
    "",
    "-",
    "--",
    "NaN",
    "nan",
    "N/A",
    "#N/A",
    "#REF!",
    "#VALUE!",
    "#DIV/0!",
    "****",
    "****.****",
    "inf",
    "-Infinity",
    "null",
    "?",
    "1.2.3",
    "--0.5",
    "+-1",
    "1-",
    "0.0012-",
    "1 2",
    "1/2",
    "2-Jan",
    "02.01.2026",
    "O.5",
    "1O.5",
    "l.5",
    "1l.5",
    "0x10",
    "1e999",
    "1e",
    "9999.9999",
    "-9999.99",
    "99999",
    "9999.000",
    "1,5",
    "1,234",
    "0,123,456",
    "1,23,456",
    "1,234,56",
    "1.234,5",
    ".",
    "+",
    "=1+1",
    "1'234.5",
    "１",
    "1_000",
    "12:30",
    "(1.5)",
    "$5",
  ])("%j is none", (cell) => {
    expect(readNumber(cell, ".")).toMatchObject({ ok: false });
  });
  it("with a declared decimal mark the other can only group", () => {
    expect(readNumber("1,234", ".", true)).toMatchObject({ ok: true, value: 1234 });
    expect(readNumber("1.234", ",", true)).toMatchObject({ ok: true, value: 1234 });
    expect(readNumber("0,234", ".", true)).toMatchObject({ ok: false });
    expect(readNumber("1,23", ".", true)).toMatchObject({ ok: false });
  });
});

describe("what a cell proves about the decimal mark", () => {
  it.each([
    ["12", "none"],
    ["abc", "none"],
    ["03.04.25", "none"],
    ["1.5", "."],
    ["0.123", "."],
    ["1234.567", "."],
    [".500", "."],
    ["1,5", ","],
    ["-0,250", ","],
    ["1.234,5", ","],
    ["1,234.5", "."],
    ["1.234.567", ","],
    ["1,234", "either"],
    ["12.345", "either"],
    ["12.345 mm", "either"],
    ['0,0012"', ","],
    ["4,5E-4", ","],
  ])("%s: %s", (cell, evidence) => {
    expect(markEvidence(cell)).toBe(evidence);
  });
});

describe("decimal mark of a log", () => {
  const rows = (head: string, row: string) => `# unit: mm\n${head}feature;x;y;z\n${row}\n`;
  it("is a point where the separator is a comma", () => {
    expect(decision(understood("# unit: mm\nfeature,x,y,z\nf,1.5,2,3\n"), "decimal")).toBe(
      "point: the separator is a comma",
    );
  });
  it("is proved by one cell for all", () => {
    const log = understood(rows("", "f;1,234;0,5;7,000"));
    expect(points(log)).toEqual([[1.234, 0.5, 7]]);
    expect(decision(log, "decimal")).toBe("comma: 0,5 in line 3 can be read in no other way");
  });
  it("is asked for when every cell can be read both ways", () => {
    expect(sentence(rows("", "f;1,234;5,678;9,012"))).toBe(
      "log.csv, line 3: 1,234 can be 1234 or 1.234; write # decimal: . or # decimal: , above the rows, or logs.decimal in the plan",
    );
  });
  it("is asked for when cells prove both", () => {
    expect(sentence(rows("", "f;1,5;2.5;3"))).toContain(
      "2.5 in line 3 has a decimal point and 1,5 in line 3 a decimal comma",
    );
  });
  it("may be declared, by mark or word", () => {
    expect(points(understood(rows("# decimal: ,\n", "f;1,234;5,678;9,012")))).toEqual([
      [1.234, 5.678, 9.012],
    ]);
    expect(points(understood(rows("# decimal: comma\n", "f;1,234;5,678;9,012")))).toEqual([
      [1.234, 5.678, 9.012],
    ]);
    expect(points(understood(rows("# decimal: .\n", "f;1,234;5,678;9,012")))).toEqual([[1234, 5678, 9012]]);
  });
  it("is a contradiction when the separator is the same comma", () => {
    expect(sentence("# decimal: ,\n# unit: mm\nfeature,x,y,z\nf,1,2,3\n")).toContain(
      "export with semicolons",
    );
  });
  it("never turns a decimal comma between comma separators into other numbers", () => {
    expect(sentence("# unit: mm\nfeature,x,y,z\nf,1,5,2,5,3,5\n")).toContain(
      "a long row: 7 cells under 4 columns",
    );
    const log = understood('# unit: mm\nfeature,x,y,z\nf,"1,5",2,3\nf,"1,234",2,3\nf,"1,234.5",2,3\n');
    expect(points(log)).toEqual([[1234.5, 2, 3]]);
    expect(leftOut(log)).toEqual([
      "3: x: 1,5 has a comma although the decimal mark is the point",
      "4: x: 1,234 has a comma although the decimal mark is the point",
    ]);
  });
});

describe("units", () => {
  it("come from the column, else the header, else the plan, and each column has its own", () => {
    const log = understood("# unit: um\nfeature,x [mm],y (in),z_mm\nf,1,1,1\n");
    expect(points(log)).toEqual([[1, 25.4, 1]]);
    expect(decision(log, "unit of y")).toBe("in: column name y (in)");
    expect(points(understood("# unit: inch\nfeature,X,Y [mm], Z \nf,1,1,1\n"))).toEqual([[25.4, 1, 25.4]]);
  });
  it("may stand in a row of their own", () => {
    const log = understood("feature;x;y;z\n;[mm];[in];mm\nf;1;1;1\n");
    expect(points(log)).toEqual([[1, 25.4, 1]]);
    expect(decision(log, "unit of y")).toBe("in: row of units in line 2");
    expect(log.record.rows).toBe(1);
  });
  it("may stand in the cells; cells without one follow those that agree", () => {
    expect(points(understood('feature,x,y,z\nf,1in,2in,"3"""\nf,1,2 in,3\n'))).toEqual([
      [25.4, 50.8, 3 * 25.4],
      [25.4, 50.8, 3 * 25.4],
    ]);
    expect(sentence("feature,x,y,z\nf,1 mm,2,3\n")).toContain("the column y has no unit");
  });
  it("in a cell may not contradict the column", () => {
    const log = understood("# unit: mm\nfeature,x,y,z\nf,1 in,2,3\nf,1mm,2,3\nf,1 kg,2,3\n");
    expect(points(log)).toEqual([[1, 2, 3]]);
    expect(leftOut(log)).toEqual([
      "3: x: 1 in is not a number in mm, the unit of its column",
      "5: x: 1 kg is not a number in mm, the unit of its column",
    ]);
  });
  it("that differ between header and plan are said, and the header counts", () => {
    const log = understood("# unit: in\nfeature,x,y,z\nf,1,1,1\n", planWith({ logs: { unit: "mm" } }));
    expect(points(log)).toEqual([[25.4, 25.4, 25.4]]);
    expect(codes(log)).toEqual(["warning unit-differs-from-plan"]);
  });
  it("of angles are degrees unless the column says otherwise", () => {
    const log = understood("feature,x_mm,y_mm,z_mm,b\nf,1,2,3,180\n");
    expect([...(log.features[0]?.readings.b ?? [])]).toEqual([Math.PI]);
    const radians = understood("feature,x_mm,y_mm,z_mm,b [rad]\nf,1,2,3,1.25\n");
    expect([...(radians.features[0]?.readings.b ?? [])]).toEqual([1.25]);
  });
});

describe("odd rows", () => {
  const log = (rows: string) => understood(`# unit: mm\nfeature,x,y,z\n${rows}`);
  it("that cannot be read are left out with line and reason", () => {
    const read = log("f,1,2,3\nf,NaN,2,3\nf,1,1.2.3,3\nf,1,2\nf,1,2,****\n,1,2,3\nf,1,2,3,4\n");
    expect(read.record).toMatchObject({ rows: 7, used: 1 });
    expect(leftOut(read)).toEqual([
      "4: x: NaN stands for a missing value",
      "5: y: 1.2.3 is not a number",
      "6: a short row: 3 of 4 cells",
      "7: z: **** stands for a missing value",
      "8: the feature is not named",
      "9: a long row: 5 cells under 4 columns",
    ]);
  });
  it("of fillers for no value are left out, and near values are not", () => {
    expect(leftOut(log("f,1,2,9999.9999\nf,1,2,999.998\nf,1,2,99.999\n"))).toEqual([
      "3: z: 9999.9999 is the filler some controls print for no value",
    ]);
  });
  it("of zeros are kept, and said when they lie far from the others", () => {
    expect(codes(log("f,0,0,0\nf,10,0,0.01\nf,0,10,0.02\nf,10,10,0\n"))).toEqual([]);
    const far = log("f,101,202,5\nf,102,202,5\nf,0,0,0\nf,101,203,5\n");
    expect(far.record.used).toBe(4);
    expect(far.findings).toMatchObject([{ level: "warning", code: "zero-row", line: 5, feature: "f" }]);
  });
  it("that repeat another are kept and said without a label, and merged with one", () => {
    const kept = log("f,1,2,3\nf,1,2,3\n");
    expect(kept.record.used).toBe(2);
    expect(codes(kept)).toEqual(["warning repeated-rows"]);
    const merged = understood("# unit: mm\nfeature,point,x,y,z\nf,1,1,2,3\nf,1,1,2,3\nf,2,1,2,3\n");
    expect(merged.record.used).toBe(2);
    expect(leftOut(merged)).toEqual(["4: the same as line 3, word for word: logged twice"]);
  });
  it("that name the columns again are no rows", () => {
    const read = log("f,1,2,3\nFeature,X,Y,Z\nf,1,2,4\n");
    expect(read.record.rows).toBe(2);
    expect(codes(read)).toEqual(["note repeated-header"]);
  });
  it("may end in separators that a spreadsheet added", () => {
    expect(points(understood("# unit: mm,,,,\nfeature,x,y,z,,\nf,1,2,3,,\nf,1,2,4\n"))).toEqual([
      [1, 2, 3],
      [1, 2, 4],
    ]);
  });
});
