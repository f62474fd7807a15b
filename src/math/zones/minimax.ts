import { type Basis, solveLinearProgram } from "./lp.ts";
import { normaliseSupports, type Support } from "./support.ts";

/** `range`: largest minus smallest; `max`: largest only. */
export type Sides = "range" | "max";
/** Affine functions values[i] + gradients[i] . step, one for each point; `gradients` row-major with `size` columns. */
export interface AffineFamily {
  readonly values: Float64Array;
  readonly gradients: Float64Array;
  readonly size: number;
}
/** The best step with the value promised there, and the points that hold it with their dual weights. */
export interface MinimaxStep {
  readonly step: Float64Array;
  readonly promised: number;
  readonly upper: readonly Support[];
  readonly lower: readonly Support[];
  /** True when the limit on the step, not the points, holds the optimum. */
  readonly limited: boolean;
  /** A good beginning for a family near by. */
  readonly begin: Beginning;
}
/** Points that were looked at, and what held the optimum: points on their side, and sides of the limits. */
interface Beginning {
  readonly looked: readonly number[];
  readonly held: readonly (Held | number)[];
}
interface Held {
  readonly index: number;
  /** 1: the point bounds from above, -1: from below. */
  readonly sign: 1 | -1;
}

/** Largest and smallest value of the family after `step`, and who has them. */
export function extremes(family: AffineFamily, step: Float64Array) {
  const { values, gradients, size } = family;
  let [top, bottom] = [-1, -1];
  let [largest, smallest] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let i = 0; i < values.length; i++) {
    let value = values[i]!;
    for (let j = 0; j < size; j++) value += gradients[i * size + j]! * step[j]!;
    if (value > largest) {
      largest = value;
      top = i;
    }
    if (value < smallest) {
      smallest = value;
      bottom = i;
    }
  }
  return { top, bottom, largest, smallest };
}

function columnScales(family: AffineFamily): Float64Array {
  const scales = new Float64Array(family.size);
  for (let i = 0; i < family.gradients.length; i++) {
    const j = i % family.size;
    scales[j] = Math.max(scales[j]!, Math.abs(family.gradients[i]!));
  }
  return scales.map((scale) => (scale > 0 ? scale : 1));
}

/** Points to begin with: those far out in each direction, so that the first small programme is well posed. */
function firstPoints(family: AffineFamily): Set<number> {
  const { size, gradients, values } = family;
  const start = extremes(family, new Float64Array(size));
  const chosen = new Set([start.top, start.bottom]);
  for (let j = 0; j < size; j++) {
    let [low, high] = [0, 0];
    for (let i = 0; i < values.length; i++) {
      if (gradients[i * size + j]! < gradients[low * size + j]!) low = i;
      if (gradients[i * size + j]! > gradients[high * size + j]!) high = i;
    }
    chosen.add(low).add(high);
  }
  return chosen;
}

/** The points of the small programme on their sides, in the order of its rows. */
class Working {
  readonly rows: Held[] = [];
  private readonly places = new Map<number, number>();
  has(index: number, sign: Held["sign"]): boolean {
    return this.places.has(sign * (index + 1));
  }
  add(index: number, sign: Held["sign"]): void {
    if (this.has(index, sign)) return;
    this.places.set(sign * (index + 1), this.rows.length);
    this.rows.push({ index, sign });
  }
  /** The rows that hold this, or null where one of them is not here. */
  basisOf(held: Beginning["held"]): Basis | null {
    const basis = held.map((one) =>
      typeof one === "number" ? one : this.places.get(one.sign * (one.index + 1)),
    );
    return basis.every((row) => row !== undefined) ? basis : null;
  }
}

/** The linear programme over the working points; variables are the scaled step, then the upper and lower bound. */
function smallProgramme(
  family: AffineFamily,
  working: Working,
  frame: { scales: Float64Array; limits: Float64Array; middle: number; reach: number; sides: Sides },
) {
  const { size, values, gradients } = family;
  const k = size + (frame.sides === "range" ? 2 : 1);
  const rows = new Float64Array(working.rows.length * k);
  const bounds = new Float64Array(working.rows.length);
  working.rows.forEach(({ index, sign }, r) => {
    for (let j = 0; j < size; j++)
      rows[r * k + j] = (-sign * gradients[index * size + j]!) / frame.scales[j]!;
    rows[r * k + (sign > 0 ? size : size + 1)] = sign;
    bounds[r] = sign * (values[index]! - frame.middle);
  });
  const cost = new Float64Array(k);
  cost[size] = 1;
  if (frame.sides === "range") cost[size + 1] = -1;
  const box = new Float64Array(k).fill(frame.reach);
  for (let j = 0; j < size; j++) box[j] = frame.limits[j]! * frame.scales[j]!;
  return { cost, rows, bounds, box };
}

/**
 * Step within +-limits (one for each column) that makes the range (or the largest value) of a family of affine functions
 * least. Exact by exchange: a small linear programme over few points, the worst of all points added until none is worse.
 * Weights sum to one on each side and balance the gradients; they are the derivatives of the value.
 * Source: one-sided and two-sided Chebyshev approximation by exchange, E. W. Cheney 1966.
 */
export function minimax(
  family: AffineFamily,
  limits: Float64Array,
  sides: Sides,
  begin: Beginning = { looked: [], held: [] },
): MinimaxStep {
  const { size } = family;
  const first = extremes(family, new Float64Array(size));
  const middle = (first.largest + first.smallest) / 2;
  const scales = columnScales(family);
  let reach = first.largest - first.smallest;
  for (let j = 0; j < size; j++) reach += 2 * limits[j]! * scales[j]!;
  const frame = { scales, limits, middle, reach: reach > 0 ? reach : 1, sides };
  const working = new Working();
  for (const index of [...firstPoints(family), ...begin.looked]) {
    working.add(index, 1);
    if (sides === "range") working.add(index, -1);
  }
  let basis = begin.held.length > 0 ? working.basisOf(begin.held) : null;
  for (let round = 0; ; round++) {
    const solution = solveLinearProgram(smallProgramme(family, working, frame), basis);
    const step = new Float64Array(size);
    for (let j = 0; j < size; j++) step[j] = solution.v[j]! / scales[j]!;
    const worst = extremes(family, step);
    const known = working.has(worst.top, 1) && (sides === "max" || working.has(worst.bottom, -1));
    if (known || round >= 200) {
      return {
        step,
        promised: solution.value + (sides === "max" ? middle : 0),
        ...sideWeights(solution.weights, working),
        limited: solution.boxWeight > 1e-12,
        begin: {
          looked: [...new Set(working.rows.map(({ index }) => index))],
          held: solution.basis.map((row) => (row < 0 ? row : working.rows[row]!)),
        },
      };
    }
    basis = solution.basis;
    working.add(worst.top, 1);
    if (sides === "range") working.add(worst.bottom, -1);
  }
}

function sideWeights(weights: readonly { row: number; weight: number }[], working: Working) {
  const side = (wanted: Held["sign"]): Support[] =>
    normaliseSupports(
      weights.flatMap(({ row, weight }) => {
        const { index, sign } = working.rows[row]!;
        return sign === wanted ? [{ index, weight }] : [];
      }),
    );
  return { upper: side(1), lower: side(-1) };
}
