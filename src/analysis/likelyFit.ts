import { fitCircle3 } from "../math/fitCircle3.ts";
import { fitCylinder } from "../math/fitCylinder.ts";
import { fitPlane } from "../math/fitPlane.ts";
import { fitSphere } from "../math/fitSphere.ts";
import { dot, type Vec3 } from "../math/vector.ts";
import type { Readings } from "../model/measurement.ts";
import type { FitName } from "../model/plan/plan.ts";

/** A ring of touches has all its radii within this share of the radius; touches over a face have not. */
const RING = 0.01;
/** Touches lie in a plane when their spread from it is within this share of the largest distance. */
const FLAT = 0.02;

/**
 * The fit that touches look like when no plan names one: plane, circle, cylinder, sphere or point. Outward normals
 * decide where the log has them; else a flat ring of at least five touches is a circle, other flat touches a plane.
 * Good enough to show numbers, not to judge them.
 * @param readings points in mm
 */
export function likelyFit(readings: Readings): FitName {
  if (readings.x.length < 3) return "point";
  const plane = fitPlane(readings);
  if (!plane.ok) return "point";
  const reach = farthest(readings, plane.center);
  if (plane.rms <= FLAT * reach) {
    const along = meanAlong(readings, plane.direction);
    if (along !== null) return along > 0.7 ? "plane" : "circle";
    const circle = readings.x.length >= 5 ? fitCircle3(readings) : null;
    return circle?.ok && circle.rms <= RING * circle.radius && circle.radius <= 2 * reach
      ? "circle"
      : "plane";
  }
  const sphere = fitSphere(readings);
  const cylinder = fitCylinder(readings);
  if (cylinder.ok && (!sphere.ok || cylinder.rms < sphere.rms)) return "cylinder";
  return sphere.ok ? "sphere" : "plane";
}

function farthest(readings: Readings, center: Vec3): number {
  let reach = 0;
  for (let i = 0; i < readings.x.length; i++) {
    reach = Math.max(
      reach,
      Math.hypot(readings.x[i]! - center[0], readings.y[i]! - center[1], readings.z[i]! - center[2]),
    );
  }
  return reach;
}

/** Mean of |normal . direction| over the touches; null where the log has no normals. */
function meanAlong({ i, j, k }: Readings, direction: Vec3): number | null {
  if (!i || !j || !k) return null;
  let total = 0;
  for (let n = 0; n < i.length; n++) total += Math.abs(dot([i[n]!, j[n]!, k[n]!], direction));
  return total / i.length;
}
