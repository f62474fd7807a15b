import type { Points2 } from "../points.ts";
import type { Vec2 } from "../vector.ts";
import { type Descent, descend } from "./descend.ts";

/** Radii about a centre, with their derivatives by the step of the centre. */
export function radiusFamily({ x, y }: Points2, [cx, cy]: Vec2, sign: 1 | -1 = 1) {
  const values = new Float64Array(x.length);
  const gradients = new Float64Array(2 * x.length);
  for (let i = 0; i < x.length; i++) {
    const dx = x[i]! - cx;
    const dy = y[i]! - cy;
    const radius = Math.hypot(dx, dy);
    values[i] = sign * radius;
    if (radius === 0) continue;
    gradients[2 * i] = (-sign * dx) / radius;
    gradients[2 * i + 1] = (-sign * dy) / radius;
  }
  return { values, gradients, size: 2 };
}

/** Goes down to the locally narrowest ring about `start`. */
export function descendRing(points: Points2, size: number, start: Vec2): Descent<Vec2> {
  const model = {
    sides: "range" as const,
    scale: size + Math.hypot(...start),
    linearise: (center: Vec2) => radiusFamily(points, center),
    move: (center: Vec2, step: Float64Array): Vec2 => [center[0] + step[0]!, center[1] + step[1]!],
  };
  return descend(model, start, new Float64Array([size / 2, size / 2]));
}
