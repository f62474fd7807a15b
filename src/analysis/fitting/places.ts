import { dropped, type Points2, type Points3 } from "../../math/points.ts";
import { dot, type Vec3 } from "../../math/vector.ts";

/** Height of each point along a unit normal, mm, from a point near them, so that no digits are lost far from the zero. */
export function heightsAlong({ x, y, z }: Points3, from: Vec3, normal: Vec3): Float64Array {
  const [a, b, c] = normal;
  const base = dot(from, normal);
  const heights = new Float64Array(x.length);
  for (let i = 0; i < x.length; i++) heights[i] = x[i]! * a + y[i]! * b + z[i]! * c - base;
  return heights;
}

/** Distance of each point from a centre in the plane, mm. */
export function radiiAbout({ x, y }: Points2, [centerX, centerY]: readonly [number, number]): Float64Array {
  return x.map((place, i) => Math.hypot(place - centerX, y[i]! - centerY));
}

/** Distance of each point from an axis, mm. */
export const radiiAboutAxis = (
  points: Points3,
  axis: { readonly center: Vec3; readonly direction: Vec3 },
): Float64Array => radiiAbout(dropped(points, axis.center, axis.direction), [0, 0]);

/** Distance of each point from a centre in space, mm. */
export function radiiAboutCenter({ x, y, z }: Points3, [centerX, centerY, centerZ]: Vec3): Float64Array {
  return x.map((place, i) => Math.hypot(place - centerX, y[i]! - centerY, z[i]! - centerZ));
}
