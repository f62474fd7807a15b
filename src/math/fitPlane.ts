import { type FitQuality, fitQuality } from "./fitQuality.ts";
import { noResult, type Outcome } from "./outcome.ts";
import { type Points3, placesAlong } from "./points.ts";
import { NO_SPREAD, refusal, type Spread, spread } from "./spread.ts";
import { add, basis, orient, scale, unit, type Vec3 } from "./vector.ts";

/**
 * Covariance parameters: [offset along the normal at `center`, slope along u, slope along v], in the frame
 * `basis(direction)` with its origin at `center`: a point of the plane is w = offset + slopeU u + slopeV v.
 */
export interface PlaneFit extends FitQuality {
  /** Mean of the points. */
  readonly center: Vec3;
  /** Unit normal. */
  readonly direction: Vec3;
}

/**
 * Plane that minimises the sum of squared distances square to it (orthogonal distance least squares): eigenvector
 * of least spread, then corrected until the residuals have no slope left. Residuals are positive on the side the
 * normal points to: the side of `towards`, else the one with the largest component of the normal positive.
 * No result: fewer than 3 different points, points on one line, points that single out no plane, not finite.
 * Throws RangeError for columns of unequal length. Source: K. Pearson (1901), Phil. Mag. 2, 559-572.
 */
export function fitPlane(points: Points3, towards?: Vec3): Outcome<PlaneFit> {
  const refused = refusal([points.x, points.y, points.z], 3, "A plane");
  if (refused) return refused;
  const shape = spread(points);
  const [first, second, third] = shape.squares;
  if (Math.sqrt(second) <= NO_SPREAD * Math.sqrt(first))
    return noResult("degenerate-points", "The points lie on one line: they hold no plane.");
  if (second - third <= 1e-9 * first)
    return noResult(
      "degenerate-points",
      "The points spread alike in several directions: they single out no plane.",
    );
  return settle(points, shape, outward(shape.axes[2], towards));
}

function outward(normal: Vec3, towards: Vec3 | undefined): Vec3 {
  if (!towards) return orient(normal);
  const side = normal[0] * towards[0] + normal[1] * towards[1] + normal[2] * towards[2];
  return side < 0 ? scale(normal, -1) : side > 0 ? normal : orient(normal);
}

function settle(points: Points3, shape: Spread, start: Vec3): Outcome<PlaneFit> {
  let direction = start;
  let moments = slopesLeft(points, shape.center, direction);
  let iterations = 1;
  // Rounding in the eigenvector shows as a slope of the residuals; two corrections remove it.
  for (let last = Number.POSITIVE_INFINITY; iterations < 60; iterations++) {
    const { u, v, w } = basis(direction);
    const size = Math.hypot(moments.slopeU, moments.slopeV);
    if (!(size > Number.EPSILON) || size >= last) break;
    last = size;
    direction = unit(add(w, add(scale(u, -moments.slopeU), scale(v, -moments.slopeV))));
    moments = slopesLeft(points, shape.center, direction);
  }
  const { uu, uv, vv } = moments;
  const residuals = placesAlong(points, shape.center, basis(direction).w);
  const determinant = uu * vv - uv * uv;
  const count = residuals.length;
  const covariance = [
    [1 / count, 0, 0],
    [0, vv / determinant, -uv / determinant],
    [0, -uv / determinant, uu / determinant],
  ];
  const condition = planeCondition(shape, count);
  const quality = fitQuality(residuals, 3, { condition, iterations, covariance });
  return { ok: true, center: shape.center, direction, ...quality };
}

/** Columns of J are 1, u and v over the extent: mutually square in the principal directions. */
function planeCondition({ squares, extent }: Spread, count: number): number {
  const lengths = [count, squares[0] / extent ** 2, squares[1] / extent ** 2];
  return Math.sqrt(Math.max(...lengths) / Math.min(...lengths));
}

/** Second moments in the frame of the direction, and the slopes that a linear fit still finds. */
function slopesLeft({ x, y, z }: Points3, [cx, cy, cz]: Vec3, direction: Vec3) {
  const { u, v, w } = basis(direction);
  const [ux, uy, uz] = u;
  const [vx, vy, vz] = v;
  const [wx, wy, wz] = w;
  let [uu, uv, vv, uw, vw] = [0, 0, 0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const dx = x[i]! - cx;
    const dy = y[i]! - cy;
    const dz = z[i]! - cz;
    const a = dx * ux + dy * uy + dz * uz;
    const b = dx * vx + dy * vy + dz * vz;
    const c = dx * wx + dy * wy + dz * wz;
    uu += a * a;
    uv += a * b;
    vv += b * b;
    uw += a * c;
    vw += b * c;
  }
  const determinant = uu * vv - uv * uv;
  const slopeU = (vv * uw - uv * vw) / determinant;
  const slopeV = (uu * vw - uv * uw) / determinant;
  return { uu, uv, vv, slopeU, slopeV };
}
