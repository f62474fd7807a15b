import { type CylinderStart, cylinderStarts } from "./cylinderStarts.ts";
import type { NonlinearProblem } from "./derivatives.ts";
import { type FitQuality, fitQuality, rescaled } from "./fitQuality.ts";
import { levenbergMarquardt, type NonlinearFit } from "./levenbergMarquardt.ts";
import { type NoResult, noResult, type Outcome } from "./outcome.ts";
import { type Points3, placesAlong, standardised, times, toFrame } from "./points.ts";
import { LARGEST_CONDITION, LARGEST_RADIUS, plainCondition } from "./round.ts";
import { someOf } from "./someOf.ts";
import { NO_SPREAD, refusal, spread } from "./spread.ts";
import { add, angleBetween, basis, dot, orient, scale, subtract, unit, type Vec3 } from "./vector.ts";

/**
 * Covariance parameters: [offset along u, offset along v, slope along u, slope along v, radius] at `center`, in the
 * frame `basis(direction)`: the axis is u = offsetU + slopeU w, v = offsetV + slopeV w.
 */
export interface CylinderFit extends FitQuality {
  /** The point of the axis nearest the mean of the points. */
  readonly center: Vec3;
  /** Unit vector along the axis. */
  readonly direction: Vec3;
  readonly radius: number;
  /** Place of each point along the direction, 0 at `center`. */
  readonly heights: Float64Array;
  /** The next best cylinder with another axis: where its rms is near, the points alone do not tell which is meant. */
  readonly rival: { readonly direction: Vec3; readonly radius: number; readonly rms: number } | null;
}

/** Points used to tell apart the valleys; the answer itself uses all. */
const SCOUTS = 150;
/** With a stated direction a cylinder near it may fit this much worse and is still the one meant. */
const MEANT = 3;

/**
 * Cylinder that minimises the sum of squared distances from it along the radius, from several starting axes.
 * Residuals are positive outside. `towards` says roughly where the axis points: among several cylinders that
 * explain the points it chooses, and it turns the direction; without it the one with the least sum of squares is
 * taken and turned so that its largest component is positive.
 * No result: fewer than 5 different points, points in one plane or otherwise not determining the axis, several
 * cylinders through the points and no `towards`, flat rather than round, not finite.
 * Throws RangeError for columns of unequal length. The sum of squares has several valleys: the search for the
 * deepest is thorough, not proved.
 */
export function fitCylinder(points: Points3, towards?: Vec3): Outcome<CylinderFit> {
  const refused = refusal([points.x, points.y, points.z], 5, "A cylinder");
  if (refused) return refused;
  const { center, squares, axes, extent } = spread(points);
  if (Math.sqrt(squares[2]) <= NO_SPREAD * Math.sqrt(squares[0]))
    return noResult("degenerate-points", "The points lie in one plane: they hold no cylinder.");
  const unitPoints = {
    x: standardised(points.x, center[0], extent),
    y: standardised(points.y, center[1], extent),
    z: standardised(points.z, center[2], extent),
  };
  const hint = towards ? unit(towards) : null;
  const scouts = scoutsOf(unitPoints);
  const valleys = cylinderStarts(scouts, axes, hint)
    .map((start) => descend(scouts, start))
    .filter((valley) => valley !== null)
    .sort((p, q) => p.squares - q.squares);
  const found = distinct(
    different(valleys)
      .map((start) => settle(scouts, start))
      .filter((fit) => fit.ok),
  );
  const chosen = choose(found, hint, points.x.length);
  if (!chosen.ok) return chosen;
  const final = settle(unitPoints, startFrom(chosen.best));
  if (!final.ok) return final;
  return report(final, chosen.rival, { center, extent, hint, unitPoints, flat: squares[2] / extent ** 2 });
}

interface Settled {
  readonly ok: true;
  readonly fit: NonlinearFit;
  readonly iterations: number;
  readonly foot: Vec3;
  readonly direction: Vec3;
  readonly radius: number;
  readonly condition: number;
}

function scoutsOf({ x, y, z }: Points3): Points3 {
  const [p, q, r] = someOf([x, y, z], SCOUTS);
  return { x: p!, y: q!, z: r! };
}

