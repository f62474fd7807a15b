import type { Points3 } from "../points.ts";
import type { Vec3 } from "../vector.ts";
import type { Descent } from "./descend.ts";

/** An axis by a point of it and its unit direction. */
export interface Axis {
  readonly place: Vec3;
  readonly direction: Vec3;
}
export function settleAxis(_points: Points3, _size: number, found: Descent<Axis>): Descent<Axis> {
  return found;
}
