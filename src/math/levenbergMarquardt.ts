import type { CovarianceMatrix } from "./covariance.ts";
import { Derivatives, type NonlinearProblem, type Reduction } from "./derivatives.ts";
import { householderQr } from "./householder.ts";
import { noResult, type Outcome } from "./outcome.ts";
import { dotProduct } from "./points.ts";

export interface NonlinearOptions {
  /** Size of each parameter below which a step of 1e-16 of it is nothing. Default: the parameter itself. */
  readonly scales?: readonly number[];
  readonly maxIterations?: number;
  /**
   * "descend": damped steps only, for a look at where a start leads; the answer is then not checked for having
   * settled. "polish": undamped steps only, from a start that is all but the answer. Default: both.
   */
  readonly phase?: "descend" | "polish";
}

export interface NonlinearFit {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  readonly sumOfSquares: number;
  /** (J^T J)^-1 at the result, unscaled. */
  readonly covariance: CovarianceMatrix;
  /** Of J with columns of length one. */
  readonly condition: number;
  /** As many rows as parameters, by columns: |upper d| = |J d| for every d. */
  readonly upper: readonly Float64Array[];
  readonly iterations: number;
  /** Largest cosine between the residuals and a column of J: 0 at the least sum of squares. */
  readonly gradient: number;
  /** Last step, largest of the parameters' steps over their scales. */
  readonly step: number;
}

/** A last step above this part of the scales is not an answer. */
const CONVERGED_STEP = 1e-9;

/**
 * Nonlinear least squares from `start`: damped steps down to the valley floor, then undamped steps until they
 * stop shrinking, so that the gradient and not the sum of squares (which is flat at its least value) decides.
 * Damping is in units of the largest column lengths seen; where that fails, in units of the parameters' scales,
 * which holds back a parameter that has hardly any effect at the start. No result when the start is not finite, when the
 * residuals do not determine the parameters, or when the steps do not die out.
 * Throws RangeError with fewer rows than parameters.
 * Source: J. J. More (1978), "The Levenberg-Marquardt algorithm: implementation and theory"; damping by
 * H. B. Nielsen (1999), "Damping parameter in Marquardt's method", IMM-REP-1999-05.
 */
export function levenbergMarquardt(
  problem: NonlinearProblem,
  start: ArrayLike<number>,
  options: NonlinearOptions = {},
): Outcome<NonlinearFit> {
  if (problem.rows < start.length) throw new RangeError("fewer residuals than parameters");
  const first = descent(problem, start, options, "columns");
  return first.ok || first.code === "not-finite" || options.phase
    ? first
    : descent(problem, start, options, "scales");
}

/** In which units of each parameter a step is long: of the column's length, or of the parameter's scale. */
type Metric = "columns" | "scales";

function descent(
  problem: NonlinearProblem,
  start: ArrayLike<number>,
  options: NonlinearOptions,
  metric: Metric,
): Outcome<NonlinearFit> {
  const walk = new Walk(problem, Float64Array.from(start), options);
  if (!Number.isFinite(walk.sumOfSquares))
    return noResult("not-finite", "The fit cannot start: a residual is not a finite number.");
  if (options.phase !== "polish") walk.descend(options.maxIterations ?? 1000, metric);
  return walk.result(options.phase === "descend" ? 0 : walk.polish());
}

class Walk {
  sumOfSquares: number;
  private iterations = 0;
  private readonly residuals: Float64Array;
  private readonly derivatives: Derivatives;
  private readonly lengths: Float64Array;

  constructor(
    private readonly problem: NonlinearProblem,
    private parameters: Float64Array,
    private readonly options: NonlinearOptions,
  ) {
    this.residuals = new Float64Array(problem.rows);
    this.derivatives = new Derivatives(problem, parameters.length);
    this.lengths = new Float64Array(parameters.length);
    this.sumOfSquares = this.evaluate(parameters, this.residuals);
  }

  private evaluate(parameters: Float64Array, out: Float64Array): number {
    this.problem.residuals(parameters, out);
    return squaredNorm(out);
  }

  private reduce(): Reduction | null {
    return this.derivatives.reduce(this.parameters, this.scales(), this.residuals);
  }

  private scales(): Float64Array {
    return this.parameters.map((p, j) => this.options.scales?.[j] ?? (Math.abs(p) || 1));
  }