/** Distance from the axis (a + slopeU z, b + slopeV z, z) less the radius. */
function cylinderProblem({ x, y, z }: Points3): NonlinearProblem {
  const rows = x.length;
  return {
    rows,
    residuals([a = 0, b = 0, slopeU = 0, slopeV = 0, radius = 0], out) {
      const inverse = 1 / (1 + slopeU * slopeU + slopeV * slopeV);
      for (let i = 0; i < rows; i++) {
        const p = x[i]! - a;
        const q = y[i]! - b;
        const h = z[i]!;
        const t = (p * slopeU + q * slopeV + h) * inverse;
        const du = p - t * slopeU;
        const dv = q - t * slopeV;
        const dw = h - t;
        out[i] = Math.sqrt(du * du + dv * dv + dw * dw) - radius;
      }
    },
    jacobian([a = 0, b = 0, slopeU = 0, slopeV = 0], [byA, byB, bySlopeU, bySlopeV, byRadius], from) {
      const inverse = 1 / (1 + slopeU * slopeU + slopeV * slopeV);
      for (let i = 0; i < byA!.length; i++) {
        const p = x[from + i]! - a;
        const q = y[from + i]! - b;
        const h = z[from + i]!;
        const t = (p * slopeU + q * slopeV + h) * inverse;
        const du = p - t * slopeU;
        const dv = q - t * slopeV;
        const dw = h - t;
        const far = Math.sqrt(du * du + dv * dv + dw * dw) || 1;
        byA![i] = -du / far;
        byB![i] = -dv / far;
        bySlopeU![i] = (-t * du) / far;
        bySlopeV![i] = (-t * dv) / far;
        byRadius![i] = -1;
      }
    },
  };
}

const SCALES = [1, 1, 1, 1, 1];

/** A look at where a start leads; null where it leads nowhere. */
function descend(points: Points3, start: CylinderStart): (CylinderStart & { squares: number }) | null {
  const problem = cylinderProblem(toFrame(points, [0, 0, 0], start.direction));
  const parameters = [start.a, start.b, 0, 0, start.radius];
  const fit = levenbergMarquardt(problem, parameters, {
    scales: SCALES,
    maxIterations: 80,
    phase: "descend",
  });
  if (!fit.ok) return null;
  return { ...startFrom(axisIn(unit(start.direction), fit.parameters)), squares: fit.sumOfSquares };
}

/** The deepest valleys with different axes. */
function different(valleys: readonly CylinderStart[]): CylinderStart[] {
  const out: CylinderStart[] = [];
  for (const next of valleys)
    if (out.length < 8 && !out.some((kept) => sameCylinder(kept, next, 1e-3))) out.push(next);
  return out;
}

/** Fits in the frame of the start, then again in the frame of the answer until the axis stands upright in it. */
function settle(points: Points3, start: CylinderStart): Settled | NoResult {
  let { direction: frame, a, b, radius } = start;
  let iterations = 0;
  for (let round = 0; ; round++) {
    const problem = cylinderProblem(toFrame(points, [0, 0, 0], frame));
    const parameters = [a, b, 0, 0, radius];
    const near = levenbergMarquardt(problem, parameters, { scales: SCALES, phase: "polish" });
    const fit = near.ok
      ? near
      : levenbergMarquardt(problem, parameters, { scales: SCALES, maxIterations: 200 });
    if (!fit.ok) return fit;
    iterations += fit.iterations;
    const axis = axisIn(frame, fit.parameters);
    const slope = Math.hypot(fit.parameters[2]!, fit.parameters[3]!);
    if (slope < 1e-10 || round >= 4) {
      const condition = plainCondition(fit);
      return { ok: true, fit, iterations, condition, ...axis };
    }
    ({ direction: frame, a, b, radius } = startFrom(axis));
  }
}

/** Axis in space from frame parameters, with its foot nearest the origin. */
function axisIn(frame: Vec3, parameters: Float64Array): { foot: Vec3; direction: Vec3; radius: number } {
  const [a = 0, b = 0, slopeU = 0, slopeV = 0, radius = 0] = parameters;
  const { u, v, w } = basis(frame);
  const direction = unit(add(w, add(scale(u, slopeU), scale(v, slopeV))));
  const through = add(scale(u, a), scale(v, b));
  return {
    foot: subtract(through, scale(direction, dot(through, direction))),
    direction,
    radius: Math.abs(radius),
  };
}

