import { normalQuantile } from "./normalDistribution.ts";

/** Two-sided probability within two standard deviations of a normal distribution, 95.45 %. */
export const TWO_SIGMA = 0.9544997361036416;

/**
 * Probability that Student's t with `dof` degrees of freedom (any positive number) exceeds `t`.
 * Throws RangeError for dof not above 0. Source: NIST Digital Library of Mathematical Functions 8.17.
 */
export function studentUpperTail(t: number, dof: number): number {
  if (!(dof > 0)) throw new RangeError("Student's t needs degrees of freedom above 0");
  if (t < 0) return 1 - studentUpperTail(-t, dof);
  const squared = t * t;
  // The smaller argument of the two keeps its digits.
  if (squared > dof) return incompleteBeta(dof / (dof + squared), dof / 2, 0.5) / 2;
  return 0.5 - incompleteBeta(squared / (dof + squared), 0.5, dof / 2) / 2;
}

/**
 * The t that Student's t with `dof` degrees of freedom exceeds with probability `tail` (0 to 0.5, one-sided).
 * dof may be fractional (Welch-Satterthwaite) or infinite (normal). Throws RangeError outside.
 */
export function studentQuantile(tail: number, dof: number): number {
  if (!(tail > 0 && tail <= 0.5)) throw new RangeError("the tail lies above 0 and up to 0.5");
  if (!(dof > 0)) throw new RangeError("Student's t needs degrees of freedom above 0");
  if (tail === 0.5) return 0;
  if (dof > 1e9) return normalQuantile(1 - tail);
  let [low, high] = [0, Number.POSITIVE_INFINITY];
  let t = -normalQuantile(tail);
  for (let step = 0; step < 200; step++) {
    const exceeded = studentUpperTail(t, dof);
    if (exceeded > tail) low = t;
    else high = t;
    // Newton's method on logarithms, over which a tail is all but straight; a small step leaves an error of its square.
    const next = t * Math.exp((Math.log(exceeded / tail) * exceeded) / (t * density(t, dof)));
    if (Math.abs(next - t) <= 1e-9 * t) return next;
    if (next > low && next < high) t = next;
    else t = high === Number.POSITIVE_INFINITY ? 2 * t : (low + high) / 2;
  }
  return t;
}

/** Density of Student's t. */
const density = (t: number, dof: number): number =>
  Math.exp((-(dof + 1) / 2) * Math.log1p((t * t) / dof) - logBeta(0.5, dof / 2)) / Math.sqrt(dof);

/**
 * Coverage factor for 95.45 %: how many standard uncertainties hold the value, when that uncertainty was seen in
 * data with `dof` degrees of freedom; 2 for infinitely many.
 * Source: JCGM 100:2008, annex G.
 */
export function coverageFactor(dof: number): number {
  if (dof === Number.POSITIVE_INFINITY) return 2;
  return studentQuantile((1 - TWO_SIGMA) / 2, dof);
}

/** Regularised incomplete beta function I_x(a, b). */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) - logBeta(a, b)) / a;
  return front / betaFraction(x, a, b);
}

/** Continued fraction 8.17.22 of the same source, 1 + d1/(1 + d2/(1 + ...)), by forward products. */
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  let [value, c, d] = [1, 1, 0];
  for (let k = 1; k < 10_000; k++) {
    const m = Math.floor(k / 2);
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    const part = k % 2 === 1 ? odd : even;
    d = 1 / (1 + part * d || tiny);
    c = 1 + part / c || tiny;
    value *= c * d;
    if (Math.abs(c * d - 1) < 1e-16) break;
  }
  return value;
}

const logBeta = (a: number, b: number): number =>
  Math.min(a, b) === 0.5 && Math.max(a, b) > 50
    ? Math.log(Math.PI) / 2 - logGammaHalfStep(Math.max(a, b))
    : logGamma(a) + logGamma(b) - logGamma(a + b);

/** log(Gamma(a + 1/2) / Gamma(a)) for large a: the difference of large logarithms taken before rounding. */
function logGammaHalfStep(a: number): number {
  const r = 1 / a;
  return (
    Math.log(a) / 2 +
    Math.log1p(r * (-1 / 8 + r * (1 / 128 + r * (5 / 1024 + r * (-21 / 32768 - r * (399 / 262144))))))
  );
}

/** log Gamma(x), x > 0: recurrence up to 15, then the series of Stirling (Abramowitz and Stegun 6.1.41). */
function logGamma(x: number): number {
  let shift = 1;
  let y = x;
  for (; y < 15; y++) shift *= y;
  const r = 1 / (y * y);
  const tail =
    (1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r * (1 / 1188 - r * (691 / 360360)))))) / y;
  return (y - 0.5) * Math.log(y) - y + Math.log(2 * Math.PI) / 2 + tail - Math.log(shift);
}
