import { invert } from "./invert.ts";

/**
 * A small dense linear programme: minimise cost . v subject to rows . v >= bounds and |v_j| <= box_j, with few variables
 * and many rows. `rows` is row-major, one row of `cost.length` numbers for each bound.
 */
export interface LinearProgram {
  readonly cost: Float64Array;
  readonly rows: Float64Array;
  readonly bounds: Float64Array;
  readonly box: Float64Array;
}
/** As many as there are variables: rows by their index, sides of the box as -1 - j (v_j >= -box_j) and -1 - j - size (v_j <= box_j). */
export type Basis = readonly number[];
/** Optimum of a `LinearProgram` with its dual weights: cost = sum of weight x row, all weights >= 0. */
export interface LinearSolution {
  readonly status: "optimal" | "infeasible" | "no-convergence";
  readonly v: Float64Array;
  readonly value: number;
  readonly weights: readonly { readonly row: number; readonly weight: number }[];
  /** Sum of the weights on the box: above zero the box, not the rows, holds the optimum. */
  readonly boxWeight: number;
  /** What holds the optimum. */
  readonly basis: Basis;
  readonly iterations: number;
}

const ROUNDING = 8 * Number.EPSILON;
const MOST_PIVOTS = 600;

class Tableau {
  readonly k: number;
  readonly n: number;
  readonly basis: Int32Array;
  readonly inBasis = new Set<number>();
  readonly inverse: Float64Array;
  readonly v: Float64Array;
  readonly y: Float64Array;
  private readonly work: Float64Array;
  private readonly row: Float64Array;
  private readonly programme: LinearProgram;

  constructor(programme: LinearProgram, begin: Basis | null) {
    this.programme = programme;
    const k = programme.cost.length;
    this.k = k;
    this.n = programme.bounds.length;
    this.basis = new Int32Array(k);
    this.inverse = new Float64Array(k * k);
    this.work = new Float64Array(k * k);
    this.row = new Float64Array(k);
    this.v = new Float64Array(k);
    this.y = new Float64Array(k);
    if (begin !== null && this.take(begin.map((held) => (held < 0 ? this.n - 1 - held : held)))) return;
    // The corner of the box that costs least is dual feasible, so no first phase is needed.
    this.take(Array.from(programme.cost, (cost, j) => (cost >= 0 ? this.n + j : this.n + k + j)));
  }
  /** Begins with this basis; false when it is not dual feasible. */
  private take(basis: readonly number[]): boolean {
    this.basis.set(basis);
    this.inBasis.clear();
    for (const index of basis) this.inBasis.add(index);
    return this.refresh() && this.y.every((weight) => weight >= -1e-12);
  }
  /** Row `index` (a given row or a side of the box) into `row`; returns its bound. */
  private load(index: number, row: Float64Array): number {
    const { k, n } = this;
    if (index < n) {
      for (let j = 0; j < k; j++) row[j] = this.programme.rows[index * k + j]!;
      return this.programme.bounds[index]!;
    }
    row.fill(0);
    const j = (index - n) % k;
    row[j] = index < n + k ? 1 : -1;
    return -this.programme.box[j]!;
  }
  /** Point and dual weights of the present basis, from scratch, so that errors never pile up. */
  refresh(): boolean {
    const { k } = this;
    const bounds = new Float64Array(k);
    for (let r = 0; r < k; r++) {
      bounds[r] = this.load(this.basis[r]!, this.row);
      this.work.set(this.row, r * k);
    }
    if (!invert(this.work, this.inverse, k)) return false;
    for (let j = 0; j < k; j++) {
      let total = 0;
      for (let r = 0; r < k; r++) total += this.inverse[j * k + r]! * bounds[r]!;
      this.v[j] = total;
    }
    this.y.set(this.multiply(this.programme.cost));
    return true;
  }
  /** Coefficients w with sum of w_r x basis row r = `target`. */
  private multiply(target: Float64Array): Float64Array {
    const { k } = this;
    const out = new Float64Array(k);
    for (let r = 0; r < k; r++) {
      let total = 0;
      for (let j = 0; j < k; j++) total += this.inverse[j * k + r]! * target[j]!;
      out[r] = total;
    }
    return out;
  }
  /** The row broken most by `v` (with `first`: the first one broken), or -1. */
  entering(first: boolean): number {
    const { k, n, v, inBasis } = this;
    const { rows, bounds, box } = this.programme;
    let worst = -1;
    let most = 0;
    for (let index = 0; index < n + 2 * k; index++) {
      const j = (index - n) % k;
      const bound = index < n ? bounds[index]! : -box[j]!;
      let slack = -bound;
      let size = Math.abs(bound);
      if (index >= n) {
        slack += index < n + k ? v[j]! : -v[j]!;
        size += Math.abs(v[j]!);
      } else {
        for (let i = 0; i < k; i++) {
          const term = rows[index * k + i]! * v[i]!;
          slack += term;
          size += Math.abs(term);
        }
      }
      if (slack < -ROUNDING * size && slack < most && !inBasis.has(index)) {
        worst = index;
        if (first) return worst;
        most = slack;
      }
    }
    return worst;
  }
  /** Place in the basis that `index` takes, or -1 when nothing blocks it. */
  leaving(index: number, lowest: boolean): number {
    this.load(index, this.row);
    const w = this.multiply(this.row);
    let largest = 0;
    for (const value of w) largest = Math.max(largest, Math.abs(value));
    let chosen = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let r = 0; r < this.k; r++) {
      if (!(w[r]! > 1e-11 * largest)) continue;
      const ratio = Math.max(0, this.y[r]!) / w[r]!;
      const tie = Math.abs(ratio - least) <= 1e-14 * (1 + least);
      const better = lowest ? this.basis[r]! < this.basis[chosen]! : w[r]! > w[chosen]!;
      if (chosen < 0 || (tie ? better : ratio < least)) {
        chosen = r;
        least = Math.min(least, ratio);
      }
    }
    return chosen;
  }
  pivot(place: number, index: number): boolean {
    this.inBasis.delete(this.basis[place]!);
    this.inBasis.add(index);
    this.basis[place] = index;
    return this.refresh();
  }
}

