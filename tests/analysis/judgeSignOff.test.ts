import { describe, expect, it } from "vitest";
import { judgeSignOff } from "../../src/analysis/judgeSignOff.ts";
import type { SignOffReading } from "../../src/model/measurement.ts";

const reading = (value: string, unit: string | null = null): SignOffReading => ({
  check: "torque",
  value,
  unit,
  by: "A",
  time: null,
  note: null,
  log: 0,
  line: 5,
});
const TORQUE = { id: "torque", ask: "Chuck torque", unit: "N·m", lower: null, upper: 95 };
const SEAT = { id: "torque", ask: "Seat stoned", unit: null, lower: null, upper: null };

describe("sign-offs", () => {
  it.each([
    ["yes", "pass"],
    ["Yes", "pass"],
    ["ja", "pass"],
    ["no", "fail"],
    ["NEIN", "fail"],
    ["maybe", "undecided"],
    ["", "missing"],
  ])("takes %s as %s", (value, verdict) => {
    expect(judgeSignOff(SEAT, [reading(value)]).verdict).toBe(verdict);
  });

  it.each([
    ["92", "N·m", "pass"],
    ["95", "Nm", "pass"],
    ["95.0001", "N·m", "fail"],
    ["70", "lbf·ft", "pass"],
    ["71", "ft-lb", "fail"],
    ["92", null, "undecided"],
    ["92", "mm", "undecided"],
    ["tight", "N·m", "undecided"],
    ["no", null, "fail"],
  ])("compares %s %s with at most 95 N·m: %s", (value, unit, verdict) => {
    expect(judgeSignOff(TORQUE, [reading(value, unit)]).verdict).toBe(verdict);
  });

  it("converts exactly: 1 lbf·ft is 1.3558179483314004 N·m", () => {
    const judged = judgeSignOff(TORQUE, [reading("1", "lbf·ft")]);
    expect(judged.written).toEqual({ value: 1, unit: "lbf·ft" });
    expect(judgeSignOff(TORQUE, [reading("1", "N·m")]).written).toBeUndefined();
    expect(judged.value).toBeCloseTo(1.3558179483314, 13);
    expect(judged.unit).toBe("N·m");
    // The same number at the limit in the log's unit is the limit: conversion must not turn it into a failure.
    expect(
      judgeSignOff({ ...TORQUE, upper: 70 * 1.3558179483314003 }, [reading("70", "lbf·ft")]).verdict,
    ).toBe("pass");
  });

  it("is missing when nobody signed, and counts the last of several entries", () => {
    expect(judgeSignOff(TORQUE, []).verdict).toBe("missing");
    expect(judgeSignOff(TORQUE, [{ ...reading("90", "N·m"), check: "other" }]).verdict).toBe("missing");
    expect(judgeSignOff(SEAT, [reading("no"), reading("yes")]).verdict).toBe("pass");
    expect(judgeSignOff(SEAT, [reading("yes"), reading("no")]).verdict).toBe("fail");
  });

  it("compares with a lower limit too", () => {
    expect(judgeSignOff({ ...TORQUE, lower: 90 }, [reading("89", "N·m")]).verdict).toBe("fail");
    expect(judgeSignOff({ ...TORQUE, lower: 90 }, [reading("91", "N·m")]).verdict).toBe("pass");
  });
});
