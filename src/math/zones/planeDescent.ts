import type { Points3 } from "../points.ts";
import { add, basis, dot, scale, unit, type Vec3 } from "../vector.ts";
import { type Descent, descend } from "./descend.ts";
import { surroundMargin } from "./hull2.ts";

/** Range of the points along a direction near `normal`, as a family in the two slopes about it. */
export function planeFamily(points: Points3, normal: Vec3) {
  const { u, v, w } = basis(normal);
  const n = points.x.length;
  const values = new Float64Array(n);
  const gradients = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    const x = points.x[i]!;
    const y = points.y[i]!;
    const z = points.z[i]!;
    values[i] = x * w[0] + y * w[1] + z * w[2];
    gradients[2 * i] = x * u[0] + y * u[1] + z * u[2];
    gradients[2 * i + 1] = x * v[0] + y * v[1] + z * v[2];
  }
  return { values, gradients, size: 2 };
}

/** Goes down to the locally narrowest planes about `start`; the points must be centred, `size` their half diagonal. */
export function descendPlanes(points: Points3, size: number, start: Vec3): Descent<Vec3> {
  const model = {
    sides: "range" as const,
    scale: size,
    linearise: (normal: Vec3) => planeFamily(points, normal),
    move: (normal: Vec3, step: Float64Array): Vec3 => {
      const { u, v, w } = basis(normal);
      return unit(add(w, add(scale(u, step[0]!), scale(v, step[1]!))));
    },
  };
  return descend(model, unit(start), new Float64Array([0.5, 0.5]));
}

/**
 * How far (as tangent of an angle) the direction can swing before planes as narrow as these become thinkable. Between the
 * supports the range rises at least with `margin` per unit slope, and the true width is that range over sqrt(1 + slope^2).
 */
export function provedSwing(points: Points3, found: Descent<Vec3>): number {
  const { u, v } = basis(found.position);
  const at = (i: number, d: Vec3): number => dot([points.x[i]!, points.y[i]!, points.z[i]!], d);
  const differences = found.upper.flatMap((a) => found.lower.map((b) => [a.index, b.index] as const));
  const margin = surroundMargin({
    x: Float64Array.from(differences, ([a, b]) => at(a, u) - at(b, u)),
    y: Float64Array.from(differences, ([a, b]) => at(a, v) - at(b, v)),
  });
  if (margin <= 0) return 0;
  if (margin >= found.value) return Number.POSITIVE_INFINITY;
  return (2 * margin * found.value) / (found.value ** 2 - margin ** 2);
}
