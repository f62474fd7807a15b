import type { Points3 } from "../points.ts";
import { add, basis, dot, scale, subtract, unit, type Vec3 } from "../vector.ts";

/** An axis by a point of it and its unit direction. */
export interface Axis {
  readonly place: Vec3;
  readonly direction: Vec3;
}

/** Radii about an axis (negative for `sign` -1) with their derivatives by a shift and a tilt about the middle. */
export function axisFamily(points: Points3, axis: Axis, sign: 1 | -1) {
  const { u, v, w } = basis(axis.direction);
  const n = points.x.length;
  const values = new Float64Array(n);
  const gradients = new Float64Array(4 * n);
  for (let i = 0; i < n; i++) {
    const dx = points.x[i]! - axis.place[0];
    const dy = points.y[i]! - axis.place[1];
    const dz = points.z[i]! - axis.place[2];
    const p = dx * u[0] + dy * u[1] + dz * u[2];
    const q = dx * v[0] + dy * v[1] + dz * v[2];
    const height = dx * w[0] + dy * w[1] + dz * w[2];
    const radius = Math.hypot(p, q);
    values[i] = sign * radius;
    if (radius === 0) continue;
    gradients[4 * i] = (-sign * p) / radius;
    gradients[4 * i + 1] = (-sign * q) / radius;
    gradients[4 * i + 2] = (-sign * height * p) / radius;
    gradients[4 * i + 3] = (-sign * height * q) / radius;
  }
  return { values, gradients, size: 4 };
}

/** The axis after a shift (two lengths) and a tilt (two slopes), with its place at the foot of the origin. */
export function moveAxis(axis: Axis, step: ArrayLike<number>): Axis {
  const { u, v, w } = basis(axis.direction);
  const place = add(axis.place, add(scale(u, step[0]!), scale(v, step[1]!)));
  return footed({ place, direction: unit(add(w, add(scale(u, step[2]!), scale(v, step[3]!)))) });
}
/** The same axis, given by the foot of the origin. */
export const footed = ({ place, direction }: Axis): Axis => ({
  place: subtract(place, scale(direction, dot(place, direction))),
  direction,
});
