import { solveLinearProgram } from "./lp.ts";
import { type AffineFamily, extremes, type Sides } from "./minimax.ts";
import { normaliseSupports, type Support } from "./support.ts";

/** Pull that may be left over: rounding of coordinates far from the origin turns exact ties into pulls of this order. */
const UNBALANCED = 5e-7;

/**
 * Supports and weights that prove a position stationary, drawn from all points within `touch` of the borders (taken as exactly on
 * them), or null when those points do not balance: the linear programme asks for a step that would bring the borders of these
 * points closer, and its dual weights are the proof that there is none. Ties, as on gridded data, leave no support off its border.
 */
export function certify(
  family: AffineFamily,
  sides: Sides,
  touch: number,
): { upper: readonly Support[]; lower: readonly Support[] } | null {
  const { size, values, gradients } = family;
  const { largest, smallest } = extremes(family, new Float64Array(size));
  const [high, low]: [number[], number[]] = [[], []];
  values.forEach((value, i) => {
    if (largest - value <= touch) high.push(i);
    if (sides === "range" && value - smallest <= touch) low.push(i);
  });
  const k = size + (sides === "range" ? 2 : 1);
  const scales = new Float64Array(size);
  for (const i of [...high, ...low]) {
    for (let j = 0; j < size; j++) scales[j] = Math.max(scales[j]!, Math.abs(gradients[i * size + j]!));
  }
  const rows = new Float64Array((high.length + low.length) * k);
  [...high, ...low].forEach((i, r) => {
    const sign = r < high.length ? 1 : -1;
    for (let j = 0; j < size; j++) rows[r * k + j] = (-sign * gradients[i * size + j]!) / (scales[j]! || 1);
    rows[r * k + (sign > 0 ? size : size + 1)] = sign;
  });
  const cost = new Float64Array(k);
  cost[size] = 1;
  if (sides === "range") cost[size + 1] = -1;
  const box = new Float64Array(k).fill(1, 0, size).fill(2 * size + 2, size);
  const bounds = new Float64Array(high.length + low.length);
  const { status, weights, boxWeight } = solveLinearProgram({ cost, rows, bounds, box });
  if (status !== "optimal" || boxWeight > UNBALANCED) return null;
  const side = (from: number, members: readonly number[]): Support[] =>
    normaliseSupports(
      weights
        .filter(({ row }) => row >= from && row < from + members.length)
        .map(({ row, weight }) => ({ index: members[row - from]!, weight })),
    );
  return { upper: side(0, high), lower: side(high.length, low) };
}
