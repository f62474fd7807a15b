import { describe, expect, test } from "vitest";
import { variance } from "../../src/math/covariance.ts";
import { fitCircle2 } from "../../src/math/fitCircle2.ts";
import { fitCircle3 } from "../../src/math/fitCircle3.ts";
import { fitCylinder } from "../../src/math/fitCylinder.ts";
import { fitLine2 } from "../../src/math/fitLine2.ts";
import { fitLine3 } from "../../src/math/fitLine3.ts";
import { fitPlane } from "../../src/math/fitPlane.ts";
import { fitSphere } from "../../src/math/fitSphere.ts";
import { leastSquares } from "../../src/math/leastSquares.ts";
import { points3 } from "../../src/math/points.ts";
import { momentStart } from "../../src/math/round.ts";
import { dot, unit } from "../../src/math/vector.ts";
import {
  calibration,
  caseOf,
  circles,
  type PointCase,
  planePoints,
  shapes,
  spacePoints,
  straightness,
} from "../references/cases.ts";
import { value } from "./value.ts";

type Figures = Record<string, number>;

/** Figures against the independent program to 1e-9, and against the print where the print is right. */
function check(entry: PointCase, reached: Figures): void {
  for (const [name, figure] of Object.entries(reached)) {
    const recomputed = entry.recomputed[name];
    if (recomputed !== undefined)
      expectNear(figure, recomputed, 1e-9 * Math.max(1, Math.abs(recomputed)), name);
    const printed = entry.published[name];
    const tolerance = entry.tol[name];
    if (entry.agrees && printed !== undefined && tolerance !== undefined)
      expectNear(figure, printed, tolerance * 1.001, `${name} as printed`);
  }
}
function expectNear(figure: number, wanted: number, tolerance: number, what: string): void {
  expect(Math.abs(figure - wanted), `${what}: ${figure} for ${wanted}`).toBeLessThanOrEqual(tolerance);
}
const squares = (residuals: Float64Array) => residuals.reduce((total, r) => total + r * r, 0);

describe("circle by distance", () => {
  test.each(["circle-gander6-geometric", "circle-cookbook-full", "circle-commonsmath-5pt", "circle-pcl-2d"])(
    "%s",
    (id) => {
      const entry = caseOf(circles, id);
      const fit = value(fitCircle2(planePoints(entry)));
      const [rowX, rowY] = fit.covariance;
      const ssq = squares(fit.residuals);
      check(entry, {
        ...{ x: fit.center[0], y: fit.center[1], r: fit.radius, sigma: fit.rms, rms: fit.rms, ssq },
        ...{ rss_root: Math.sqrt(ssq), cov_xx: rowX![0]!, cov_xy: rowX![1]!, cov_yy: rowY![1]! },
        roundness_about_ls: Math.max(...fit.residuals) - Math.min(...fit.residuals),
      });
      expect(fit.dof).toBe(entry.points.length - 3);
      expect(fit.scatter).toBeCloseTo(Math.sqrt(ssq / fit.dof), 12);
    },
  );

  test("circle-gander6-taubin: the start is the fit of that name", () => {
    const entry = caseOf(circles, "circle-gander6-taubin");
    const points = planePoints(entry);
    const [x, y, r] = momentStart([points.x, points.y])!;
    check(entry, { x: x!, y: y!, r: r! });
  });

  test("circle-gander6-kasa: the print is wrong, the linear equation gives the recomputed centre", () => {
    const entry = caseOf(circles, "circle-gander6-kasa");
    expect(entry.agrees).toBe(false);
    const { x, y } = planePoints(entry);
    const right = x.map((value, i) => value ** 2 + y[i]! ** 2);
    const fit = value(leastSquares([x.map((v) => 2 * v), y.map((v) => 2 * v), x.map(() => 1)], right));
    const [a = 0, b = 0, c = 0] = fit.coefficients;
    check(entry, { x: a, y: b, r: Math.sqrt(c + a * a + b * b) });
    expect(Math.abs(a - entry.published.x!)).toBeGreaterThan(0.1);
  });

  test("circle-cookbook-full-kasa: centre of the linear equation, radius the mean distance", () => {
    const entry = caseOf(circles, "circle-cookbook-full-kasa");
    const { x, y } = planePoints(entry);
    const right = x.map((value, i) => value ** 2 + y[i]! ** 2);
    const fit = value(leastSquares([x.map((v) => 2 * v), y.map((v) => 2 * v), x.map(() => 1)], right));
    const [a = 0, b = 0] = fit.coefficients;
    const distances = x.map((value, i) => Math.hypot(value - a, y[i]! - b));
    const r = distances.reduce((total, d) => total + d, 0) / distances.length;
    check(entry, { x: a, y: b, r, ssq: squares(distances.map((d) => d - r)) });
  });

  test("circle-pcl-3d: in space", () => {
    const entry = caseOf(circles, "circle-pcl-3d");
    const fit = value(fitCircle3(spacePoints(entry), [0, 1, 0]));
    const [x, y, z] = fit.center;
    const [nx, ny, nz] = fit.direction;
    check(entry, { x, y, z, r: fit.radius, nx, ny, nz });
  });
});

