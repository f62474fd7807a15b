import type { Points3 } from "../points.ts";
import { basis, dot, subtract, type Vec3 } from "../vector.ts";
import { type Axis, axisFamily, moveAxis } from "./axisDescent.ts";
import type { Descent } from "./descend.ts";
import { invert } from "./invert.ts";
import { type AffineFamily, extremes } from "./minimax.ts";
import { normaliseSupports, type Support } from "./support.ts";

const SIZE = 4;

/**
 * Finishes the search for a smallest circumscribed cylinder. Fewer than five points may hold it, as two opposite points hold a
 * circle; then the bend of the radii, not a further point, fixes the axis, and linear steps creep. Here each step minimises the
 * largest of the linearised radii plus the bend of the points that hold (sequential quadratic programming), damped until the
 * true radius falls. Never worse than `found`.
 */
export function settleAxis(points: Points3, size: number, found: Descent<Axis>): Descent<Axis> {
  let best = found;
  let damping = 1e-9;
  for (let round = 0; round < 60 && damping < 1e6; round++) {
    const family = scaled(axisFamily(points, best.position, 1), size);
    const bend = bendOf(points, size, best);
    for (let j = 0; j < SIZE; j++) bend[j * SIZE + j]! += damping / size;
    const inverse = invertPositive(bend);
    const model = inverse ? bentMinimax(family, inverse) : null;
    if (!model) {
      damping *= 10;
      continue;
    }
    const gain = best.value - model.promised;
    const position = moveAxis(best.position, [
      model.step[0]!,
      model.step[1]!,
      model.step[2]! / size,
      model.step[3]! / size,
    ]);
    const value = extremes(axisFamily(points, position, 1), new Float64Array(SIZE)).largest;
    if (!(gain > 8 * Number.EPSILON * size))
      return { ...best, upper: model.held, gain: Math.max(0, gain), limited: false };
    if (value < best.value - 0.1 * gain) {
      best = { ...best, position, value, upper: model.held, gain };
      damping = Math.max(1e-12, damping / 10);
    } else damping *= 10;
  }
  return best;
}

function scaled(family: AffineFamily, size: number): AffineFamily {
  const gradients = family.gradients.map((value, k) => (k % SIZE < 2 ? value : value / size));
  return { ...family, gradients };
}

/** Weighted second derivatives of the radii of the points that hold, by shift and (scaled) tilt. */
function bendOf(points: Points3, size: number, { position, upper }: Descent<Axis>): Float64Array {
  const { u, v, w } = basis(position.direction);
  const bend = new Float64Array(SIZE * SIZE);
  for (const { index, weight } of upper) {
    const at: Vec3 = [points.x[index]!, points.y[index]!, points.z[index]!];
    const arm = subtract(at, position.place);
    const [p, q, height] = [dot(arm, u), dot(arm, v), dot(arm, w) / size];
    const radius = Math.hypot(p, q);
    if (radius === 0) continue;
    const across = [-q / radius, p / radius, (-height * q) / radius, (height * p) / radius];
    const inward = [0, 0, p / size, q / size];
    for (let j = 0; j < SIZE; j++) {
      for (let k = 0; k < SIZE; k++) {
        bend[j * SIZE + k]! += (weight * (across[j]! * across[k]! - inward[j]! * inward[k]!)) / radius;
      }
    }
  }
  return bend;
}

/** Inverse of a symmetric matrix, or null unless it is positive definite. */
function invertPositive(matrix: Float64Array): Float64Array | null {
  const lower = new Float64Array(SIZE * SIZE);
  for (let j = 0; j < SIZE; j++) {
    for (let k = 0; k <= j; k++) {
      let rest = matrix[j * SIZE + k]!;
      for (let m = 0; m < k; m++) rest -= lower[j * SIZE + m]! * lower[k * SIZE + m]!;
      if (j === k && !(rest > 0)) return null;
      lower[j * SIZE + k] = j === k ? Math.sqrt(rest) : rest / lower[k * SIZE + k]!;
    }
  }
  const inverse = new Float64Array(SIZE * SIZE);
  return invert(matrix.slice(), inverse, SIZE) ? inverse : null;
}

