import type { CovarianceMatrix } from "./covariance.ts";
import { leastSquares } from "./leastSquares.ts";
import { noResult, type Outcome } from "./outcome.ts";

/** One harmonic: cosine cos(n angle) + sine sin(n angle) = amplitude cos(n (angle - phase)). */
export interface Harmonic {
  readonly n: number;
  readonly cosine: number;
  readonly sine: number;
  readonly amplitude: number;
  /** Angle of the first maximum, radians, 0 up to 2 pi / n. */
  readonly phase: number;
  /** Highest less lowest value of this harmonic: twice the amplitude. */
  readonly peakToValley: number;
}

export interface HarmonicFit {
  readonly mean: number;
  /** n = 1, 2, ... */
  readonly harmonics: readonly Harmonic[];
  readonly residuals: Float64Array;
  readonly rms: number;
  readonly dof: number;
  /** sqrt(sum of squares / dof), null without degrees of freedom. */
  readonly scatter: number | null;
  /** Unscaled, for [mean, cosine 1, sine 1, cosine 2, ...]. */
  readonly covariance: CovarianceMatrix;
  readonly condition: number;
}

/**
 * Splits values over angles (radians, in any order and spacing) into a mean and harmonics n = 1 to `highest`
 * (default 4) that are fitted together by least squares; only those with 2n below the number of different angles,
 * because a harmonic needs more than two angles a wave.
 * No result: fewer than 3 different angles, angles too close together to tell the harmonics apart, not finite.
 * Throws RangeError for columns of unequal length.
 * @example fitHarmonics(angles, radii).harmonics[1].peakToValley // ovality
 */
export function fitHarmonics(
  angles: Float64Array,
  values: Float64Array,
  options: { readonly highest?: number } = {},
): Outcome<HarmonicFit> {
  if (angles.length !== values.length) throw new RangeError("angles and values must have one length");
  if (!angles.every(Number.isFinite) || !values.every(Number.isFinite))
    return noResult("not-finite", "An angle or a value is not a finite number.");
  const different = differentAngles(angles);
  const highest = Math.min(options.highest ?? 4, Math.ceil(different / 2) - 1);
  if (highest < 1)
    return noResult("too-few-points", `Harmonics need at least 3 different angles, here are ${different}.`);
  const columns = [new Float64Array(angles.length).fill(1)];
  for (let n = 1; n <= highest; n++)
    columns.push(
      angles.map((a) => Math.cos(n * a)),
      angles.map((a) => Math.sin(n * a)),
    );
  const fit = leastSquares(columns, values);
  if (!fit.ok || fit.condition > 1e6)
    return noResult("degenerate-points", "The angles lie too close together to tell the harmonics apart.");
  const harmonics = Array.from({ length: highest }, (_, k) =>
    harmonic(k + 1, fit.coefficients[2 * k + 1]!, fit.coefficients[2 * k + 2]!),
  );
  const { residuals, dof, scatter, covariance, condition } = fit;
  const rms = Math.sqrt(fit.sumOfSquares / values.length);
  return {
    ok: true,
    mean: fit.coefficients[0]!,
    harmonics,
    residuals,
    rms,
    dof,
    scatter,
    covariance,
    condition,
  };
}

function harmonic(n: number, cosine: number, sine: number): Harmonic {
  const amplitude = Math.hypot(cosine, sine);
  const turn = Math.atan2(sine, cosine);
  const phase = (turn < 0 ? turn + 2 * Math.PI : turn) / n;
  return { n, cosine, sine, amplitude, phase, peakToValley: 2 * amplitude };
}

/** Counts angles that differ by more than a billionth of a radian on the circle; 65 are enough for n = 32. */
function differentAngles(angles: Float64Array): number {
  const seen: number[] = [];
  for (const angle of angles) {
    const same = seen.some((other) => Math.abs(Math.sin((angle - other) / 2)) < 5e-10);
    if (!same && seen.push(angle) > 64) break;
  }
  return seen.length;
}
