import { describe, expect, test } from "vitest";
import { covarianceOf, variance } from "../../src/math/covariance.ts";
import { LongSum, productError, sumError } from "../../src/math/doubleDouble.ts";
import { fitHarmonics } from "../../src/math/harmonics.ts";
import { householderQr } from "../../src/math/householder.ts";
import { leastSquares } from "../../src/math/leastSquares.ts";
import { levenbergMarquardt } from "../../src/math/levenbergMarquardt.ts";
import { polynomialFit } from "../../src/math/polynomialFit.ts";
import { compose, inverse, movePoint, rotationAbout, translation } from "../../src/math/rigidMotion.ts";
import { fitRotation } from "../../src/math/rotationFit.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import { length, subtract, type Vec3 } from "../../src/math/vector.ts";
import { refused, value } from "./value.ts";

const column = (...values: number[]) => Float64Array.from(values);
const degrees = Math.PI / 180;

describe("least squares", () => {
  test("a line by hand: coefficients, covariance, residuals", () => {
    const fit = value(leastSquares([column(1, 1, 1, 1), column(0, 1, 2, 3)], column(1, 3, 4, 8)));
    expect(fit.coefficients[0]).toBeCloseTo(0.7, 14);
    expect(fit.coefficients[1]).toBeCloseTo(2.2, 14);
    expect(fit.covariance[1]![1]).toBeCloseTo(1 / 5, 14);
    expect(fit.covariance[0]![1]).toBeCloseTo(-0.3, 14);
    expect(fit.sumOfSquares).toBeCloseTo(1.8, 13);
    expect(fit.scatter).toBeCloseTo(Math.sqrt(0.9), 13);
    expect(variance(fit.covariance, [1, 1.5])).toBeCloseTo(1 / 4, 14);
    expect(covarianceOf(fit.covariance, [1, 1.5], [0, 1])).toBeCloseTo(0, 14);
    expect(() => variance(fit.covariance, [1])).toThrow(RangeError);
  });
  test("refinement mends an ill-conditioned fit with large residuals", () => {
    const [e, large] = [2 ** -23, 2 ** 20];
    const columns = [column(1, 1, 1), column(1, 1 + e, 1 - e)];
    // Sum of the two columns and, square to both, a million times that: all of it exact in doubles.
    const values = column(2 - 2 * large, 2 + e + large, 2 - e + large);
    const refined = value(leastSquares(columns, values));
    for (const coefficient of refined.coefficients) expect(coefficient).toBe(1);
    expect([...refined.residuals]).toEqual([-2 * large, large, large]);
    const plain = value(leastSquares(columns, values, { refine: false }));
    expect(Math.abs(plain.coefficients[1]! - 1)).toBeGreaterThan(1e-6);
  });
  test("refuses what cannot be solved", () => {
    const ones = column(1, 1, 1);
    expect(refused(leastSquares([ones, column(2, 2, 2)], column(1, 2, 3)))).toBe("degenerate-points");
    expect(refused(leastSquares([ones, new Float64Array(3)], column(1, 2, 3)))).toBe("degenerate-points");
    expect(refused(leastSquares([column(1), column(2)], column(1)))).toBe("too-few-points");
    expect(refused(leastSquares([ones], column(1, Number.NaN, 3)))).toBe("not-finite");
    expect(() => leastSquares([ones], column(1, 2))).toThrow(RangeError);
    expect(() => householderQr([])).toThrow(RangeError);
  });
  test("exact polynomial comes back exactly", () => {
    const x = Float64Array.from({ length: 30 }, (_, i) => 100 + i);
    const y = x.map((t) => 3 - 2 * t + 0.5 * t * t);
    const fit = value(polynomialFit(x, y, 2));
    [3, -2, 0.5].forEach((wanted, i) => {
      expect(fit.coefficients[i]! / wanted).toBeCloseTo(1, 12);
    });
  });
  test("errors of sums and products are exact", () => {
    expect(sumError(1, 2 ** -60)).toBe(2 ** -60);
    expect(productError(1 + 2 ** -30, 1 + 2 ** -30)).toBe(2 ** -60);
    expect(new LongSum().add(1).add(1e-20).add(-1).value()).toBe(1e-20);
  });
});

