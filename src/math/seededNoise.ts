/**
 * A repeatable stream of random numbers: the same seed gives the same numbers on every machine. For simulation
 * and for picking points, not for secrets.
 */
export interface SeededNoise {
  /** Evenly spread in [0, 1), 53 bits. */
  uniform(): number;
  /** Evenly spread in [low, high). */
  between(low: number, high: number): number;
  /** Whole number from 0 to `count` - 1. */
  below(count: number): number;
  /** Normally distributed with mean 0 and standard deviation 1. */
  normal(): number;
}

/**
 * Generator xoshiro128** (D. Blackman, S. Vigna 2021, ACM Trans. Math. Softw. 47, 36), state filled by splitmix32
 * from the seed (any number; its 32-bit integer part counts); normal numbers by the Box-Muller transform.
 */
export function seededNoise(seed: number): SeededNoise {
  const next = xoshiro(seed);
  const uniform = () => (next() * 2 ** 21 + (next() >>> 11)) / 2 ** 53;
  let spare: number | null = null;
  const normal = () => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    below: (count) => Math.floor(count * uniform()),
    normal,
  };
}

function xoshiro(seed: number): () => number {
  let mix = seed | 0;
  const filled = () => {
    mix = (mix + 0x9e3779b9) | 0;
    let z = mix ^ (mix >>> 16);
    z = Math.imul(z, 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return z ^ (z >>> 15);
  };
  let [a, b, c, d] = [filled(), filled(), filled(), filled()];
  const rotate = (x: number, k: number) => (x << k) | (x >>> (32 - k));
  return () => {
    const result = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = rotate(d, 11);
    return result;
  };
}
