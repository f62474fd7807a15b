import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimalsOf } from "../../src/model/decimals.ts";
import {
  aligned,
  type NumberStyle,
  percent,
  type Quantity,
  quantity,
  slope,
} from "../../src/report/format.ts";

const mm: NumberStyle = { show: "mm", decimal: "." };
const inch: NumberStyle = { show: "in", decimal: "." };
const german: NumberStyle = { show: "mm", decimal: "," };
const text = (value: Quantity): string => value.number + value.unit;
const backToMm = (value: Quantity, style: NumberStyle): number =>
  Number(value.number.replace("\u2212", "-").replace(",", ".")) * (style.show === "in" ? 25.4 : 1);

describe("quantity", () => {
  it("shows the micrometre in mm and the tenth in inch", () => {
    expect(text(quantity(12.34567, "mm", mm))).toBe("12.346 mm");
    expect(text(quantity(25.4, "mm", inch))).toBe("1.0000 in");
    expect(text(quantity(-0.0406, "mm", inch, { signed: true }))).toBe("\u22120.0016 in");
    expect(text(quantity(89.995, "deg", inch))).toBe("89.9950°");
  });

  it("writes the decimal comma where the language has it", () => {
    expect(text(quantity(-1234.5, "mm", german))).toBe("\u22121234,500 mm");
  });

  it("goes one digit finer only for a small uncertainty and coarser for a large one", () => {
    expect(text(quantity(0.00384, "mm", mm, { uncertainty: 0.0012 }))).toBe("0.0038 mm");
    expect(text(quantity(0.00384, "mm", mm, { uncertainty: 0.0034 }))).toBe("0.004 mm");
    expect(text(quantity(12.3456, "mm", mm, { uncertainty: 0.21 }))).toBe("12.35 mm");
    expect(text(quantity(1234.56, "mm", mm, { uncertainty: 47 }))).toBe("1235 mm");
    expect(decimalsOf(null, "mm")).toBe(3);
    expect(decimalsOf(0, "in")).toBe(4);
  });

  it("has no negative zero, in any unit or language", () => {
    for (const style of [mm, inch, german]) {
      for (const value of [-0, -1e-9, -1e-8, 1e-9]) {
        expect(quantity(value, "mm", style, { signed: true }).number).toMatch(/^0[.,]0+$/);
      }
    }
    expect(slope(-1e-12, mm).number).toBe("0.0000");
  });

  it("shows a small number with as many digits as it takes to see it", () => {
    expect(quantity(-0.00004, "mm", mm, { signed: true }).number).toBe("\u22120.00004");
    expect(quantity(0.0004, "mm", inch).number).toBe("0.00002");
  });

  it("gives the value back within half of its last place", () => {
    const numbers = fc.double({ min: -5000, max: 5000, noNaN: true });
    const uncertainties = fc.option(fc.double({ min: 1e-7, max: 10, noNaN: true }));
    fc.assert(
      fc.property(numbers, uncertainties, fc.constantFrom(mm, inch, german), (value, uncertainty, style) => {
        const shown = quantity(value, "mm", style, { uncertainty });
        const decimals = shown.number.split(/[.,]/)[1]?.length ?? 0;
        const unit = style.show === "in" ? 25.4 : 1;
        expect(Math.abs(backToMm(shown, style) - value)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals * unit);
        if (uncertainty !== null && uncertainty / unit > 2e-3) {
          // What rounding loses stays a small part of what is not known anyway.
          expect(0.5 * 10 ** -decimals * unit).toBeLessThanOrEqual(uncertainty);
        }
        expect(shown.number).not.toMatch(/^[-\u2212]0[.,]?0*$/);
        expect(shown.number).not.toContain("-");
      }),
    );
  });

  it("stays short for numbers that no part has", () => {
    expect(quantity(1e300, "mm", mm).number.length).toBeLessThan(12);
    expect(quantity(Number.NaN, "mm", mm).number).toBe("?");
    expect(quantity(Number.POSITIVE_INFINITY, "deg", mm).number).toBe("?");
  });
});

describe("beside a limit", () => {
  it("never rounds a value onto or across its limit", () => {
    const style = fc.constantFrom(mm, inch);
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 10, noNaN: true }),
        fc.integer({ min: -400, max: 400 }),
        style,
        (limit, step, shown) => {
          const value = limit + step * 1e-6;
          fc.pre(step !== 0 && value !== limit && Math.abs(step) >= 5);
          const a = quantity(value, "mm", shown, { uncertainty: 0.005, beside: [limit] });
          const decimals = a.number.split(".")[1]?.length ?? 0;
          const b = quantity(limit, "mm", shown, { decimals });
          expect(Math.sign(backToMm(a, shown) - backToMm(b, shown))).toBe(Math.sign(value - limit));
        },
      ),
    );
    const beside = { uncertainty: 0.003, beside: [null, 0.012] };
    expect(quantity(0.0124, "mm", mm, beside).number).toBe("0.0124");
  });

  it("prints a limit as it was given, and within one percent after conversion", () => {
    const shown = (limit: number, style: NumberStyle): string =>
      quantity(limit, "mm", style, { as: "limit" }).number;
    expect(shown(0.012, mm)).toBe("0.012");
    expect(shown(0.0005, mm)).toBe("0.0005");
    expect(shown(12.34567, mm)).toBe("12.34567");
    expect(shown(0.0127, inch)).toBe("0.0005");
    expect(shown(0.012, inch)).toBe("0.00047");
    expect(shown(100, inch)).toBe("3.9370");
  });
});

describe("uncertainty", () => {
  it("has two digits where they fit and is never a bare zero", () => {
    const shown = (value: number, style: NumberStyle): string =>
      quantity(value, "mm", style, { as: "uncertainty" }).number;
    expect(shown(0.0012, mm)).toBe("0.0012");
    expect(shown(0.0034, mm)).toBe("0.0034");
    expect(shown(0.0012, inch)).toBe("0.00005");
    expect(shown(0.21, mm)).toBe("0.21");
    expect(shown(0.00000031, mm)).toBe("0.0000003");
  });

  it("does not round a chance to a certainty", () => {
    expect(percent(0.99999, mm)).toBe("> 99.9");
    expect(percent(0.00001, mm)).toBe("< 0.1");
    expect(percent(0.977, german)).toBe("97,7");
    expect(percent(1, mm)).toBe("100.0");
  });
});

describe("aligned", () => {
  it("pads every number to the longest fraction", () => {
    const rows = [0.0038, 12.3, 5].map((value, index) => ({
      value: quantity(value, "mm", mm, { decimals: [4, 1, 0][index] ?? 0 }),
    }));
    expect(
      aligned([...rows, { value: null }], "value").map((cell) => cell && [cell.pad, cell.padMark]),
    ).toEqual([[0, false], [3, false], [4, true], null]);
  });
});
