import { analyseVariance } from "../../src/math/analysisOfVariance.ts";
import { levenbergMarquardt } from "../../src/math/levenbergMarquardt.ts";
import { polynomialFit } from "../../src/math/polynomialFit.ts";
import { lagOneAutocorrelation, mean, sampleDeviation } from "../../src/math/statistics.ts";
import { nistAnova, nistLinear, nistNonlinear, nistUnivariate } from "./cases.ts";

/** How many digits of a certified value are reached, and how many must be. */
export interface CertifyRow {
  readonly dataset: string;
  readonly what: string;
  readonly digits: number;
  readonly needed: number;
}

/**
 * Correct leading digits (log relative error), at most 15; of a certified zero the digits after the point.
 * Source of the measure: B. D. McCullough (1998), The American Statistician 52, 358-366.
 */
export function correctDigits(reached: number, certified: number): number {
  const error = Math.abs(reached - certified) / (certified === 0 ? 1 : Math.abs(certified));
  if (Number.isNaN(error)) return 0;
  return Math.min(15, Math.max(0, -Math.log10(error)));
}

const fewest = (reached: ArrayLike<number>, certified: readonly (string | number)[]): number =>
  Math.min(...certified.map((value, i) => correctDigits(reached[i]!, Number(value))));

/** Every certified dataset against this package: statistics, variance, linear and nonlinear least squares. */
export function certifyTable(): CertifyRow[] {
  return [...univariateRows(), ...varianceRows(), ...linearRows(), ...nonlinearRows()];
}

/**
 * Values such as 10000000.2 are no doubles: what is lost in reading them bounds what any computation in doubles
 * can reach, about 8 digits of the deviation for seven equal leading digits.
 */
const UNIVARIATE_LIMITS: Readonly<Record<string, number>> = { "strd-numacc3": 9, "strd-numacc4": 8 };

function univariateRows(): CertifyRow[] {
  return nistUnivariate.flatMap(({ id, points, published }) => {
    const values = Float64Array.from(points, Number);
    const needed = UNIVARIATE_LIMITS[id] ?? 13;
    return [
      { dataset: id, what: "mean", digits: correctDigits(mean(values), published.mean), needed: 14 },
      {
        dataset: id,
        what: "deviation",
        digits: correctDigits(sampleDeviation(values), published.sd),
        needed,
      },
      {
        dataset: id,
        what: "lag-1 autocorrelation",
        digits: correctDigits(lagOneAutocorrelation(values)!, published.r1),
        needed,
      },
    ];
  });
}

/** With 13 equal leading digits a double keeps three or four of the differences; with 7 about nine. */
const VARIANCE_LIMITS: Readonly<Record<string, number>> = {
  "strd-smls07t": 3,
  "strd-smls04t": 9,
  "strd-atmwtagt": 9,
};

function varianceRows(): CertifyRow[] {
  return nistAnova.map(({ id, points, published }) => {
    const groups = points[0]!.map((_, j) => points.map((row) => Number(row[j])));
    const found = analyseVariance(groups);
    const reached = [found.betweenSquares, found.withinSquares, found.ratio, found.withinDeviation];
    const certified = [published.ss_b, published.ss_w, published.F, published.residual_sd];
    const needed = VARIANCE_LIMITS[id] ?? 12;
    return { dataset: id, what: "squares, ratio", digits: fewest(reached, certified), needed };
  });
}

function linearRows(): CertifyRow[] {
  return nistLinear.flatMap(({ id, points, params, published }) => {
    const y = Float64Array.from(points, (p) => p[0]);
    const x = Float64Array.from(points, (p) => p[1]);
    const fit = polynomialFit(x, y, params.degree, { intercept: params.intercept });
    const coefficients = fit.ok ? fit.coefficients : [];
    const deviations = fit.ok ? fit.covariance.map((row, i) => fit.scatter! * Math.sqrt(row[i]!)) : [];
    return [
      {
        dataset: id,
        what: "coefficients",
        digits: fewest(coefficients, published.coef),
        needed: LINEAR_NEEDED,
      },
      {
        dataset: id,
        what: "their deviations",
        digits: fewest(deviations, published.sd),
        needed: DEVIATIONS_NEEDED,
      },
    ];
  });
}

const LINEAR_NEEDED = 12;
const DEVIATIONS_NEEDED = 8;

type Model = (x: number, b: Float64Array) => number;

const growth: Model = (x, b) => b[0]! * (1 - Math.exp(-b[1]! * x));
const MODELS: Readonly<Record<string, Model>> = {
  "strd-misra1a": growth,
  "strd-boxbod": growth,
  "strd-mgh09": (x, b) => (b[0]! * (x * x + x * b[1]!)) / (x * x + x * b[2]! + b[3]!),
  "strd-rat43": (x, b) => b[0]! / (1 + Math.exp(b[1]! - b[2]! * x)) ** (1 / b[3]!),
  "strd-thurber": (x, b) =>
    (b[0]! + x * (b[1]! + x * (b[2]! + x * b[3]!))) / (1 + x * (b[4]! + x * (b[5]! + x * b[6]!))),
};

/** From the start far from the answer, which is the harder one. */
function nonlinearRows(): CertifyRow[] {
  return nistNonlinear.flatMap(({ id, points, params, published }) => {
    const model = MODELS[id]!;
    const problem = {
      rows: points.length,
      residuals: (b: Float64Array, out: Float64Array) =>
        points.forEach(([y, x], i) => {
          out[i] = model(x, b) - y;
        }),
    };
    const fit = levenbergMarquardt(problem, params.start1);
    const parameters = fit.ok ? fit.parameters : [];
    const scatter = fit.ok ? Math.sqrt(fit.sumOfSquares / (points.length - params.start1.length)) : 0;
    const deviations = fit.ok ? fit.covariance.map((row, i) => scatter * Math.sqrt(row[i]!)) : [];
    return [
      { dataset: id, what: "parameters", digits: fewest(parameters, published.coef), needed: 8 },
      { dataset: id, what: "their deviations", digits: fewest(deviations, published.sd), needed: 8 },
    ];
  });
}
