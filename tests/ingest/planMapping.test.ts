import { describe, expect, it } from "vitest";
import { normaliseLog } from "../../src/ingest/normaliseLog.ts";
import { decision, leftOut, logFile, planWith, points, sentence, understood } from "./helpers.ts";

describe("columns that the plan fills", () => {
  it("give every row a length in their own unit, whatever the log's unit and mark", () => {
    const plan = planWith({ logs: { unit: "in", constant: { z: "12.5 mm", feature: "face" } } });
    const log = understood("x;y;note\n1,5;2,5;first\n3,5;4,5;\n", plan);
    expect(points(log, "face")).toEqual([
      [1.5 * 25.4, 2.5 * 25.4, 12.5],
      [3.5 * 25.4, 4.5 * 25.4, 12.5],
    ]);
    expect(decision(log, "z")).toBe(
      "12.5 mm: declared in the plan as logs.constant, where the log has no such column",
    );
  });
  it("leave short and long rows what they are", () => {
    const plan = planWith({ logs: { unit: "mm", constant: { z: "1 mm" } } });
    const log = understood("feature,x,y\nf,1\nf,1,2,9\nf,1,2\nf,3,4,\n", plan);
    expect(points(log, "f")).toEqual([
      [1, 2, 1],
      [3, 4, 1],
    ]);
    expect(leftOut(log)).toEqual(["2: a short row: 2 of 3 cells", "3: a long row: 4 cells under 3 columns"]);
  });
  it("do not count where the log has the column itself", () => {
    const plan = planWith({ logs: { unit: "mm", constant: { z: "1 mm" } } });
    expect(points(understood("feature,x,y,z\nf,1,2,3\n", plan), "f")).toEqual([[1, 2, 3]]);
  });
  it("serve positions, printed text and values with names as well", () => {
    const constant = { z: "-4 mm", feature: "f" };
    const placed = planWith({ logs: { unit: "mm", constant, columns: { x: 2, y: 3 } } });
    expect(points(understood("1;2.5;3.5;ok\n2;4.5;5.5;ok\n", placed), "f")).toEqual([
      [2.5, 3.5, -4],
      [4.5, 5.5, -4],
    ]);
    const plan = planWith({ logs: { unit: "mm", constant } });
    expect(points(understood("%\nX1.5Y2.5\nX3.5Y2.5\n%\n", plan), "f")).toEqual([
      [1.5, 2.5, -4],
      [3.5, 2.5, -4],
    ]);
    expect(points(understood("x=1.5 y=2.5\ny=2.5 x=3.5\n", plan), "f")).toEqual([
      [1.5, 2.5, -4],
      [3.5, 2.5, -4],
    ]);
  });
  it("come back out of the plain copy", () => {
    const plan = planWith({ logs: { unit: "in", constant: { z: "12.5 mm", b: "90 deg" } } });
    const text = "feature,x,y\nf,1.5,2.5\n";
    const copy = normaliseLog(logFile(text), plan);
    if ("sentence" in copy) throw new Error(copy.sentence);
    const bare = planWith({});
    expect(understood(copy.text, bare).features[0]?.readings).toEqual(
      understood(text, plan).features[0]?.readings,
    );
  });
  it.each([
    [{ q: "1 mm" }, /logs\.constant in the plan says q: 1 mm, but this is none of the columns feature/],
    [{ z: "1" }, /says z: 1, but it has no unit/],
    [{ z: "1 deg" }, /says z: 1 deg, but/],
    [{ i: "up" }, /says i: up, but it is not a number/],
  ])("are asked for rightly: %j", (constant, said) => {
    expect(sentence("feature,x,y\nf,1,2\n", planWith({ logs: { unit: "mm", constant } }))).toMatch(said);
  });
});

describe("rows that the plan keeps", () => {
  const text = "feature,x,y,z,Typ\nf,1,2,3,touch\nf,99,99,99,approach\nf,4,5,6,Touch \nf,7,8,9,scan\n";
  it("are those that say so in their column; the others are none of this log", () => {
    const log = understood(text, planWith({ logs: { unit: "mm", keep: { typ: ["touch", "scan"] } } }));
    expect(points(log, "f")).toEqual([
      [1, 2, 3],
      [4, 5, 6],
      [7, 8, 9],
    ]);
    expect(log.record.rows).toBe(3);
    expect(leftOut(log)).toEqual([]);
    expect(decision(log, "rows kept")).toBe(
      "typ: touch or scan: declared in the plan as logs.keep; 1 row with something else there",
    );
  });
  it("may be named by position, and do not decide on the decimal mark when they are not kept", () => {
    const plan = planWith({
      logs: { unit: "mm", columns: { x: 2, y: 3, z: 4 }, keep: { "1": ["T"] }, constant: { feature: "f" } },
    });
    expect(points(understood("T;1,5;2,5;3,5\nH;1.5;2.5;3.5\nT;2,5;2,5;3,5\n", plan), "f")).toEqual([
      [1.5, 2.5, 3.5],
      [2.5, 2.5, 3.5],
    ]);
  });
  it("are a question when the log has no such column", () => {
    expect(sentence(text, planWith({ logs: { unit: "mm", keep: { Kind: ["touch"] } } }))).toMatch(
      /logs\.keep in the plan asks for rows by their column Kind, and the log has none of that name; its columns are feature, x, y, z and Typ/,
    );
  });
});
