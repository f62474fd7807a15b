/**
 * Probability that a standard normal number is at most `z`, to about 15 digits of itself in both tails.
 * Series near the middle (M. Abramowitz, I. A. Stegun, 26.2.11), continued fraction outside (26.2.14).
 */
export function normalProbability(z: number): number {
  if (Number.isNaN(z)) return z;
  if (Math.abs(z) < 3) return 0.5 + density(z) * series(z);
  const tail = density(z) * tailFraction(Math.abs(z));
  return z < 0 ? tail : 1 - tail;
}

/**
 * The z with `normalProbability(z) = probability`. Throws RangeError outside (0, 1).
 * Newton's method from the middle with steps held to one.
 */
export function normalQuantile(probability: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError("a probability lies between 0 and 1");
  if (probability > 0.5 && 1 - probability > 0) return -normalQuantile(1 - probability);
  let z = 0;
  for (let step = 0; step < 200; step++) {
    const change = (normalProbability(z) - probability) / density(z);
    const next = z - Math.max(-1, Math.min(1, change));
    if (Math.abs(next - z) <= 1e-16 * Math.abs(z)) return next;
    z = next;
  }
  return z;
}

const density = (z: number): number => Math.exp(-z * z * 0.5) / Math.sqrt(2 * Math.PI);

function series(z: number): number {
  let term = z;
  let total = z;
  for (let k = 3; Math.abs(term) > 1e-17 * Math.abs(total); k += 2) {
    term *= (z * z) / k;
    total += term;
  }
  return total;
}

/** 1/(z + 1/(z + 2/(z + 3/(...)))), from the inside out. */
function tailFraction(z: number): number {
  let rest = z;
  for (let k = 200; k >= 1; k--) rest = z + k / rest;
  return 1 / rest;
}