/** Least of (largest affine function + half step . bend . step), by exchange over all points. */
function bentMinimax(family: AffineFamily, inverse: Float64Array) {
  const first = extremes(family, new Float64Array(SIZE));
  const working = [first.top];
  for (let round = 0; round < 60; round++) {
    const weights = simplexQuadratic(family, inverse, working, first.largest);
    if (!weights) return null;
    const pull = new Float64Array(SIZE);
    working.forEach((i, k) => {
      for (let j = 0; j < SIZE; j++) pull[j]! += weights[k]! * family.gradients[i * SIZE + j]!;
    });
    const step = new Float64Array(SIZE);
    let bent = 0;
    for (let j = 0; j < SIZE; j++) {
      for (let k = 0; k < SIZE; k++) step[j]! -= inverse[j * SIZE + k]! * pull[k]!;
      bent -= 0.5 * step[j]! * pull[j]!;
    }
    const worst = extremes(family, step);
    if (working.includes(worst.top)) {
      const held: Support[] = working.map((index, k) => ({ index, weight: weights[k]! }));
      return { step, promised: worst.largest + bent, held: normaliseSupports(held) };
    }
    working.push(worst.top);
  }
  return null;
}

/**
 * Weights >= 0, sum one, that make weights . values - half |pull|^2 (in the metric of `inverse`) largest: the dual of the bent
 * problem, by adding the point that gains most and dropping those whose weight would turn negative (P. Wolfe 1976).
 */
function simplexQuadratic(
  family: AffineFamily,
  inverse: Float64Array,
  working: readonly number[],
  level: number,
): Float64Array | null {
  const m = working.length;
  const product = new Float64Array(m * m);
  const heights = Float64Array.from(working, (i) => family.values[i]! - level);
  const gradient = (k: number, j: number): number => family.gradients[working[k]! * SIZE + j]!;
  for (let a = 0; a < m; a++) {
    for (let b = 0; b < m; b++) {
      for (let j = 0; j < SIZE; j++) {
        for (let k = 0; k < SIZE; k++)
          product[a * m + b]! += gradient(a, j) * inverse[j * SIZE + k]! * gradient(b, k);
      }
    }
  }
  let weights = new Float64Array(m);
  weights[0] = 1;
  const active = [0];
  for (let round = 0; round < 200; round++) {
    const solved = onFace(product, heights, active, m);
    if (!solved) return null;
    const target = new Float64Array(m);
    active.forEach((k, r) => {
      target[k] = solved.weights[r]!;
    });
    const stop = firstZero(weights, target, active);
    if (stop) {
      weights = weights.map((weight, k) => Math.max(0, weight + stop.part * (target[k]! - weight)));
      weights[stop.at] = 0;
      active.splice(active.indexOf(stop.at), 1);
      continue;
    }
    weights = target;
    const gains = heights.map(
      (height, a) => height - active.reduce((t, b) => t + product[a * m + b]! * weights[b]!, 0),
    );
    let next = -1;
    gains.forEach((gain, a) => {
      if (!active.includes(a) && gain > solved.level + 1e-15 && (next < 0 || gain > gains[next]!)) next = a;
    });
    if (next < 0) return weights;
    active.push(next);
  }
  return weights;
}

/** How far from `from` to `to` the first active weight reaches zero; null when none turns negative. */
function firstZero(from: Float64Array, to: Float64Array, active: readonly number[]) {
  let stop: { at: number; part: number } | null = null;
  for (const k of active) {
    if (!(to[k]! < 0)) continue;
    const part = from[k]! / (from[k]! - to[k]!);
    if (!stop || part < stop.part) stop = { at: k, part };
  }
  return stop;
}

/** Stationary weights (of either sign) of the active points and their common level. */
function onFace(product: Float64Array, heights: Float64Array, active: readonly number[], m: number) {
  const k = active.length + 1;
  const matrix = new Float64Array(k * k);
  let trace = 0;
  for (const a of active) trace += product[a * m + a]!;
  active.forEach((a, r) => {
    active.forEach((b, c) => {
      matrix[r * k + c] = product[a * m + b]!;
    });
    // A trace of stiffness keeps dependent gradients solvable; the surplus point then leaves by its weight.
    matrix[r * k + r]! += 1e-14 * trace;
    matrix[r * k + k - 1] = 1;
    matrix[(k - 1) * k + r] = 1;
  });
  const inverse = new Float64Array(k * k);
  if (!invert(matrix, inverse, k)) return null;
  const solve = (r: number): number =>
    active.reduce((total, a, c) => total + inverse[r * k + c]! * heights[a]!, inverse[r * k + k - 1]!);
  return { weights: active.map((_, r) => solve(r)), level: solve(k - 1) };
}
