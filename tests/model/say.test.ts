// Numbers in sentences: the same digits as in the tables, in either unit or both, with either decimal mark.
// 1 in = 25.4 mm exactly: international yard and pound agreement of 1959; NIST SP 811, appendix B.8.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimalsOfStated } from "../../src/model/decimals.ts";
import { fill, type SaidValue, type SayOptions, say, valueText } from "../../src/model/say.ts";
import { type NumberStyle, quantity, slope } from "../../src/report/format.ts";
import { quantityText } from "../../src/report/sections/shared.ts";

const MM: SayOptions = { show: "mm", decimal: "." };
const INCH: SayOptions = { show: "in", decimal: "." };
const BOTH: SayOptions = { show: "in", also: "mm", decimal: "." };
const GERMAN: SayOptions = { show: "mm", also: "in", decimal: "," };

describe("a length", () => {
  it.each<[SaidValue, string, string, string]>([
    // One inch, a thou and a tenth.
    [{ mm: 25.4 }, "25.400 mm", "1.0000 in", "1.0000 in (25.400 mm)"],
    [{ mm: 0.0254 }, "0.025 mm", "0.0010 in", "0.0010 in (0.025 mm)"],
    [{ mm: 0.00254 }, "0.003 mm", "0.0001 in", "0.0001 in (0.003 mm)"],
    // Stated lengths have their own digits and no zeros behind them: 600 / 25.4 = 23.622047...
    [{ mm: 600, as: "stated" }, "600 mm", "23.622 in", "23.622 in (600 mm)"],
    [{ mm: 609.6, as: "stated" }, "609.6 mm", "24 in", "24 in (609.6 mm)"],
    [{ mm: 0.05, as: "stated" }, "0.05 mm", "0.00197 in", "0.00197 in (0.05 mm)"],
    // Limits keep the table's digits: half a thou is 0.0127 mm exactly, 0.012 mm never ends in inch.
    [{ mm: 0.0127, as: "limit" }, "0.0127 mm", "0.0005 in", "0.0005 in (0.0127 mm)"],
    [{ mm: 0.012, as: "limit" }, "0.012 mm", "0.00047 in", "0.00047 in (0.012 mm)"],
    [{ mm: 0.02032, as: "limit" }, "0.02032 mm", "0.0008 in", "0.0008 in (0.0203 mm)"],
    [{ mm: 0.01, as: "limit" }, "0.010 mm", "0.00039 in", "0.00039 in (0.010 mm)"],
    // A coarse length on purpose: one decimal in mm, two in inch.
    [{ mm: 41.164, digits: 1 }, "41.2 mm", "1.62 in", "1.62 in (41.2 mm)"],
    [{ mm: -0.0406, signed: true }, "-0.041 mm", "-0.0016 in", "-0.0016 in (-0.041 mm)"],
    [{ mm: 1.0312, signed: true }, "+1.031 mm", "+0.0406 in", "+0.0406 in (+1.031 mm)"],
  ])("%j is said in mm, in inch and in both", (value, mm, inch, both) => {
    expect([MM, INCH, BOTH].map((options) => valueText(value, options))).toEqual([mm, inch, both]);
  });

  it("has the digits that its uncertainty leaves it", () => {
    // JCGM 100:2008, 7.2.6: 10.057 62 with a standard uncertainty of 0.027 is rounded to 10.058.
    expect(valueText({ mm: 10.05762, uncertainty: 0.027 }, MM)).toBe("10.058 mm");
    // The same section: an uncertainty of 28.05 kHz is to be said as 28 kHz.
    expect(valueText({ mm: 0.02805, as: "uncertainty" }, MM)).toBe("0.028 mm");
    expect(valueText({ mm: 0.0038, uncertainty: 0.0012 }, MM)).toBe("0.0038 mm");
    expect(valueText({ mm: 0.0038, uncertainty: 0.0034 }, MM)).toBe("0.004 mm");
    expect(valueText({ mm: 46.72, uncertainty: 4.3 }, MM)).toBe("46.7 mm");
    // 1.6 mm is 0.063 in: two digits of the uncertainty in each unit.
    expect(valueText({ mm: 46.72, uncertainty: 1.6 }, BOTH)).toBe("1.839 in (46.7 mm)");
  });

  it("is never rounded onto its limit, in either unit", () => {
    const value: SaidValue = { mm: 0.0124, uncertainty: 0.003, beside: [null, 0.012] };
    expect(valueText(value, MM)).toBe("0.0124 mm");
    expect(valueText(value, { ...MM, also: "in" })).toBe("0.0124 mm (0.00049 in)");
    expect(valueText({ mm: 0.012, as: "limit" }, { ...MM, also: "in" })).toBe("0.012 mm (0.00047 in)");
  });

  it("shows small numbers, has no signed nothing and no endless digits", () => {
    expect(valueText({ mm: 0.00042 }, MM)).toBe("0.0004 mm");
    expect(valueText({ mm: -1e-13, signed: true }, MM)).toBe("0.000 mm");
    expect(valueText({ mm: 4e-16, as: "uncertainty" }, MM)).toBe("0.000 mm");
    expect(valueText({ mm: Number.NaN }, MM)).toBe("unknown mm");
    expect(decimalsOfStated(1 / 3, "mm")).toBe(3);
  });
});

