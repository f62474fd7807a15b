import { invert } from "./invert.ts";
import { type AffineFamily, extremes, type Sides } from "./minimax.ts";
import { normaliseSupports, type Support } from "./support.ts";

/** A point on one side: +1 counts its value as it is (upper), -1 reversed (lower). */
interface Entry {
  readonly index: number;
  readonly sign: 1 | -1;
}
/** The entries in play with their pairwise products in the metric of the bend. */
interface Dual {
  readonly entries: readonly Entry[];
  readonly product: Float64Array;
  readonly heights: Float64Array;
}

/**
 * Step that makes (range or largest of the affine functions) + half step . bend . step least, given the inverse of a positive
 * definite bend; by exchange over all points, the small problems solved in their weights. Null when that fails.
 */
export function bentMinimax(family: AffineFamily, inverse: Float64Array, sides: Sides) {
  const { size } = family;
  const first = extremes(family, new Float64Array(size));
  const entries: Entry[] = [{ index: first.top, sign: 1 }];
  if (sides === "range") entries.push({ index: first.bottom, sign: -1 });
  const has = (index: number, sign: number): boolean =>
    entries.some((e) => e.index === index && e.sign === sign);
  for (let round = 0; round < 80; round++) {
    const weights = balance(dualOf(family, inverse, entries, first), sides);
    if (!weights) return null;
    const { step, bent } = stepOf(family, inverse, entries, weights);
    const worst = extremes(family, step);
    const knownTop = has(worst.top, 1);
    const knownBottom = sides === "max" || has(worst.bottom, -1);
    if (knownTop && knownBottom) {
      const side = (sign: number): Support[] =>
        normaliseSupports(
          entries.flatMap((e, k) => (e.sign === sign ? [{ index: e.index, weight: weights[k]! }] : [])),
        );
      const spread = sides === "range" ? worst.largest - worst.smallest : worst.largest;
      return { step, promised: spread + bent, upper: side(1), lower: side(-1) };
    }
    if (!knownTop) entries.push({ index: worst.top, sign: 1 });
    if (!knownBottom) entries.push({ index: worst.bottom, sign: -1 });
  }
  return null;
}

function dualOf(
  { gradients, values, size }: AffineFamily,
  inverse: Float64Array,
  entries: readonly Entry[],
  level: { largest: number; smallest: number },
): Dual {
  const m = entries.length;
  const product = new Float64Array(m * m);
  entries.forEach((a, r) => {
    entries.forEach((b, c) => {
      let total = 0;
      for (let j = 0; j < size; j++) {
        for (let k = 0; k < size; k++) {
          total += gradients[a.index * size + j]! * inverse[j * size + k]! * gradients[b.index * size + k]!;
        }
      }
      product[r * m + c] = a.sign * b.sign * total;
    });
  });
  const heights = Float64Array.from(entries, ({ index, sign }) =>
    sign > 0 ? values[index]! - level.largest : level.smallest - values[index]!,
  );
  return { entries, product, heights };
}

function stepOf(
  { gradients, size }: AffineFamily,
  inverse: Float64Array,
  entries: readonly Entry[],
  weights: Float64Array,
) {
  const pull = new Float64Array(size);
  entries.forEach(({ index, sign }, k) => {
    for (let j = 0; j < size; j++) pull[j]! += sign * weights[k]! * gradients[index * size + j]!;
  });
  const step = new Float64Array(size);
  let bent = 0;
  for (let j = 0; j < size; j++) {
    for (let k = 0; k < size; k++) step[j]! -= inverse[j * size + k]! * pull[k]!;
    bent -= 0.5 * step[j]! * pull[j]!;
  }
  return { step, bent };
}

/**
 * Weights >= 0, summing to one on each side, that make weights . heights - half |pull|^2 largest: the dual of the bent problem.
 * Adds the entry that gains most and drops those whose weight would turn negative (after P. Wolfe 1976).
 */
function balance(dual: Dual, sides: Sides): Float64Array | null {
  const { entries, product, heights } = dual;
  const m = entries.length;
  let weights = new Float64Array(m);
  const active = sides === "range" ? [0, 1] : [0];
  for (const k of active) weights[k] = 1;
  for (let round = 0; round < 300; round++) {
    const solved = onFace(dual, active, sides);
    if (!solved) return null;
    const stop = firstZero(weights, solved.target, active);
    if (stop) {
      const { target } = solved;
      weights = weights.map((weight, k) => Math.max(0, weight + stop.part * (target[k]! - weight)));
      weights[stop.at] = 0;
      active.splice(active.indexOf(stop.at), 1);
      continue;
    }
    weights = solved.target;
    let [next, most] = [-1, 1e-15];
    heights.forEach((height, a) => {
      if (active.includes(a)) return;
      let gain = height - (entries[a]!.sign > 0 ? solved.upperLevel : solved.lowerLevel);
      for (const b of active) gain -= product[a * m + b]! * weights[b]!;
      if (gain > most) [next, most] = [a, gain];
    });
    if (next < 0) return weights;
    active.push(next);
  }
  return weights;
}

/** The active weight that reaches zero first on the way, and at which part of the way; null when none does. */
function firstZero(from: Float64Array, to: Float64Array, active: readonly number[]) {
  let stop: { at: number; part: number } | null = null;
  for (const k of active) {
    if (!(to[k]! < 0)) continue;
    const part = from[k]! / (from[k]! - to[k]!);
    if (!stop || part < stop.part) stop = { at: k, part };
  }
  return stop;
}

/** Stationary weights (of either sign) of the active entries, and the common level of each side. */
function onFace({ entries, product, heights }: Dual, active: readonly number[], sides: Sides) {
  const m = entries.length;
  const count = active.length;
  const k = count + (sides === "range" ? 2 : 1);
  const matrix = new Float64Array(k * k);
  const right = new Float64Array(k).fill(1, count);
  let trace = 0;
  for (const a of active) trace += product[a * m + a]!;
  active.forEach((a, r) => {
    active.forEach((b, c) => {
      matrix[r * k + c] = product[a * m + b]!;
    });
    // A trace of stiffness keeps dependent gradients solvable; the surplus entry then leaves by its weight.
    matrix[r * k + r]! += 1e-14 * trace;
    const level = entries[a]!.sign > 0 ? count : count + 1;
    matrix[r * k + level] = 1;
    matrix[level * k + r] = 1;
    right[r] = heights[a]!;
  });
  const inverse = new Float64Array(k * k);
  if (!invert(matrix, inverse, k)) return null;
  const solve = (r: number): number =>
    right.reduce((total, value, c) => total + inverse[r * k + c]! * value, 0);
  const target = new Float64Array(m);
  active.forEach((a, r) => {
    target[a] = solve(r);
  });
  return { target, upperLevel: solve(count), lowerLevel: sides === "range" ? solve(count + 1) : 0 };
}
