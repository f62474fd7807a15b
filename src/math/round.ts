import type { NonlinearProblem } from "./derivatives.ts";
import { leastSquares } from "./leastSquares.ts";
import { levenbergMarquardt, type NonlinearFit } from "./levenbergMarquardt.ts";
import { type NoResult, noResult, type Outcome } from "./outcome.ts";
import { someOf } from "./someOf.ts";
import { centeredColumns, momentsOf, principal } from "./spread.ts";

/**
 * Shared by circle and sphere: the centre and radius in as many dimensions as there are columns. The columns are
 * centred and scaled to an extent of about one; parameters are the centre's coordinates and the radius.
 */

/** Beyond this many extents a radius says only that the points lie on something straight. */
export const LARGEST_RADIUS = 1e4;
/** Of more points than these the starts are worked out from some. */
const MANY = 20_000;
const SCOUTS = 5000;
/** Beyond this condition the last digits of a probe decide everything. */
export const LARGEST_CONDITION = 1e7;

/** Residuals |p - center| - radius: positive outside. */
export function roundProblem(columns: readonly Float64Array[]): NonlinearProblem {
  const size = columns.length;
  const rows = columns[0]!.length;
  return {
    rows,
    residuals(parameters, out) {
      const radius = parameters[size]!;
      writeDistances(columns, parameters, 0, out);
      for (let i = 0; i < rows; i++) out[i] = out[i]! - radius;
    },
    jacobian(parameters, out, from) {
      const far = out[size]!;
      writeDistances(columns, parameters, from, far);
      for (let j = 0; j < size; j++) {
        const column = columns[j]!;
        const by = out[j]!;
        const center = parameters[j]!;
        for (let i = 0; i < by.length; i++) by[i] = far[i]! > 0 ? (center - column[from + i]!) / far[i]! : 0;
      }
      far.fill(-1);
    },
  };
}

/** Distances from the centre of the points from number `from` on, as many as `out` is long. */
function writeDistances(
  columns: readonly Float64Array[],
  center: Float64Array,
  from: number,
  out: Float64Array,
): void {
  out.fill(0);
  for (let j = 0; j < columns.length; j++) {
    const column = columns[j]!;
    const middle = center[j]!;
    for (let i = 0; i < out.length; i++) {
      const part = column[from + i]! - middle;
      out[i] = out[i]! + part * part;
    }
  }
  for (let i = 0; i < out.length; i++) out[i] = Math.sqrt(out[i]!);
}

/** Orthogonal distance fit of the round that beats the straight thing (line, plane) with squares `flatSquares`. */
export function fitRound(columns: readonly Float64Array[], flatSquares: number): Outcome<NonlinearFit> {
  const problem = roundProblem(columns);
  const some = columns[0]!.length > MANY ? someOf(columns, SCOUTS) : columns;
  const starts = [linearStart(some), momentStart(some)].filter((start) => start !== null);
  const ranked = starts
    .map((start) => ({ start, squares: squaresAt(problem, start) }))
    .filter(({ squares }) => Number.isFinite(squares))
    .sort((a, b) => a.squares - b.squares);
  let outcome: Outcome<NonlinearFit> = straight();
  for (const { start } of ranked) {
    outcome = accept(
      levenbergMarquardt(problem, start, { scales: start.map(() => 1) }),
      columns,
      flatSquares,
    );
    if (outcome.ok) return outcome;
  }
  return outcome;
}

const straight = (): NoResult =>
  noResult(
    "no-convergence",
    "The points follow something straight better than any round: there is no radius.",
  );

function accept(
  fit: Outcome<NonlinearFit>,
  columns: readonly Float64Array[],
  flatSquares: number,
): Outcome<NonlinearFit> {
  if (!fit.ok) return fit;
  const radius = fit.parameters[columns.length]!;
  const rounding = 1e-28 * columns[0]!.length;
  if (!(Math.abs(radius) <= LARGEST_RADIUS)) return straight();
  if (fit.sumOfSquares > rounding && fit.sumOfSquares >= flatSquares * (1 - 1e-9)) return straight();
  if (radius <= 0) return noResult("no-convergence", "The fit ran into a radius of nothing.");
  // Columns of J have one unit, and scaling them one by one would make the figure depend on the frame.
  const condition = plainCondition(fit);
  if (condition > LARGEST_CONDITION)
    return noResult("degenerate-points", "The points hardly determine the round: the arc is too short.");
  return { ...fit, condition };
}

/** Sum of squares at the parameters. */
export function squaresAt(problem: NonlinearProblem, parameters: ArrayLike<number>): number {
  const out = new Float64Array(problem.rows);
  problem.residuals(Float64Array.from(parameters), out);
  return out.reduce((total, r) => total + r * r, 0);
}

/** Start from |p|^2 = 2 p.c + k, linear in the centre c: exact for exact points, small for noisy short arcs. */
function linearStart(columns: readonly Float64Array[]): number[] | null {
  const rows = columns[0]!.length;
  const squares = new Float64Array(rows);
  for (const column of columns) for (let i = 0; i < rows; i++) squares[i] = squares[i]! + column[i]! ** 2;
  const solved = leastSquares([...columns, new Float64Array(rows).fill(1)], squares, { refine: false });
  if (!solved.ok) return null;
  const center = columns.map((_, j) => solved.coefficients[j]! / 2);
  const k = solved.coefficients[columns.length]!;
  return [...center, Math.sqrt(k + center.reduce((total, c) => total + c * c, 0))];
}

/** Start with hardly any bias on short arcs. Source: G. Taubin (1991), IEEE Trans. PAMI 13, 1115-1138. */
export function momentStart(columns: readonly Float64Array[]): number[] | null {
  const rows = columns[0]!.length;
  const size = columns.length;
  const { mean, parts } = centeredColumns(columns);
  const squares = new Float64Array(rows);
  for (const part of parts) for (let i = 0; i < rows; i++) squares[i] = squares[i]! + part[i]! ** 2;
  const meanSquare = squares.reduce((total, s) => total + s, 0) / rows;
  const spread = 2 * Math.sqrt(meanSquare);
  if (!(spread > 0)) return null;
  const { axes } = principal(momentsOf([squares.map((s) => (s - meanSquare) / spread), ...parts]), size + 1);
  const [quadratic = 0, ...linear] = axes[size]!;
  const a = quadratic / spread;
  if (!(Math.abs(a) > 0)) return null;
  const center = linear.map((b) => -b / (2 * a));
  const radiusSquared = center.reduce((total, c) => total + c * c, 0) + meanSquare;
  return [...center.map((c, j) => c + mean[j]!), Math.sqrt(radiusSquared)];
}

/** Condition of the derivatives as they stand, without scaling each column to length one. */
export function plainCondition({ upper, parameters }: NonlinearFit): number {
  const { squares } = principal(momentsOf(upper), parameters.length);
  return Math.sqrt(squares[0]! / squares[squares.length - 1]!);
}
