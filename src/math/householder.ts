import { Matrix, SingularValueDecomposition } from "ml-matrix";

/** A = Q R of a tall matrix, with its columns scaled to length one and taken in the order of what they add. */
export interface QrFactors {
  readonly rows: number;
  readonly columns: number;
  /** Columns that add something beyond rounding. */
  readonly rank: number;
  /** Largest over smallest singular value of the matrix with columns of length one. */
  condition(): number;
  /** Replaces `b` by Q^T b. */
  multiplyTransposed(b: Float64Array): void;
  /** Replaces `b` by Q b. */
  multiply(b: Float64Array): void;
  /** The x that solves R x = top, in the units and order of the caller. */
  solveUpper(top: Float64Array): Float64Array;
  /** The h that solves R^T h = g, in the order of Q. */
  solveLower(g: Float64Array): Float64Array;
  /** R by columns, in the units and order of the caller: |R d| = |A d| for every d. */
  upper(): Float64Array[];
  /** (A^T A)^-1 by rows. */
  inverseNormal(): number[][];
}

/**
 * Householder QR of the matrix with these columns (not changed). Scaling makes rank and condition independent of
 * the units of the columns. `height` is the number of rows that these stand for, if not their own: rounding in so many
 * tells which columns add nothing. Throws RangeError with more columns than rows or columns of unequal length.
 * Source: G. H. Golub, C. F. Van Loan, "Matrix Computations", 5.2 and 5.4 (column pivoting).
 */
export function householderQr(columns: readonly Float64Array[], height?: number): QrFactors {
  const rows = columns[0]?.length ?? 0;
  if (columns.length === 0 || rows < columns.length || columns.some((c) => c.length !== rows))
    throw new RangeError("the matrix must have columns of one length and no fewer rows than columns");
  const scales = Float64Array.from(columns, euclideanNorm);
  const work = columns.map((column, j) => scaled(column, scales[j]!));
  const order = columns.map((_, j) => j);
  const diagonal = new Float64Array(columns.length);
  const norms = Float64Array.from(work, (column) => squaredNormFrom(column, 0));
  for (let k = 0; k < columns.length; k++) {
    bringLargestToFront(work, order, norms, k);
    diagonal[k] = reflect(work, k);
    for (let j = k + 1; j < columns.length; j++) norms[j] = squaredNormFrom(work[j]!, k + 1);
  }
  return new Factors(rows, work, order, scales, diagonal, height ?? rows);
}

/** Length of a column, safe against overflow of squares. */
export function euclideanNorm(column: Float64Array): number {
  let largest = 0;
  for (let i = 0; i < column.length; i++) largest = Math.max(largest, Math.abs(column[i]!));
  if (largest === 0 || !Number.isFinite(largest)) return largest;
  let total = 0;
  for (let i = 0; i < column.length; i++) {
    const part = column[i]! / largest;
    total += part * part;
  }
  return largest * Math.sqrt(total);
}

function scaled(column: Float64Array, size: number): Float64Array {
  const out = column.slice();
  if (size > 0) for (let i = 0; i < out.length; i++) out[i] = out[i]! / size;
  return out;
}

function squaredNormFrom(column: Float64Array, start: number): number {
  let total = 0;
  for (let i = start; i < column.length; i++) total += column[i]! * column[i]!;
  return total;
}

function bringLargestToFront(work: Float64Array[], order: number[], norms: Float64Array, k: number): void {
  let best = k;
  for (let j = k + 1; j < work.length; j++) if (norms[j]! > norms[best]!) best = j;
  if (best === k) return;
  [work[k], work[best]] = [work[best]!, work[k]!];
  [order[k], order[best]] = [order[best]!, order[k]!];
  norms[best] = norms[k]!;
}

