import type { CovarianceMatrix } from "./covariance.ts";
import { LongSum } from "./doubleDouble.ts";
import { householderQr, type QrFactors } from "./householder.ts";
import { type NoResult, noResult, type Outcome } from "./outcome.ts";

export interface LinearFit {
  readonly coefficients: Float64Array;
  /** (A^T A)^-1, unscaled: times `scatter` squared it is the covariance of the coefficients. */
  readonly covariance: CovarianceMatrix;
  /** values - A coefficients. */
  readonly residuals: Float64Array;
  readonly sumOfSquares: number;
  /** rows - columns. */
  readonly dof: number;
  /** sqrt(sumOfSquares / dof), null without degrees of freedom. */
  readonly scatter: number | null;
  readonly rank: number;
  /** Of the matrix with columns scaled to length one. */
  readonly condition: number;
  /** Steps of refinement that were taken. */
  readonly iterations: number;
}

export interface LeastSquaresOptions {
  /** Correct the solution with residuals summed in twice the digits. Default true; costs a pass over the rows each. */
  readonly refine?: boolean;
  /** What the columns lost in rounding, so that A = columns + tails. */
  readonly tails?: readonly Float64Array[];
}

/**
 * Linear least squares: the coefficients x that minimise the sum of squares of `values - A x`, where A has the
 * `columns` given. Householder QR on scaled columns, then iterative refinement of the solution and its residuals
 * together, so that large residuals do not square the conditioning.
 * Shapes: every column and `values` have one length, no fewer rows than columns. No result when a number is not
 * finite, rows are too few, or columns depend on each other. Throws RangeError for columns of unequal length.
 * Source: A. Bjorck (1967), "Iterative refinement of linear least squares solutions", BIT 7, 257-278.
 * @example leastSquares([ones, x], y) // straight line: intercept and slope
 */
export function leastSquares(
  columns: readonly Float64Array[],
  values: Float64Array,
  options: LeastSquaresOptions = {},
): Outcome<LinearFit> {
  const refusal = refuse(columns, values);
  if (refusal) return refusal;
  const factors = householderQr(columns);
  if (factors.rank < columns.length)
    return noResult("degenerate-points", "The readings do not determine every coefficient of the fit.");
  const state = new Refinement(columns, options.tails ?? [], values, factors);
  const iterations = (options.refine ?? true) ? state.refine() : state.solveOnce();
  const residuals = state.residuals();
  const sumOfSquares = squares(residuals);
  const dof = values.length - columns.length;
  return {
    ok: true,
    coefficients: state.coefficients(),
    covariance: factors.inverseNormal(),
    residuals,
    sumOfSquares,
    dof,
    scatter: dof > 0 ? Math.sqrt(sumOfSquares / dof) : null,
    rank: factors.rank,
    condition: factors.condition(),
    iterations,
  };
}

function refuse(columns: readonly Float64Array[], values: Float64Array): NoResult | null {
  if (columns.length === 0 || columns.some((column) => column.length !== values.length))
    throw new RangeError("columns and values must have one length");
  if (values.length < columns.length)
    return noResult("too-few-points", `The fit needs at least ${columns.length} readings.`);
  if (![values, ...columns].every((column) => column.every(Number.isFinite)))
    return noResult("not-finite", "A reading is not a finite number.");
  return null;
}

function squares(column: Float64Array): number {
  const total = new LongSum();
  for (let i = 0; i < column.length; i++) total.addProduct(column[i]!, column[i]!);
  return total.value();
}

/** Solution x and residuals r of the pair r + A x = b, A^T r = 0, both held in twice the digits. */
class Refinement {
  private readonly x: LongSum[];
  private readonly high: Float64Array;
  private readonly low: Float64Array;

  constructor(
    private readonly columns: readonly Float64Array[],
    private readonly tails: readonly Float64Array[],
    private readonly values: Float64Array,
    private readonly factors: QrFactors,
  ) {
    this.x = columns.map(() => new LongSum());
    this.high = new Float64Array(values.length);
    this.low = new Float64Array(values.length);
  }

  coefficients(): Float64Array {
    return Float64Array.from(this.x, (sum) => sum.value());
  }

  residuals(): Float64Array {
    return this.high.map((value, i) => value + this.low[i]!);
  }

  /** Without refinement: one solution, residuals as they come. */
  solveOnce(): number {
    this.correct(this.values.slice(), new Float64Array(this.columns.length));
    return 0;
  }

  /** Corrects until the coefficients stand still. Returns the number of corrections. */
  refine(): number {
    this.solveOnce();
    let last = Number.POSITIVE_INFINITY;
    for (let step = 1; step <= 12; step++) {
      const change = this.correct(this.misfit(), this.skew());
      if (change <= Number.EPSILON / 8 || change >= last / 2) return step;
      last = change;
    }
    return 12;
  }

  /** b - r - A x. */
  private misfit(): Float64Array {
    const out = new Float64Array(this.values.length);
    const total = new LongSum();
    for (let i = 0; i < out.length; i++) {
      total.high = this.values[i]!;
      total.low = 0;
      total.add(-this.high[i]!).add(-this.low[i]!);
      for (let j = 0; j < this.columns.length; j++) {
        const x = this.x[j]!;
        const entry = this.columns[j]![i]!;
        total.addProduct(-entry, x.high).low -= entry * x.low;
        const tail = this.tails[j];
        if (tail) total.addProduct(-tail[i]!, x.high);
      }
      out[i] = total.value();
    }
    return out;
  }

  /** -A^T r. */
  private skew(): Float64Array {
    return Float64Array.from(this.columns, (column, j) => {
      const total = new LongSum();
      const tail = this.tails[j];
      for (let i = 0; i < column.length; i++) {
        total.addProduct(-column[i]!, this.high[i]!).low -= column[i]! * this.low[i]!;
        if (tail) total.low -= tail[i]! * this.high[i]!;
      }
      return total.value();
    });
  }

  /** Solves dr + A dx = f, A^T dr = g and adds dx, dr. Returns the largest relative change of a coefficient. */
  private correct(f: Float64Array, g: Float64Array): number {
    const h = this.factors.solveLower(g);
    this.factors.multiplyTransposed(f);
    const top = new Float64Array(h.length);
    for (let k = 0; k < h.length; k++) {
      top[k] = f[k]! - h[k]!;
      f[k] = h[k]!;
    }
    this.factors.multiply(f);
    for (let i = 0; i < f.length; i++) this.addResidual(i, f[i]!);
    const dx = this.factors.solveUpper(top);
    let change = 0;
    for (let j = 0; j < dx.length; j++) {
      this.x[j]!.add(dx[j]!);
      const size = Math.abs(this.x[j]!.value());
      if (dx[j] !== 0) change = Math.max(change, Math.abs(dx[j]!) / (size > 0 ? size : Math.abs(dx[j]!)));
    }
    return change;
  }

  private addResidual(i: number, value: number): void {
    const sum = new LongSum();
    sum.add(this.high[i]!).add(this.low[i]!).add(value);
    this.high[i] = sum.value();
    this.low[i] = sum.high - this.high[i]! + sum.low;
  }
}