function startFrom({
  foot,
  direction,
  radius,
}: Pick<Settled, "foot" | "direction" | "radius">): CylinderStart {
  const { u, v } = basis(direction);
  return { direction, a: dot(foot, u), b: dot(foot, v), radius };
}

/** Angle between axes, whichever way they point. */
function axisAngle(a: Vec3, b: Vec3): number {
  const angle = angleBetween(a, b);
  return Math.min(angle, Math.PI - angle);
}

/** Valleys with different axes and sound conditioning, deepest first. */
function distinct(fits: readonly Settled[]): Settled[] {
  const sound = fits.filter((f) => f.radius <= LARGEST_RADIUS && f.condition <= LARGEST_CONDITION);
  const sorted = [...sound].sort((p, q) => p.fit.sumOfSquares - q.fit.sumOfSquares);
  const out: Settled[] = [];
  for (const next of sorted) if (!out.some((kept) => sameCylinder(kept, next, 1e-4))) out.push(next);
  return out;
}

type Round = { readonly direction: Vec3; readonly radius: number };

const sameCylinder = (p: Round, q: Round, tolerance: number): boolean =>
  axisAngle(p.direction, q.direction) < tolerance && Math.abs(p.radius / q.radius - 1) < tolerance;

type Choice = { readonly ok: true; readonly best: Settled; readonly rival: Settled | null } | NoResult;

function choose(found: readonly Settled[], hint: Vec3 | null, count: number): Choice {
  const [deepest, second] = found;
  if (!deepest) return noResult("degenerate-points", "The points do not determine the axis of a cylinder.");
  const rounding = 1e-26 * count;
  if (!hint) {
    if (second && second.fit.sumOfSquares <= deepest.fit.sumOfSquares * (1 + 1e-9) + rounding)
      return noResult(
        "degenerate-points",
        "Several cylinders pass equally well through the points: more points or a stated direction of the axis are needed.",
      );
    return { ok: true, best: deepest, rival: second ?? null };
  }
  const meant = found
    .filter((f) => f.fit.sumOfSquares <= MEANT ** 2 * deepest.fit.sumOfSquares + rounding)
    .sort((p, q) => axisAngle(p.direction, hint) - axisAngle(q.direction, hint));
  const best = meant[0]!;
  return { ok: true, best, rival: found.find((f) => f !== best) ?? null };
}

interface Setting {
  readonly center: Vec3;
  readonly extent: number;
  readonly hint: Vec3 | null;
  readonly unitPoints: Points3;
  /** Sum of squares about the best plane. */
  readonly flat: number;
}

function report(final: Settled, rival: Settled | null, setting: Setting): Outcome<CylinderFit> {
  const { center, extent, hint, unitPoints, flat } = setting;
  const count = unitPoints.x.length;
  if (
    final.radius > LARGEST_RADIUS ||
    (final.fit.sumOfSquares > 1e-28 * count && final.fit.sumOfSquares >= flat)
  )
    return noResult(
      "no-convergence",
      "The points follow a plane better than any cylinder: there is no radius.",
    );
  if (final.condition > LARGEST_CONDITION)
    return noResult("degenerate-points", "The points do not determine the axis of a cylinder.");
  const direction = hint && dot(final.direction, hint) < 0 ? scale(final.direction, -1) : final.direction;
  const upright = startFrom({ ...final, direction: hint ? direction : orient(direction) });
  const problem = cylinderProblem(toFrame(unitPoints, [0, 0, 0], upright.direction));
  const polished = levenbergMarquardt(problem, [upright.a, upright.b, 0, 0, upright.radius], {
    scales: SCALES,
    phase: "polish",
  });
  if (!polished.ok) return polished;
  const axis = axisIn(upright.direction, polished.parameters);
  const quality = fitQuality(times(polished.residuals, extent), 5, {
    condition: final.condition,
    iterations: final.iterations,
    covariance: rescaled(polished.covariance, [1, 1, 1 / extent, 1 / extent, 1]),
  });
  const heights = times(placesAlong(unitPoints, axis.foot, basis(axis.direction).w), extent);
  return {
    ok: true,
    center: add(center, scale(axis.foot, extent)),
    direction: axis.direction,
    radius: axis.radius * extent,
    heights,
    rival: rival && {
      direction: rival.direction,
      radius: rival.radius * extent,
      rms: Math.sqrt(rival.fit.sumOfSquares / rival.fit.residuals.length) * extent,
    },
    ...quality,
  };
}