describe("nonlinear least squares", () => {
  test("a start that is no number, and parameters without effect", () => {
    const problem = {
      rows: 3,
      residuals: (b: Float64Array, out: Float64Array) => out.set([b[0]! - 1, 2 * b[0]! - 2, 3 - 3 * b[0]!]),
    };
    expect(refused(levenbergMarquardt(problem, [Number.NaN]))).toBe("not-finite");
    expect(refused(levenbergMarquardt(problem, [5, 7]))).toBe("degenerate-points");
    expect(value(levenbergMarquardt(problem, [5])).parameters[0]).toBeCloseTo(1, 12);
    expect(() => levenbergMarquardt(problem, [1, 2, 3, 4])).toThrow(RangeError);
  });
  test("a sum of squares that falls for ever has no answer", () => {
    const x = [0, 1, 2, 3];
    const falling = {
      rows: 4,
      residuals: (b: Float64Array, out: Float64Array) => out.set(x.map((t) => Math.exp(-b[0]! * (1 + t)))),
    };
    expect(refused(levenbergMarquardt(falling, [1]))).toMatch(/no-convergence|degenerate-points/);
  });
  test.each([-0.9, -1.5])("large residuals that bend by %d: the gradient still vanishes", (k) => {
    // At the answer b = 0 an undamped step leaves |k| of the error behind: slow below one, running off above it.
    const bending = {
      rows: 2,
      residuals: (b: Float64Array, out: Float64Array) => out.set([b[0]! + 1, k * b[0]! ** 2 + b[0]! - 1]),
      jacobian: (b: Float64Array, columns: readonly Float64Array[]) =>
        columns[0]!.set([1, 2 * k * b[0]! + 1]),
    };
    const fit = value(levenbergMarquardt(bending, [0.3], { scales: [1] }));
    expect(Math.abs(fit.parameters[0]!)).toBeLessThan(1e-12);
    expect(fit.gradient).toBeLessThan(1e-12);
  });
});

describe("many rows, reduced block by block", () => {
  const rows = 10_001;
  const noise = seededNoise(5);
  const x = Float64Array.from({ length: rows }, () => noise.between(-1, 1));
  const y = x.map((t) => 2 - 3 * t + 0.5 * Math.sin(5 * t) + 0.01 * noise.normal());
  const linear = (columns: readonly Float64Array[]) => ({
    rows,
    residuals(b: Float64Array, out: Float64Array) {
      for (let i = 0; i < rows; i++)
        out[i] = columns.reduce((total, column, j) => total + b[j]! * column[i]!, -y[i]!);
    },
    jacobian(_: Float64Array, out: readonly Float64Array[], from: number) {
      out.forEach((by, j) => {
        by.set(columns[j]!.subarray(from, from + by.length));
      });
    },
  });
  test("a linear problem comes out as from the whole, solved in twice the digits", () => {
    const columns = [x.map(() => 1), x, x.map((t) => Math.sin(5 * t)), x.map((t) => 1 + 1e-2 * t * t)];
    const whole = value(leastSquares(columns, y));
    const fit = value(levenbergMarquardt(linear(columns), [0, 0, 0, 0], { scales: [1, 1, 1, 1] }));
    const share = (one: number, other: number): number => Math.abs(one / other - 1);
    whole.coefficients.forEach((wanted, j) => {
      expect(share(fit.parameters[j]!, wanted)).toBeLessThan(1e-9);
    });
    whole.covariance.forEach((row, j) => {
      row.forEach((wanted, k) => {
        expect(share(fit.covariance[j]![k]!, wanted)).toBeLessThan(1e-9);
      });
    });
    expect(share(fit.condition, whole.condition)).toBeLessThan(1e-9);
    expect(share(fit.sumOfSquares, whole.sumOfSquares)).toBeLessThan(1e-12);
    expect(fit.gradient).toBeLessThan(1e-10);
  });
  test("a column that is the sum of two others, and a derivative that is no number", () => {
    const columns = [x.map(() => 1), x, x.map((t) => 1 + t)];
    expect(refused(levenbergMarquardt(linear(columns), [0, 0, 0]))).toBe("degenerate-points");
    const broken = [x.map(() => 1), x.map((t, i) => (i === rows - 1 ? Number.NaN : t))];
    const problem = { ...linear(broken), residuals: linear([broken[0]!, x]).residuals };
    expect(refused(levenbergMarquardt(problem, [0, 0]))).toBe("degenerate-points");
  });
});

describe("harmonics", () => {
  const make = (angles: Float64Array) =>
    angles.map(
      (a) => 50 + 0.3 * Math.cos(a - 1) + 0.2 * Math.cos(2 * (a - 0.4)) + 0.05 * Math.cos(3 * (a - 2)),
    );
  test("unequal angles in any order give the parts back", () => {
    const noise = seededNoise(3);
    const angles = Float64Array.from({ length: 13 }, () => noise.between(-10, 10));
    const fit = value(fitHarmonics(angles, make(angles)));
    expect(fit.mean).toBeCloseTo(50, 11);
    const [first, second, third, fourth] = fit.harmonics;
    expect([first!.n, second!.n, third!.n, fourth!.n]).toEqual([1, 2, 3, 4]);
    expect(first!.amplitude).toBeCloseTo(0.3, 11);
    expect(first!.phase).toBeCloseTo(1, 10);
    expect(second!.peakToValley).toBeCloseTo(0.4, 11);
    expect(second!.phase).toBeCloseTo(0.4, 10);
    expect(third!.amplitude).toBeCloseTo(0.05, 11);
    expect(third!.phase).toBeCloseTo(2, 9);
    expect(fourth!.amplitude).toBeLessThan(1e-11);
    expect(fit.dof).toBe(4);
  });
  test.each([
    [3, 1],
    [4, 1],
    [5, 2],
    [8, 3],
    [9, 4],
    [40, 4],
  ])("%i angles carry %i harmonics", (count, wanted) => {
    const angles = Float64Array.from({ length: count }, (_, i) => (2 * Math.PI * i) / count);
    expect(value(fitHarmonics(angles, make(angles))).harmonics.length).toBe(wanted);
  });
  test("0 and 360 degrees are one angle; two are too few; a short arc tells nothing", () => {
    const turn = Float64Array.from({ length: 9 }, (_, i) => 45 * degrees * i);
    expect(value(fitHarmonics(turn, make(turn))).harmonics.length).toBe(3);
    expect(refused(fitHarmonics(column(0, Math.PI, 2 * Math.PI), column(1, 2, 1)))).toBe("too-few-points");
    const arc = Float64Array.from({ length: 20 }, (_, i) => 0.001 * i);
    expect(refused(fitHarmonics(arc, make(arc)))).toBe("degenerate-points");
    expect(
      refused(
        fitHarmonics(
          turn,
          turn.map(() => Number.NaN),
        ),
      ),
    ).toBe("not-finite");
  });
  test("the stated covariance is that of equal spacing: 2 / N for each part", () => {
    const angles = Float64Array.from({ length: 24 }, (_, i) => 15 * degrees * i);
    const { covariance } = value(fitHarmonics(angles, make(angles)));
    expect(covariance[0]![0]).toBeCloseTo(1 / 24, 14);
    expect(covariance[3]![3]).toBeCloseTo(2 / 24, 14);
    expect(covariance[1]![4]).toBeCloseTo(0, 14);
  });
});