  private measure(step: Float64Array): number {
    const scales = this.scales();
    return step.reduce((largest, s, j) => Math.max(largest, Math.abs(s) / scales[j]!), 0);
  }

  /** Damped steps until the promised gain is negligible. */
  descend(maxIterations: number, metric: Metric): void {
    let damping = 1e-3;
    let growth = 2;
    const trialResiduals = new Float64Array(this.problem.rows);
    while (this.iterations < maxIterations && this.sumOfSquares > 0) {
      const reduction = this.reduce();
      if (reduction === null) return;
      this.updateLengths(reduction.lengths, metric);
      const reduced = new Reduced(reduction);
      for (;;) {
        this.iterations++;
        const { step, gain } = reduced.step(damping, this.lengths);
        const trial = this.parameters.map((p, j) => p + step[j]!);
        const next = this.evaluate(trial, trialResiduals);
        const ratio = (this.sumOfSquares - next) / gain;
        if (ratio > 1e-4) {
          const small = gain <= 1e-12 * this.sumOfSquares || this.measure(step) <= 1e-13;
          this.parameters = trial;
          this.sumOfSquares = next;
          this.residuals.set(trialResiduals);
          damping = Math.max(damping * Math.max(1 / 3, 1 - (2 * ratio - 1) ** 3), 1e-14);
          growth = 2;
          if (small) return;
          break;
        }
        if (gain <= 1e-12 * this.sumOfSquares || !(damping < 1e20)) return;
        damping *= growth;
        growth *= 2;
        if (this.iterations >= maxIterations) return;
      }
    }
  }

  private updateLengths(lengths: Float64Array, metric: Metric): void {
    const scales = this.scales();
    const strongest = Math.max(...lengths.map((length, j) => length * scales[j]!));
    for (let j = 0; j < lengths.length; j++)
      this.lengths[j] =
        metric === "scales" ? strongest / scales[j]! : Math.max(this.lengths[j]!, lengths[j]!);
  }

  /**
   * Undamped steps while they shrink; returns the last one's size. Where the residuals bend so strongly that
   * these do not shrink, steps with the full second derivatives take over.
   */
  polish(): number {
    const [parameters, sumOfSquares] = [this.parameters, this.sumOfSquares];
    const plain = this.shrink(() => this.gaussNewtonStep(), 200);
    const kept = this.sumOfSquares <= sumOfSquares * (1 + 1e-9) + Number.MIN_VALUE;
    if (plain <= 1e-11 && (kept || plain <= 1e-13)) return plain;
    this.moveTo(parameters);
    const newton = this.newtonSteps();
    const full = newton ? this.shrink(newton, 60) : Number.POSITIVE_INFINITY;
    return full;
  }

  private moveTo(parameters: Float64Array): void {
    this.parameters = parameters;
    this.sumOfSquares = this.evaluate(parameters, this.residuals);
  }

  private shrink(nextStep: () => Float64Array | null, limit: number): number {
    let least = Number.POSITIVE_INFINITY;
    let best = this.parameters;
    for (let count = 0, worse = 0; count < limit && worse < 4; count++) {
      const step = nextStep();
      const size = step ? this.measure(step) : Number.NaN;
      if (!step || !Number.isFinite(size) || size > 1e6 * Math.max(least, 1)) break;
      this.iterations++;
      this.moveTo(this.parameters.map((p, j) => p + step[j]!));
      if (size < least) {
        worse = size > least / 2 && size < 1e-13 ? worse + 1 : 0;
        least = size;
        best = this.parameters;
      } else worse++;
      if (size <= Number.EPSILON / 4) break;
    }
    this.moveTo(best);
    return least;
  }

  private gaussNewtonStep(): Float64Array | null {
    const reduction = this.reduce();
    if (reduction === null || reduction.factors.rank < this.parameters.length) return null;
    return reduction.factors.solveUpper(reduction.top);
  }

  private gradientAt(parameters: Float64Array): Float64Array {
    this.moveTo(parameters);
    return this.reduce()?.gradient ?? parameters.map(() => Number.NaN);
  }

