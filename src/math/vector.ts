/** A vector or a place in space. Numbers only: the caller knows the unit and the frame. */
export type Vec3 = readonly [number, number, number];
/** A vector or a place in a plane. */
export type Vec2 = readonly [number, number];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, factor: number): Vec3 => [a[0] * factor, a[1] * factor, a[2] * factor];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
/** Euclidean length, safe against overflow of the squares. */
export const length = (a: Vec3): number => Math.hypot(a[0], a[1], a[2]);
/** `a` scaled to length one. Throws RangeError for a vector of length zero: it has no direction. */
export function unit(a: Vec3): Vec3 {
  const size = length(a);
  if (!(size > 0)) throw new RangeError("a vector of length zero has no direction");
  return scale(a, 1 / size);
}
/**
 * Angle between two vectors in radians, 0 to pi. Uses atan2 of cross and dot product, which keeps full
 * precision near 0 and pi where the arc cosine loses half the digits.
 */
export const angleBetween = (a: Vec3, b: Vec3): number => Math.atan2(length(cross(a, b)), dot(a, b));

/** Two unit vectors that complete `direction` to a right-handed orthonormal basis (u x v = direction). */
export function basis(direction: Vec3): { u: Vec3; v: Vec3; w: Vec3 } {
  const w = unit(direction);
  // Start from the axis least along w, so that the cross product is never short.
  const [ax, ay, az] = [Math.abs(w[0]), Math.abs(w[1]), Math.abs(w[2])];
  const start: Vec3 = ax <= ay && ax <= az ? [1, 0, 0] : ay <= az ? [0, 1, 0] : [0, 0, 1];
  const u = unit(subtract(start, scale(w, dot(start, w))));
  return { u, v: cross(w, u), w };
}

/** `a` or its opposite, whichever has its largest component positive (of equal ones z, then y, then x). */
export function orient(a: Vec3): Vec3 {
  const largest = Math.max(Math.abs(a[0]), Math.abs(a[1]), Math.abs(a[2]));
  // Components equal up to rounding count as equal, so that turning a part by nothing does not turn its normal.
  const leading = [a[2], a[1], a[0]].find((value) => Math.abs(value) >= largest * (1 - 1e-12))!;
  return leading < 0 ? scale(a, -1) : a;
}
