import type { Points3 } from "../points.ts";
import { basis, dot, subtract, type Vec3 } from "../vector.ts";
import { type Axis, axisFamily, moveAxis } from "./axisDescent.ts";
import { bentMinimax } from "./bentMinimax.ts";
import { certify } from "./certify.ts";
import type { Descent } from "./descend.ts";
import { invertPositive } from "./invert.ts";
import { type AffineFamily, extremes, type Sides } from "./minimax.ts";

const SIZE = 4;

/**
 * Finishes the search for a cylinder. Fewer points than pin an axis may hold it, as two opposite points hold a circle; then
 * the bend of the radii, not a further point, fixes the axis, and linear steps creep. Here each step minimises the
 * linearised value plus the bend of the points that hold (sequential quadratic programming), damped until the true value
 * falls. Never worse than `found`. `sign` is -1 where the values are negative radii.
 */
export function settleAxis(
  points: Points3,
  size: number,
  found: Descent<Axis>,
  way: { readonly sides: Sides; readonly sign: 1 | -1 },
): Descent<Axis> {
  const rounding = 8 * Number.EPSILON * size;
  let best = found;
  let damping = 1e-9;
  let last = 0;
  for (let round = 0; round < 80 && damping < 1e6; round++) {
    const raw = axisFamily(points, best.position, way.sign);
    const family = scaled(raw, size);
    const held = certify(raw, way.sides, 1e-11 * size);
    if (held && best.gain <= rounding) return { ...best, ...held, limited: false, certified: true };
    const inverse = positiveBend(points, size, best, { family, sign: way.sign, damping });
    const model = inverse ? bentMinimax(family, inverse, way.sides) : null;
    if (!model) {
      damping *= 10;
      continue;
    }
    const { step, upper, lower } = model;
    const gain = Math.max(0, best.value - model.promised);
    const position = moveAxis(best.position, [step[0]!, step[1]!, step[2]! / size, step[3]! / size]);
    const value = measure(axisFamily(points, position, way.sign), way.sides);
    if (!(gain > rounding)) {
      // Nothing more to gain in the value, but the axis itself may still be a little off: take the last steps unjudged.
      const harmless = value <= Math.min(best.value + rounding, found.value);
      if (held || last >= 6) break;
      if (harmless) {
        last += 1;
        best = { ...best, position, value, upper, lower, gain };
      } else damping *= 10;
    } else if (value < best.value - 0.1 * gain) {
      best = { ...best, position, value, upper, lower, gain };
      damping = Math.max(1e-12, damping / 10);
    } else damping *= 10;
  }
  const held = certify(axisFamily(points, best.position, way.sign), way.sides, 1e-10 * size);
  return held ? { ...best, ...held, limited: false, certified: true } : best;
}

function measure(family: AffineFamily, sides: Sides): number {
  const { largest, smallest } = extremes(family, new Float64Array(SIZE));
  return sides === "range" ? largest - smallest : largest;
}

/** Tilts as lengths at the distance `size`, so that all four variables are alike. */
function scaled(family: AffineFamily, size: number): AffineFamily {
  const gradients = family.gradients.map((value, k) => (k % SIZE < 2 ? value : value / size));
  return { ...family, gradients };
}

/**
 * Inverse of the bend made positive: stiffness across the borders of the points that hold (which changes nothing along
 * them, where the bend decides) is raised until it is; damping in all directions comes on top.
 */
function positiveBend(
  points: Points3,
  size: number,
  best: Descent<Axis>,
  { family, sign, damping }: { family: AffineFamily; sign: 1 | -1; damping: number },
): Float64Array | null {
  const plain = bendOf(points, size, best, sign);
  const across = acrossOf(family, best);
  for (let j = 0; j < SIZE; j++) plain[j * SIZE + j]! += damping / size;
  for (const stiffness of [0, 0.1, 1, 10, 100, 1e3]) {
    const inverse = invertPositive(
      plain.map((value, k) => value + (stiffness / size) * across[k]!),
      SIZE,
    );
    if (inverse) return inverse;
  }
  return null;
}

/** Weighted second derivatives of the values of the points that hold, by shift and (scaled) tilt. */
function bendOf(
  points: Points3,
  size: number,
  { position, upper, lower }: Descent<Axis>,
  sign: number,
): Float64Array {
  const { u, v, w } = basis(position.direction);
  const bend = new Float64Array(SIZE * SIZE);
  const gather = (index: number, weight: number) => {
    const at: Vec3 = [points.x[index]!, points.y[index]!, points.z[index]!];
    const arm = subtract(at, position.place);
    const [p, q, height] = [dot(arm, u), dot(arm, v), dot(arm, w) / size];
    const radius = Math.hypot(p, q);
    if (radius === 0) return;
    const across = [-q / radius, p / radius, (-height * q) / radius, (height * p) / radius];
    const inward = [0, 0, p / size, q / size];
    for (let j = 0; j < SIZE; j++) {
      for (let k = 0; k < SIZE; k++) {
        bend[j * SIZE + k]! += (weight * (across[j]! * across[k]! - inward[j]! * inward[k]!)) / radius;
      }
    }
  };
  for (const { index, weight } of upper) gather(index, sign * weight);
  for (const { index, weight } of lower) gather(index, -sign * weight);
  return bend;
}

/** Sum of the outer products of the gradients on each side, taken from their mean on that side. */
function acrossOf({ gradients }: AffineFamily, { upper, lower }: Descent<Axis>): Float64Array {
  const across = new Float64Array(SIZE * SIZE);
  for (const side of [upper, lower]) {
    const mean = new Float64Array(SIZE);
    for (const { index } of side) {
      for (let j = 0; j < SIZE; j++) mean[j]! += gradients[index * SIZE + j]! / side.length;
    }
    for (const { index } of side) {
      for (let j = 0; j < SIZE; j++) {
        for (let k = 0; k < SIZE; k++) {
          const [a, b] = [gradients[index * SIZE + j]! - mean[j]!, gradients[index * SIZE + k]! - mean[k]!];
          across[j * SIZE + k]! += a * b;
        }
      }
    }
  }
  return across;
}