describe("other values", () => {
  it("keep their unit, or have both", () => {
    // 0.1 mm per metre is a tenth per inch.
    expect(valueText({ slope: 0.0001, signed: true }, BOTH)).toBe("+0.000100 in/in (+0.1000 mm/m)");
    expect(valueText({ deg: 8.4231, digits: 1 }, BOTH)).toBe("8.4°");
    expect(valueText({ deg: 30, as: "stated" }, GERMAN)).toBe("30°");
    expect(valueText({ value: 91.5177, unit: "N·m" }, GERMAN)).toBe("91,5177 N·m");
    expect(valueText({ share: 0.9231 }, GERMAN)).toBe("92,3 %");
    expect(valueText(2.5, GERMAN)).toBe("2,5");
    expect(valueText("a.csv", GERMAN)).toBe("a.csv");
  });

  it("may be sentences themselves, said in the same units and language", () => {
    const inner = say("off by {e}", { e: { mm: 0.0254 } });
    const outer = say("{feature}: {reason}", { feature: "a {e} b", reason: inner });
    expect(outer.text).toBe("a {e} b: off by 0.025 mm");
    const words: Readonly<Record<string, string>> = { "off by {e}": "um {e} daneben" };
    const translate = (template: string): string => words[template] ?? template;
    expect(fill(outer.template, outer.values, { ...GERMAN, translate })).toBe(
      "a {e} b: um 0,025 mm (0,0010 in) daneben",
    );
  });

  it("must all be there: a sentence without one is our bug", () => {
    expect(() => say("{here} and {gone}", { here: 1 })).toThrow(RangeError);
    expect(() => say("{constructor}")).toThrow(RangeError);
  });
});

describe("a number in a sentence and in a table", () => {
  const rounding = fc.oneof(
    fc.record({ uncertainty: fc.double({ min: 1e-5, max: 1, noNaN: true }), beside: fc.constant([0.02]) }),
    fc.constantFrom({}, { as: "limit" as const }, { as: "uncertainty" as const }),
  );
  const styles = fc.constantFrom<NumberStyle>(
    { show: "mm", decimal: "." },
    { show: "in", decimal: "," },
    { show: "in", also: "mm", decimal: "." },
    { show: "mm", also: "in", decimal: "," },
  );
  const table = (text: string): string => text.replaceAll("\u2212", "-");

  it("is the same", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -900, max: 900, noNaN: true }),
        rounding,
        styles,
        fc.boolean(),
        (value, rule, style, signed) => {
          expect(valueText({ mm: value, signed, ...rule }, style)).toBe(
            table(quantityText(quantity(value, "mm", style, { signed, ...rule }))),
          );
          expect(valueText({ slope: value / 1e5, signed: true }, style)).toBe(
            table(quantityText(slope(value / 1e5, style))),
          );
        },
      ),
    );
  });

  it("says in both units what is one length within the last places", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 900, noNaN: true }), rounding, (value, rule) => {
        const [, mm = "", inch = ""] =
          /^(\S+) mm \((\S+) in\)$/.exec(valueText({ mm: value, ...rule }, { ...MM, also: "in" })) ?? [];
        const last = (text: string): number => 10 ** -(text.split(".")[1]?.length ?? 0);
        expect(Math.abs(Number(mm) - Number(inch) * 25.4)).toBeLessThanOrEqual(
          0.5001 * (last(mm) + 25.4 * last(inch)),
        );
      }),
    );
  });
});