/** Makes column k upper triangular, stores the unit reflector below and on the diagonal, returns R_kk. */
function reflect(work: Float64Array[], k: number): number {
  const column = work[k]!;
  const size = Math.sqrt(squaredNormFrom(column, k));
  if (size === 0) return 0;
  const diagonal = column[k]! > 0 ? -size : size;
  column[k] = column[k]! - diagonal;
  const reflector = Math.sqrt(squaredNormFrom(column, k));
  for (let i = k; i < column.length; i++) column[i] = column[i]! / reflector;
  for (let j = k + 1; j < work.length; j++) mirror(column, k, work[j]!);
  return diagonal;
}

/** b - 2 v (v . b), on the rows from k. */
function mirror(reflector: Float64Array, k: number, b: Float64Array): void {
  let share = 0;
  for (let i = k; i < b.length; i++) share += reflector[i]! * b[i]!;
  share *= 2;
  for (let i = k; i < b.length; i++) b[i] = b[i]! - share * reflector[i]!;
}

class Factors implements QrFactors {
  readonly rank: number;
  readonly columns: number;

  constructor(
    readonly rows: number,
    private readonly work: readonly Float64Array[],
    private readonly order: readonly number[],
    private readonly scales: Float64Array,
    private readonly diagonal: Float64Array,
    height: number,
  ) {
    this.columns = work.length;
    const smallest = Math.max(height, 16) * Number.EPSILON * Math.abs(diagonal[0]!);
    this.rank = diagonal.filter((d) => Math.abs(d) > smallest).length;
  }

  private entry(i: number, j: number): number {
    return i === j ? this.diagonal[i]! : i < j ? this.work[j]![i]! : 0;
  }

  condition(): number {
    const p = this.columns;
    const upper = Matrix.zeros(p, p);
    for (let i = 0; i < p; i++) for (let j = i; j < p; j++) upper.set(i, j, this.entry(i, j));
    const values = new SingularValueDecomposition(upper).diagonal;
    return values[0]! / values[p - 1]!;
  }

  multiplyTransposed(b: Float64Array): void {
    for (let k = 0; k < this.columns; k++) if (this.diagonal[k] !== 0) mirror(this.work[k]!, k, b);
  }

  multiply(b: Float64Array): void {
    for (let k = this.columns - 1; k >= 0; k--) if (this.diagonal[k] !== 0) mirror(this.work[k]!, k, b);
  }

  solveUpper(top: Float64Array): Float64Array {
    const p = this.columns;
    const y = new Float64Array(p);
    for (let i = p - 1; i >= 0; i--) {
      let rest = top[i]!;
      for (let j = i + 1; j < p; j++) rest -= this.entry(i, j) * y[j]!;
      y[i] = rest / this.diagonal[i]!;
    }
    const x = new Float64Array(p);
    for (let k = 0; k < p; k++) x[this.order[k]!] = y[k]! / this.scales[this.order[k]!]!;
    return x;
  }

  solveLower(g: Float64Array): Float64Array {
    const p = this.columns;
    const h = new Float64Array(p);
    for (let i = 0; i < p; i++) {
      let rest = g[this.order[i]!]! / this.scales[this.order[i]!]!;
      for (let j = 0; j < i; j++) rest -= this.entry(j, i) * h[j]!;
      h[i] = rest / this.diagonal[i]!;
    }
    return h;
  }

  upper(): Float64Array[] {
    const out: Float64Array[] = [];
    for (let k = 0; k < this.columns; k++) {
      const column = new Float64Array(this.columns);
      for (let i = 0; i <= k; i++) column[i] = this.entry(i, k) * this.scales[this.order[k]!]!;
      out[this.order[k]!] = column;
    }
    return out;
  }

  inverseNormal(): number[][] {
    const p = this.columns;
    const inverse = Array.from({ length: p }, (_, k) => {
      const unitColumn = new Float64Array(p);
      unitColumn[k] = 1;
      return this.solveUpper(unitColumn);
    });
    const entryOf = (i: number, j: number) =>
      inverse.reduce((total, column) => total + column[i]! * column[j]!, 0);
    return Array.from({ length: p }, (_, i) => Array.from({ length: p }, (_, j) => entryOf(i, j)));
  }
}