/**
 * Solves a small linear programme by the simplex method on its dual (exchange of one supporting row for a broken one),
 * with Bland's rule once exchanges stop paying, so that ties cannot make it circle. Unit-free. `begin`, what held the optimum
 * of a programme with fewer rows or of one near by, saves most exchanges; where it is of no use the corner of the box begins.
 * Throws RangeError when the lengths of the arrays do not fit. Source: G. B. Dantzig 1963; R. G. Bland 1977.
 */
export function solveLinearProgram(programme: LinearProgram, begin: Basis | null = null): LinearSolution {
  const k = programme.cost.length;
  if (programme.rows.length !== programme.bounds.length * k || programme.box.length !== k) {
    throw new RangeError("rows, bounds and box of a linear programme do not fit");
  }
  const tableau = new Tableau(programme, begin);
  let status: LinearSolution["status"] = "no-convergence";
  let iterations = 0;
  for (; iterations < MOST_PIVOTS; iterations++) {
    const careful = iterations > 150;
    const index = tableau.entering(careful);
    if (index < 0) {
      status = "optimal";
      break;
    }
    const place = tableau.leaving(index, careful);
    if (place < 0) {
      status = "infeasible";
      break;
    }
    if (!tableau.pivot(place, index)) break;
  }
  return report(programme, tableau, status, iterations);
}

function report(
  programme: LinearProgram,
  tableau: Tableau,
  status: LinearSolution["status"],
  iterations: number,
): LinearSolution {
  const weights: { row: number; weight: number }[] = [];
  let boxWeight = 0;
  let value = 0;
  for (let r = 0; r < tableau.k; r++) {
    const weight = Math.max(0, tableau.y[r]!);
    if (tableau.basis[r]! >= tableau.n) boxWeight += weight;
    else if (weight > 0) weights.push({ row: tableau.basis[r]!, weight });
  }
  for (let j = 0; j < tableau.k; j++) value += programme.cost[j]! * tableau.v[j]!;
  const basis = Array.from(tableau.basis, (index) => (index < tableau.n ? index : tableau.n - 1 - index));
  return { status, v: tableau.v, value, weights, boxWeight, basis, iterations };
}
