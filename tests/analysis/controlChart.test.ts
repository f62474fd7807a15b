import { describe, expect, it } from "vitest";
import { controlChart } from "../../src/analysis/controlChart.ts";

describe("individuals chart", () => {
  it("has the limits of the published worked example", () => {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, flow rate of ten batches: mean 50.81, mean moving range 1.8778,
    // limits 55.8041 and 45.8159 (data and figures from memory, with 2.66 for 3 / 1.128).
    const rates = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
    // The chart judges its latest value by those before it; an eleventh at the mean leaves the example's ten.
    const chart = controlChart([...rates, 50.81]);
    expect(chart.mean).toBeCloseTo(50.81, 9);
    expect(chart.upper).toBeCloseTo(55.8041, 2);
    expect(chart.lower).toBeCloseTo(45.8159, 2);
    expect(chart.signals).toEqual([]);
  });
  it("sees a value outside and a run on one side", () => {
    const steady = [1, 1.1, 0.9, 1.05, 0.95, 1];
    expect(controlChart([...steady, 2]).signals).toContain("outside");
    const drift = [0, 2, 0, 2, 0, 2, 0, 2, 0, ...Array.from({ length: 8 }, () => 2.1)];
    expect(controlChart(drift).signals).toContain("run");
    expect(controlChart(drift.slice(0, -1)).signals).not.toContain("run");
  });
  it("sees two of three and four of five far on one side, and only when the latest is among them", () => {
    // Moving range 2 throughout: the limits lie 5.32 from the mean, their thirds at 1.77 and 3.55.
    const saw = Array.from({ length: 40 }, (_, i) => (i % 2 === 0 ? 1 : -1));
    expect(controlChart([...saw, 4, 0, 4]).signals).toEqual(["two-of-three"]);
    expect(controlChart([...saw, 4, 4, 0]).signals).toEqual([]);
    expect(controlChart([...saw, 4, 0, -4]).signals).toEqual([]);
    expect(controlChart([...saw, -2.5, -2.5, 0, -2.5, -2.5]).signals).toEqual(["four-of-five"]);
    expect(controlChart([...saw, -2.5, -2.5, 0, 0, -2.5]).signals).toEqual([]);
  });
  it("takes equal values for steady, whatever their last digit does", () => {
    const tenth = 0.1 + 0.2;
    expect(controlChart([...Array.from({ length: 12 }, () => 0.3), tenth]).signals).toEqual([]);
    expect(controlChart([...Array.from({ length: 12 }, () => 0.3), 0.31]).signals).toContain("outside");
  });
  it("gives no limits to a few values, and refuses none", () => {
    expect(controlChart([1, 2, 3, 4])).toMatchObject({ lower: null, upper: null, signals: [] });
    expect(() => controlChart([])).toThrow(RangeError);
  });
});
