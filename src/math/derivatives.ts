import { euclideanNorm, householderQr, type QrFactors } from "./householder.ts";
import { dotProduct, times } from "./points.ts";
import { allFinite } from "./spread.ts";

/** A sum of squares to be made least. */
export interface NonlinearProblem {
  readonly rows: number;
  /** Writes the residuals at `parameters` into `out`. */
  residuals(parameters: Float64Array, out: Float64Array): void;
  /**
   * Writes the derivatives of the residuals by each parameter: of those from row `from` on, as many as the columns are long.
   * Central differences when absent.
   */
  jacobian?(parameters: Float64Array, columns: readonly Float64Array[], from: number): void;
}

/** The derivatives J and residuals r at some parameters, reduced to as many rows as there are parameters. */
export interface Reduction {
  /** |R d| = |J d| for every d. */
  readonly factors: QrFactors;
  /** Q^T (-r), as far as a step can change it. */
  readonly top: Float64Array;
  /** Of the columns of J. */
  readonly lengths: Float64Array;
  /** J^T r. */
  readonly gradient: Float64Array;
}

/** Rows that are reduced at once, few enough to stay near the processor. So many are reduced as a whole. */
const BLOCK = 4096;

/** Takes J and r at parameters and reduces them by orthogonal transformations. Of many rows J is never in memory as a whole. */
export class Derivatives {
  readonly #problem: NonlinearProblem;
  readonly #columns: readonly Float64Array[];

  constructor(problem: NonlinearProblem, parameterCount: number) {
    this.#problem = problem;
    const length = problem.jacobian ? Math.min(problem.rows, BLOCK) : problem.rows;
    this.#columns = Array.from({ length: parameterCount }, () => new Float64Array(length));
  }

  /** Null when a derivative is not finite. `scales` are the sizes of the parameters, `residuals` those at them. */
  reduce(parameters: Float64Array, scales: Float64Array, residuals: Float64Array): Reduction | null {
    const problem = this.#problem;
    const columns = this.#columns;
    if (problem.jacobian && problem.rows > BLOCK) return this.#byBlocks(parameters, residuals);
    if (problem.jacobian) problem.jacobian(parameters, columns, 0);
    else differences(problem, parameters, scales, columns);
    if (!columns.every(allFinite)) return null;
    const factors = householderQr(columns);
    const b = times(residuals, -1);
    factors.multiplyTransposed(b);
    return {
      factors,
      top: b.slice(0, columns.length),
      lengths: Float64Array.from(columns, euclideanNorm),
      gradient: Float64Array.from(columns, (column) => dotProduct(column, residuals)),
    };
  }

  /** The same to rounding: each block of rows is put below what the ones before left, and reduced with it. */
  #byBlocks(parameters: Float64Array, residuals: Float64Array): Reduction | null {
    const count = parameters.length;
    // Columns of R and, last, Q^T (-r).
    const upper = Array.from({ length: count + 1 }, () => new Float64Array(count));
    for (let from = 0; from < residuals.length; from += BLOCK) {
      const part = residuals.subarray(from, from + BLOCK);
      const block = this.#columns.map((column) => column.subarray(0, part.length));
      this.#problem.jacobian?.(parameters, block, from);
      reduceBelow(upper, [...block, times(part, -1)]);
    }
    const columns = upper.slice(0, count);
    if (!columns.every(allFinite)) return null;
    const top = upper[count]!;
    const lengths = Float64Array.from(columns, euclideanNorm);
    const gradient = Float64Array.from(columns, (column) => -dotProduct(column, top));
    const factors = householderQr(columns, residuals.length);
    factors.multiplyTransposed(top);
    return { factors, top, lengths, gradient };
  }
}

/**
 * Householder reflections that make zero of the rows `below` (changed) an upper triangular matrix, by columns; both have
 * one column more than that has rows. Source: G. H. Golub, C. F. Van Loan, "Matrix Computations", 5.1.
 */
function reduceBelow(upper: readonly Float64Array[], below: readonly Float64Array[]): void {
  for (let k = 0; k < upper.length - 1; k++) {
    const column = below[k]!;
    const squares = quickDot(column, column);
    if (squares === 0) continue;
    const held = upper[k]![k]!;
    const size = Math.sqrt(held * held + squares);
    const diagonal = held > 0 ? -size : size;
    const head = held - diagonal;
    const half = (head * head + squares) / 2;
    upper[k]![k] = diagonal;
    for (let j = k + 1; j < upper.length; j++) {
      const other = below[j]!;
      const share = (head * upper[j]![k]! + quickDot(column, other)) / half;
      upper[j]![k] = upper[j]![k]! - share * head;
      for (let i = 0; i < other.length; i++) other[i] = other[i]! - share * column[i]!;
    }
  }
}

/** In four sums that do not wait for each other. */
function quickDot(a: Float64Array, b: Float64Array): number {
  let [one, two, three, four] = [0, 0, 0, 0];
  let i = 0;
  for (; i + 3 < a.length; i += 4) {
    one += a[i]! * b[i]!;
    two += a[i + 1]! * b[i + 1]!;
    three += a[i + 2]! * b[i + 2]!;
    four += a[i + 3]! * b[i + 3]!;
  }
  for (; i < a.length; i++) one += a[i]! * b[i]!;
  return one + two + (three + four);
}

/** Central differences with the step that balances rounding against curvature. */
function differences(
  problem: NonlinearProblem,
  parameters: Float64Array,
  scales: Float64Array,
  columns: readonly Float64Array[],
): void {
  const behind = new Float64Array(problem.rows);
  columns.forEach((column, j) => {
    const h = Math.cbrt(Number.EPSILON) * scales[j]!;
    const [plus, minus] = [parameters.slice(), parameters.slice()];
    plus[j] = plus[j]! + h;
    minus[j] = minus[j]! - h;
    problem.residuals(plus, column);
    problem.residuals(minus, behind);
    const width = plus[j]! - minus[j]!;
    for (let i = 0; i < column.length; i++) column[i] = (column[i]! - behind[i]!) / width;
  });
}
