import { expect, it } from "vitest";
import { chiSquareQuantile } from "../../src/math/chiSquareQuantile.ts";

// Upper 5 % and 1 % points of chi-square as any table prints them (from memory).
it.each([
  [0.95, 1, 3.841, 0.03],
  [0.95, 2, 5.991, 0.01],
  [0.95, 3, 7.815, 0.006],
  [0.95, 5, 11.07, 0.005],
  [0.95, 10, 18.307, 0.005],
  [0.95, 30, 43.773, 0.005],
  [0.99, 2, 9.21, 0.01],
  [0.99, 10, 23.209, 0.005],
])("%f with %i degrees of freedom is %f", (probability, degrees, table, within) => {
  expect(Math.abs(chiSquareQuantile(probability, degrees) / table - 1)).toBeLessThan(within);
});
it("refuses what it is not made for", () => {
  expect(() => chiSquareQuantile(0.95, 0)).toThrow(RangeError);
  expect(() => chiSquareQuantile(1, 3)).toThrow(RangeError);
});
