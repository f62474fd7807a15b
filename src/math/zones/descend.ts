import { certify } from "./certify.ts";
import { type AffineFamily, extremes, type MinimaxStep, minimax, type Sides } from "./minimax.ts";
import type { Support } from "./support.ts";

/** A form value as a function of a position: its exact first-order picture there, and how to step. */
export interface DescentModel<Position> {
  readonly sides: Sides;
  /** Length that one unit in the last place of the values belongs to: values below 1e-15 of it are rounding. */
  readonly scale: number;
  linearise(position: Position): AffineFamily;
  move(position: Position, step: Float64Array): Position;
  /** Whether a position that was reached shows that the way down has no end; the descent stops there. */
  endless?(position: Position): boolean;
}
/** A stationary position with the value there, and the points that hold it. */
export interface Descent<Position> {
  readonly position: Position;
  readonly value: number;
  readonly upper: readonly Support[];
  readonly lower: readonly Support[];
  /** How much the first-order picture still promises to gain: zero up to rounding at a stationary position. */
  readonly gain: number;
  readonly limited: boolean;
  /** True when points on the borders alone balance: the position is stationary. */
  readonly certified: boolean;
  readonly steps: number;
}

const measure = (family: AffineFamily, sides: Sides): number => {
  const { largest, smallest } = extremes(family, new Float64Array(family.size));
  return sides === "range" ? largest - smallest : largest;
};

/**
 * Goes down from `start` by a sequence of linear programmes, each within +-limits that shrink when the true value does not
 * follow the promise. Every step kept lowers the true value, so the result is never worse than the start.
 */
export function descend<Position>(
  model: DescentModel<Position>,
  start: Position,
  limits: Float64Array,
): Descent<Position> {
  const rounding = 4 * Number.EPSILON * model.scale;
  let position = start;
  let family = model.linearise(position);
  let value = measure(family, model.sides);
  let room = limits;
  let begin: MinimaxStep["begin"] | undefined;
  for (let steps = 0; ; steps++) {
    const best = minimax(family, room, model.sides, begin);
    begin = best.begin;
    const gain = value - best.promised;
    const ended = () => {
      const held = certify(family, model.sides, 1e-11 * model.scale);
      if (held)
        return {
          position,
          value,
          ...held,
          gain: Math.min(gain, rounding),
          limited: false,
          certified: true,
          steps,
        };
      return {
        position,
        value,
        upper: best.upper,
        lower: best.lower,
        gain,
        limited: best.limited,
        certified: false,
        steps,
      };
    };
    if (!(gain > rounding) || steps >= 150 || (steps > 0 && model.endless?.(position))) return ended();
    const next = model.move(position, best.step);
    const nextFamily = model.linearise(next);
    const nextValue = measure(nextFamily, model.sides);
    if (nextValue < value - 0.1 * gain) {
      position = next;
      family = nextFamily;
      value = nextValue;
      if (nextValue < value - 0.7 * gain) room = room.map((r, j) => Math.min(2 * r, limits[j]!));
    } else {
      room = room.map((r, j) => Math.min(r, Math.abs(best.step[j]!) + 1e-3 * r) / 4);
      if (room.every((r, j) => r < 1e-15 * limits[j]!)) return ended();
    }
  }
}