  /** Steps -H^-1 J^T r with the Hessian H of half the sum of squares, by differences; null where H is no minimum. */
  private newtonSteps(): (() => Float64Array | null) | null {
    const here = this.parameters;
    const scales = this.scales();
    const rows = Array.from(here, (_, j) => {
      const h = 1e-5 * scales[j]!;
      const ahead = this.gradientAt(here.map((p, k) => (k === j ? p + h : p)));
      const behind = this.gradientAt(here.map((p, k) => (k === j ? p - h : p)));
      return ahead.map((g, k) => (g - behind[k]!) / (2 * h));
    });
    this.moveTo(here);
    const solve = choleskySolver(rows);
    return solve && (() => solve(this.gradientAt(this.parameters).map((g) => -g)));
  }

  result(step: number): Outcome<NonlinearFit> {
    const reduction = this.reduce();
    if (reduction === null || reduction.factors.rank < this.parameters.length)
      return noResult("degenerate-points", "The points do not determine every parameter of the fit.");
    if (!(step <= CONVERGED_STEP)) return noResult("no-convergence", "The fit did not settle on an answer.");
    const { factors, lengths, gradient } = reduction;
    return {
      ok: true,
      parameters: this.parameters,
      residuals: this.residuals,
      sumOfSquares: this.sumOfSquares,
      covariance: factors.inverseNormal(),
      condition: factors.condition(),
      upper: factors.upper(),
      iterations: this.iterations,
      gradient: cosine(gradient, lengths, this.sumOfSquares),
      step,
    };
  }
}

/** The problem min |J d + r| reduced to as many rows as parameters, to try several dampings cheaply. */
class Reduced {
  private readonly top: Float64Array;
  private readonly upper: Float64Array[];

  constructor({ factors, top }: Reduction) {
    this.top = top;
    this.upper = factors.upper();
  }

  /** The d that minimises |J d + r|^2 + damping |lengths d|^2, and how much |r|^2 it promises to gain. */
  step(damping: number, lengths: Float64Array): { step: Float64Array; gain: number } {
    const p = this.upper.length;
    const augmented = this.upper.map((column, j) => {
      const out = new Float64Array(2 * p);
      out.set(column);
      out[p + j] = Math.sqrt(damping) * (lengths[j]! || 1);
      return out;
    });
    const factors = householderQr(augmented);
    const b = new Float64Array(2 * p);
    b.set(this.top);
    factors.multiplyTransposed(b);
    const step = factors.solveUpper(b.subarray(0, p));
    const left = this.top.slice();
    for (let j = 0; j < p; j++)
      for (let i = 0; i < p; i++) left[i] = left[i]! - this.upper[j]![i]! * step[j]!;
    return { step, gain: Math.max(squaredNorm(this.top) - squaredNorm(left), Number.MIN_VALUE) };
  }
}

function squaredNorm(column: Float64Array): number {
  return dotProduct(column, column);
}

function cosine(gradient: Float64Array, lengths: Float64Array, sumOfSquares: number): number {
  if (sumOfSquares === 0) return 0;
  const size = Math.sqrt(sumOfSquares);
  return Math.max(...gradient.map((g, j) => Math.abs(g) / (lengths[j]! * size || 1)));
}

/** Solver of a symmetric positive definite system; null when it is not positive definite. */
function choleskySolver(rows: readonly Float64Array[]): ((b: Float64Array) => Float64Array) | null {
  const p = rows.length;
  const low = rows.map(() => new Float64Array(p));
  for (let i = 0; i < p; i++)
    for (let j = 0; j <= i; j++) {
      let rest = (rows[i]![j]! + rows[j]![i]!) / 2;
      for (let k = 0; k < j; k++) rest -= low[i]![k]! * low[j]![k]!;
      if (i === j && !(rest > 0)) return null;
      low[i]![j] = i === j ? Math.sqrt(rest) : rest / low[j]![j]!;
    }
  return (b) => {
    const x = b.slice();
    for (let i = 0; i < p; i++) {
      for (let k = 0; k < i; k++) x[i] = x[i]! - low[i]![k]! * x[k]!;
      x[i] = x[i]! / low[i]![i]!;
    }
    for (let i = p - 1; i >= 0; i--) {
      for (let k = i + 1; k < p; k++) x[i] = x[i]! - low[k]![i]! * x[k]!;
      x[i] = x[i]! / low[i]![i]!;
    }
    return x;
  };
}
