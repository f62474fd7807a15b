import { fitRotation, type RotationFit } from "../../../math/rotationFit.ts";

/** Places of one target in the plane of X and Z, by commanded B in degrees. */
export interface Indexed {
  readonly b: readonly number[];
  readonly x: readonly number[];
  readonly z: readonly number[];
}
export interface SenseFits {
  readonly plus: RotationFit | null;
  readonly minus: RotationFit | null;
  /** The sense that the residuals show; null when they show none. */
  readonly shown: 1 | -1 | null;
}
/** The wrong sense must leave residuals this many times those of the right one to be called wrong. */
const CLEARLY = 5;
/** Residuals below this are rounding in millimetres, not evidence. */
const ROUNDING_MM = 1e-9;

/** The rotation fitted with both senses of B, and which of them the residuals show. */
export function bothSenses(target: Indexed): SenseFits {
  const angles = Float64Array.from(target.b, (b) => (b * Math.PI) / 180);
  const [x, z] = [Float64Array.from(target.x), Float64Array.from(target.z)];
  const fitted = (sense: 1 | -1): RotationFit | null => {
    const out = fitRotation(angles, x, z, sense);
    return out.ok ? out : null;
  };
  const [plus, minus] = [fitted(1), fitted(-1)];
  return { plus, minus, shown: shownBy(plus, minus) };
}
function shownBy(plus: RotationFit | null, minus: RotationFit | null): 1 | -1 | null {
  if (plus === null || minus === null || plus.dof <= 0) return null;
  const [right, wrong] = plus.rms <= minus.rms ? [plus, minus] : [minus, plus];
  if (wrong.rms < ROUNDING_MM * Math.max(1, right.arm)) return null;
  return wrong.rms > CLEARLY * right.rms ? (right === plus ? 1 : -1) : null;
}

/** Whether the centre is the same for either sense: all indices are 0 or 180 apart. */
export function senseMatters(b: readonly number[]): boolean {
  const first = b[0] ?? 0;
  return b.some((index) => Math.abs(Math.sin(((index - first) * Math.PI) / 180)) > 1e-9);
}