describe("rigid motion", () => {
  const near = (p: Vec3, q: Vec3) => expect(length(subtract(p, q))).toBeLessThan(1e-12);
  test("a quarter turn about y swings +z towards +x", () => {
    near(movePoint(rotationAbout([0, 0, 0], [0, 3, 0], Math.PI / 2), [0, 0, 1]), [1, 0, 0]);
  });
  test("about an axis through a point, composed and undone", () => {
    const turn = rotationAbout([1, 2, 3], [1, -1, 2], 0.7);
    near(movePoint(turn, [2, 1, 5]), [2, 1, 5]);
    const both = compose(translation([4, 5, 6]), turn);
    near(movePoint(both, [0, 1, 0]), movePoint(translation([4, 5, 6]), movePoint(turn, [0, 1, 0])));
    near(movePoint(inverse(both), movePoint(both, [7, 8, 9])), [7, 8, 9]);
  });
});

describe("centre of a rotation", () => {
  const angles = column(0, 90 * degrees, 180 * degrees, 270 * degrees);
  const x = column(-9.5178, -8.2406, -15.483, -16.7599);
  const z = column(-15.7411, -22.9832, -24.2603, -17.0181);
  test("four places: centre, and the wrong sense shows", () => {
    const fit = value(fitRotation(angles, x, z, 1));
    // The centre is the mean of each pair half a turn apart, and their mean for four.
    expect(fit.xc).toBeCloseTo((-9.5178 - 15.483 - 8.2406 - 16.7599) / 4, 12);
    expect(fit.zc).toBeCloseTo((-15.7411 - 24.2603 - 22.9832 - 17.0181) / 4, 12);
    expect(fit.rms).toBeLessThan(1e-4);
    expect(fit.dof).toBe(4);
    expect(value(fitRotation(angles, x, z, -1)).rms).toBeGreaterThan(3);
  });
  test("exact turns in either sense, at any angles, far from the origin", () => {
    const noise = seededNoise(2);
    for (const sense of [1, -1] as const) {
      const turns = Float64Array.from({ length: 5 }, () => noise.between(-3, 3));
      const center: Vec3 = [5000, 0, -7000];
      const target: Vec3 = [5100, 0, -6950];
      const places = Array.from(turns, (t) => movePoint(rotationAbout(center, [0, 1, 0], sense * t), target));
      const fit = value(
        fitRotation(
          turns,
          Float64Array.from(places, (p) => p[0]),
          Float64Array.from(places, (p) => p[2]),
          sense,
        ),
      );
      expect(fit.xc).toBeCloseTo(5000, 9);
      expect(fit.zc).toBeCloseTo(-7000, 9);
      expect(fit.p).toBeCloseTo(100, 9);
      expect(fit.q).toBeCloseTo(50, 9);
      expect(fit.arm).toBeCloseTo(Math.hypot(100, 50), 9);
    }
  });
  test("two angles are enough, one is not", () => {
    const two = value(fitRotation(angles.subarray(0, 2), x.subarray(0, 2), z.subarray(0, 2), 1));
    expect(two.dof).toBe(0);
    expect(two.scatter).toBeNull();
    expect(refused(fitRotation(column(1), column(1), column(1), 1))).toBe("too-few-points");
    expect(refused(fitRotation(column(1, 1), column(1, 2), column(1, 2), 1))).toBe("degenerate-points");
    expect(refused(fitRotation(column(1, 2), column(1, Number.NaN), column(1, 2), 1))).toBe("not-finite");
    expect(() => fitRotation(column(1, 2), column(1), column(1, 2), 1)).toThrow(RangeError);
  });
});
