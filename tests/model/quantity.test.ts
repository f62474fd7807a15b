import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type Dimension,
  dimensionsOf,
  readQuantity,
  toInside,
  unitOf,
  unitsOf,
} from "../../src/model/quantity.ts";

const value = (text: string, dimension: Dimension): number => {
  const read = readQuantity(text, dimension);
  if (!read.ok) throw new Error(`${text}: ${read.reason}`);
  return read.value;
};
const reason = (text: string, dimension: Dimension): string => {
  const read = readQuantity(text, dimension);
  return read.ok ? "" : read.reason;
};

describe("exact factors", () => {
  // NIST Special Publication 811 (2008), appendix B: factors in bold are exact there; the others are to seven digits.
  test.each<[string, Dimension, number]>([
    ["1 in", "length", 25.4],
    ["1 ft", "length", 304.8],
    ["1 thou", "length", 0.0254],
    ["1 tenth", "length", 0.00254],
    ["0.0005 in", "length", 0.0127],
    ["12 um", "length", 0.012],
    ["1 nm", "length", 1e-6],
    ["1 cm", "length", 10],
    ["1 m", "length", 1000],
    ["1 lb", "mass", 0.45359237],
    ["1 g", "mass", 0.001],
    ["1 lbf", "force", 4.4482216152605],
    ["1 kN", "force", 1000],
    ["1 lbf·ft", "torque", 0.3048 * 4.4482216152605],
    ["12 lbf·in", "torque", 0.3048 * 4.4482216152605],
    ["1 kgf·m", "torque", 9.80665],
    ["1 bar", "pressure", 0.1],
    ["1 kPa", "pressure", 0.001],
    ["1 Pa", "pressure", 1e-6],
    ["32 F", "temperature", 0],
    ["68 F", "temperature", 20],
    ["212 F", "temperature", 100],
    ["-40 F", "temperature", -40],
    ["273.15 K", "temperature", 0],
    ["20 C", "temperature", 20],
    ["9 F", "temperature-difference", 5],
    ["1 K", "temperature-difference", 1],
    ["180 deg", "angle", Math.PI],
    ["1 mrad", "angle", 0.001],
    ["11.5 um/m/K", "expansion", 11.5e-6],
    ["1 um/m/F", "expansion", 1.8e-6],
    ["1 g/cm3", "density", 1e-6],
    ["4430 kg/m3", "density", 4.43e-6],
  ])("%s", (text, dimension, inside) => expect(value(text, dimension)).toBe(inside));

  test.each<[string, Dimension, number]>([
    ["1 psi", "pressure", 6.894757e-3],
    ["1 lbf·in", "torque", 1.129848e-1],
    ["1 lb/in3", "density", 2.76799e-5],
    ["1 arcsec", "angle", 4.848137e-6],
    ["1 arcmin", "angle", 2.908882e-4],
    ["1 deg", "angle", 1.745329e-2],
  ])("%s to seven digits", (text, dimension, published) =>
    expect(Math.abs(value(text, dimension) / published - 1)).toBeLessThan(5e-7),
  );

  test("25.4 mm and 1 in are the same double for every whole number of thousandths", () => {
    fc.assert(
      fc.property(fc.integer({ min: -100_000, max: 100_000 }), (thou) => {
        expect(toInside(thou, "thou", "length")).toBe((thou * 254) / 10_000);
        expect(Math.abs(toInside(thou / 1000, "in", "length") - thou * 0.0254)).toBeLessThan(1e-11);
      }),
    );
  });
});

describe("how a unit may be written", () => {
  test.each<[string, Dimension, string]>([
    ["µm", "length", "um"],
    ["μm", "length", "um"],
    ["MM", "length", "mm"],
    ["Inch", "length", "in"],
    ['"', "length", "in"],
    ["millimetres", "length", "mm"],
    ["°", "angle", "deg"],
    ["°C", "temperature", "C"],
    ["Nm", "torque", "N·m"],
    ["N*m", "torque", "N·m"],
    ["ft-lb", "torque", "lbf·ft"],
    ["lbf-in", "torque", "lbf·in"],
    ["ppm/C", "expansion", "um/m/K"],
    ["lb/in^3", "density", "lb/in3"],
  ])("%s", (written, dimension, canonical) => expect(unitOf(written, dimension)).toBe(canonical));

  test("every unit that is offered is understood, with and without a blank", () => {
    const dimensions: Dimension[] = [
      ...(["length", "angle", "temperature", "temperature-difference", "expansion"] as const),
      ...(["torque", "pressure", "force", "mass", "density"] as const),
    ];
    for (const dimension of dimensions)
      for (const unit of unitsOf(dimension)) {
        expect(unitOf(unit, dimension)).toBe(unit);
        expect(dimensionsOf(unit)).toContain(dimension);
        expect(value(` 2 ${unit} `, dimension)).toBe(toInside(2, unit, dimension));
        // Digits and letters of 1/K run together with a number; there the blank is needed.
        if (!/^\d/.test(unit)) expect(value(`2${unit}`, dimension)).toBe(toInside(2, unit, dimension));
      }
  });

  test.each(["constructor", "toString", "__proto__", "hasOwnProperty", "", " "])("%j is no unit", (word) =>
    expect(unitOf(word, "length")).toBeNull(),
  );
});

describe("what is refused, and why", () => {
  test.each<[string, Dimension, string]>([
    ["0.01", "length", "it has no unit"],
    ["mm", "length", "it does not start with a number"],
    ["", "length", "it does not start with a number"],
    ["0,01 mm", "length", "its number has a comma or a second point"],
    ["1.2.3 mm", "length", "its number has a comma or a second point"],
    ["5 furlong", "length", '"furlong" is not a unit of length (mm, um, nm, cm, m, in, thou, tenth, ft)'],
    ["5 deg", "length", '"deg" is not a unit of length, it is one of angle'],
    ["5 mm", "temperature-difference", '"mm" is not a unit of temperature difference, it is one of length'],
    ["1e999 mm", "length", "its number is too large"],
    ["NaN mm", "length", "it does not start with a number"],
    ["Infinity mm", "length", "it does not start with a number"],
    ["1 mm 2", "length", '"mm 2" is not a unit of length (mm, um, nm, cm, m, in, thou, tenth, ft)'],
  ])("%s", (text, dimension, why) => expect(reason(text, dimension)).toBe(why));

  test("a unit of another dimension throws when a number is converted", () => {
    expect(() => toInside(1, "deg", "length")).toThrow(RangeError);
  });

  test("no text makes the reader throw, and what it accepts is a finite number", () => {
    fc.assert(
      fc.property(fc.string(), fc.constantFrom("mm", "in", "", "deg"), (text, unit) => {
        const read = readQuantity(`${text}${unit}`, "length");
        expect(read.ok ? Number.isFinite(read.value) : read.reason.length > 0).toBe(true);
      }),
    );
  });
});
