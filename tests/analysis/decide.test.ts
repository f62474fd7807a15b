import { describe, expect, it } from "vitest";
import { conformanceOf, decide } from "../../src/analysis/decide.ts";
import { say } from "../../src/model/say.ts";

const exact = (standard: number) => ({ standard, degreesOfFreedom: Number.POSITIVE_INFINITY, coverage: 2 });
const limits = (lower: number | null, upper: number | null) => ({ nominal: null, lower, upper });
const GUARDED = { rule: "guarded", guard: 1 } as const;
const SIMPLE = { rule: "simple", guard: 0 } as const;
const verdict = (
  value: number | null,
  {
    lower = null as number | null,
    upper = null as number | null,
    u = null as number | null,
    rule = GUARDED as typeof GUARDED | typeof SIMPLE | { rule: "guarded"; guard: number },
  } = {},
) =>
  decide({
    value,
    uncertainty: u === null ? null : exact(u),
    limits: limits(lower, upper),
    decision: rule,
    unit: "mm",
    reasons: [],
  }).verdict;

describe("decide", () => {
  it.each([
    // value, standard uncertainty, upper limit 0.5: guard band 0.2
    [0.3, "pass"],
    [0.300000001, "undecided"],
    [0.5, "undecided"],
    [0.7, "undecided"],
    [0.700000001, "fail"],
  ])("guarded, one upper limit: %f is %s", (value, expected) => {
    expect(verdict(value, { upper: 0.5, u: 0.1 })).toBe(expected);
  });

  it.each([
    [-1, "fail"],
    [0.79, "fail"],
    [0.81, "undecided"],
    [1.2, "pass"],
    [1.8, "pass"],
    [2.1, "undecided"],
    [2.21, "fail"],
  ])("guarded, two limits 1 and 2, guard band 0.2: %f is %s", (value, expected) => {
    expect(verdict(value, { lower: 1, upper: 2, u: 0.1 })).toBe(expected);
  });

  it("takes the stated multiple of the expanded uncertainty as the guard band", () => {
    const half = { rule: "guarded", guard: 0.5 } as const;
    expect(verdict(0.4, { upper: 0.5, u: 0.1, rule: half })).toBe("pass");
    expect(verdict(0.4, { upper: 0.5, u: 0.1 })).toBe("undecided");
  });

  it("passes a value at the limit under simple, also where rounding put it a hair above", () => {
    expect(verdict(0.3, { upper: 0.3, rule: SIMPLE })).toBe("pass");
    expect(verdict(0.1 + 0.2, { upper: 0.3, rule: SIMPLE })).toBe("pass");
    expect(verdict(0.3, { lower: 0.1 + 0.2, rule: SIMPLE })).toBe("pass");
    expect(verdict(0.3000001, { upper: 0.3, rule: SIMPLE })).toBe("fail");
  });

  it("passes a value just the guard band inside, also where rounding put it a hair nearer", () => {
    expect(verdict(0.3, { upper: 0.5, u: 0.1 })).toBe("pass");
    expect(verdict(0.1 + 0.2, { upper: 0.5, u: 0.1 })).toBe("pass");
  });

  it("cannot pass between limits closer than two guard bands, and can still fail", () => {
    expect(verdict(1.5, { lower: 1, upper: 2, u: 0.4 })).toBe("undecided");
    expect(verdict(3, { lower: 1, upper: 2, u: 0.4 })).toBe("fail");
  });

  it("needs an uncertainty under guarded and none under simple", () => {
    expect(verdict(0.1, { upper: 0.5 })).toBe("undecided");
    expect(verdict(0.1, { upper: 0.5, rule: SIMPLE })).toBe("pass");
  });

  it("leaves undecided what has no value, no limit or a reason against it", () => {
    expect(verdict(null, { upper: 0.5, u: 0.1 })).toBe("undecided");
    expect(verdict(0.1, { u: 0.1 })).toBe("undecided");
    const stopped = decide({
      value: 9,
      uncertainty: exact(0.1),
      limits: limits(null, 0.5),
      decision: GUARDED,
      unit: "mm",
      reasons: [say("The gauge is overdue.", {})],
    });
    expect(stopped).toMatchObject({ verdict: "undecided", because: { text: "The gauge is overdue." } });
  });

  it("says which limit settled it, in the unit", () => {
    const { because } = decide({
      value: Math.PI / 180,
      uncertainty: exact(0.001),
      limits: limits(null, Math.PI / 90),
      decision: GUARDED,
      unit: "deg",
      reasons: [],
    });
    expect(because.text).toBe("1.00° is below 2.0000° less the guard band 0.11°");
  });

  it.each([
    // Worked by hand from the normal distribution: limit 0.0005, standard uncertainty 0.0001.
    [0.0003, 0.9772],
    [0.0004, 0.8413],
    [0.0005, 0.5],
    [0.0006, 0.1587],
  ])("gives %f the probability %f of being inside", (value, expected) => {
    expect(conformanceOf(value, exact(0.0001), limits(null, 0.0005))).toBeCloseTo(expected, 4);
  });

  it("gives a value without any doubt the probability 0 or 1", () => {
    expect(conformanceOf(0.5, exact(0), limits(0.5, 1))).toBe(1);
    expect(conformanceOf(0.4, exact(0), limits(0.5, 1))).toBe(0);
    expect(conformanceOf(1.1, exact(0), limits(0.5, 1))).toBe(0);
    expect(conformanceOf(0.5, null, limits(0.5, 1))).toBeNull();
  });
});