describe("line, plane, sphere, cylinder", () => {
  test.each(["line2d-pearson-orthogonal", "line2d-vxl-3pt"])("%s", (id) => {
    const entry = caseOf(shapes, id);
    const fit = value(fitLine2(planePoints(entry)));
    const intercept = fit.center[1] - fit.slope * fit.center[0];
    const spread = Math.max(...fit.residuals) - Math.min(...fit.residuals);
    check(entry, { slope: fit.slope, intercept, rms: fit.rms, straightness_about_ls: spread });
  });

  test("line3d-pcl: exact points leave nothing", () => {
    const entry = caseOf(shapes, "line3d-pcl");
    const { direction, rms } = value(fitLine3(spacePoints(entry)));
    check(entry, { dy_dx: direction[1] / direction[0], dz_dx: direction[2] / direction[0], rms });
  });

  test("plane-vxl-exact", () => {
    const entry = caseOf(shapes, "plane-vxl-exact");
    const fit = value(fitPlane(spacePoints(entry)));
    const [nx, ny, nz] = fit.direction;
    check(entry, { nx, ny, nz, d: dot(fit.direction, fit.center) });
    expect(fit.rms).toBeLessThan(1e-14);
  });

  test.each(["sphere-bme-4pt", "sphere-bme-4pt-exact", "sphere-pcl-9pt"])("%s", (id) => {
    const entry = caseOf(shapes, id);
    const fit = value(fitSphere(spacePoints(entry)));
    const [x, y, z] = fit.center;
    check(entry, { x, y, z, r: fit.radius, rms: fit.rms });
    if (entry.points.length === 4) expect(fit.scatter).toBeNull();
  });

  test("sphere-bme-20pt: the recomputed figure stopped a little early, ours is the deeper", () => {
    const entry = caseOf(shapes, "sphere-bme-20pt");
    const points = spacePoints(entry);
    const fit = value(fitSphere(points));
    const { x, y, z, r, rms } = entry.recomputed as Record<"x" | "y" | "z" | "r" | "rms", number>;
    const theirs = points.x.map((a, i) => Math.hypot(a - x, points.y[i]! - y, points.z[i]! - z) - r);
    expect(squares(fit.residuals)).toBeLessThan(squares(theirs));
    [...fit.center, fit.radius].forEach((figure, i) => {
      expectNear(figure, [x, y, z, r][i]!, 1e-6, "figure");
    });
    expectNear(fit.rms, rms, 1e-9, "rms");
  });

  test("cylinder-vxl-exact", () => {
    const entry = caseOf(shapes, "cylinder-vxl-exact");
    const fit = value(fitCylinder(spacePoints(entry)));
    const { center, direction: d } = fit;
    const [x, y] = [center[0] - (center[2] * d[0]) / d[2], center[1] - (center[2] * d[1]) / d[2]];
    check(entry, { x, y, r: fit.radius, dx: d[0] / d[2], dy: d[1] / d[2], rms: fit.rms });
  });
});

describe("straight lines by height", () => {
  test("gum-h3-thermometer: coefficients, their uncertainty and correlation, a predicted value", () => {
    const entry = caseOf(calibration, "gum-h3-thermometer");
    const { x, y } = planePoints(entry);
    const fit = value(leastSquares([x.map(() => 1), x.map((t) => t - 20)], y));
    const s = fit.scatter!;
    const [first, second] = fit.covariance;
    const [y1, y2] = [fit.coefficients[0]!, fit.coefficients[1]!];
    check(entry, {
      ...{ y1, y2, s, ssr: fit.sumOfSquares, b30: y1 + 10 * y2 },
      ...{ u_y1: s * Math.sqrt(first![0]!), u_y2: s * Math.sqrt(second![1]!) },
      ...{
        r: first![1]! / Math.sqrt(first![0]! * second![1]!),
        u_b30: s * Math.sqrt(variance(fit.covariance, [1, 10])),
      },
    });
    expect(fit.dof).toBe(9);
  });

  test("straightness-autocollimator-7pos: spread about the least-squares line of the summed slopes", () => {
    const entry = caseOf(straightness, "straightness-autocollimator-7pos");
    const { forward_sec: there, backward_sec: back } = entry.points;
    const tilts = there.map((seconds, i) => (seconds + back[i]!) / 2 - (there[0]! + back[0]!) / 2);
    const heights = [0];
    for (const tilt of tilts) heights.push(heights.at(-1)! + tilt * 0.5);
    const x = Float64Array.from(heights, (_, i) => i);
    const fit = value(leastSquares([x.map(() => 1), x], Float64Array.from(heights)));
    const spread = Math.max(...fit.residuals) - Math.min(...fit.residuals);
    expect(spread).toBeCloseTo(entry.recomputed.straightness_ls_um!, 9);
  });
});

test("the plane x + y + z = 0 through three points has nothing left over", () => {
  const points = points3([
    [1, -1, 0],
    [0, 1, -1],
    [-1, 0, 1],
  ]);
  const fit = value(fitPlane(points));
  expect(dot(fit.direction, unit([1, 1, 1]))).toBeCloseTo(1, 14);
  expect(fit.dof).toBe(0);
  expect(fit.scatter).toBeNull();
});
