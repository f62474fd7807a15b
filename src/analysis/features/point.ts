import { noResult } from "../../math/outcome.ts";
import { centroid, type Points3 } from "../../math/points.ts";
import { add, dot, length, scale, subtract, type Vec3 } from "../../math/vector.ts";
import { shifted, sideUnknown, statedSide } from "../fitting/touches.ts";
import { type FitKind, NO_FORM } from "./contract.ts";

/**
 * A place: the mean of its readings. A ball centre is moved by the ball's radius against the touch direction or the plan's
 * normal. Residuals are distances from the mean, along the touch direction where it is known. The scatter is the sample
 * standard deviation along that direction, else along the axis with the most. Lengths in mm, frame of the log.
 * It has no form. Throws nothing for data.
 */
export const point: FitKind = {
  fit: "point",
  minimumPoints: 1,
  formPoints: null,
  singleSurface: true,
  fitTo({ points, touches, plan, ballRadius }) {
    const count = points.x.length;
    if (count < 1) return noResult("too-few-points", "A point needs at least 1 reading.");
    const side = statedSide(touches, plan);
    const moved = ballRadius === 0 || side === null ? points : shifted(points, side, -ballRadius);
    const center = centroid(moved);
    if (!center.every(Number.isFinite)) return noResult("not-finite", "A coordinate is not a finite number.");
    const residuals = deviations(moved, center, side);
    const rmsMm = Math.sqrt(residuals.reduce((total, r) => total + r * r, 0) / count);
    const each = 1 / count;
    return {
      ok: true,
      value: {
        geometry: { center, direction: null, radius: null },
        points: moved,
        residuals,
        rmsMm,
        degreesOfFreedom: count - 1,
        scatterMm: count > 1 ? scatter(moved, center, side) : null,
        condition: 1,
        iterations: 0,
        parameters: {
          covariance: [
            [each, 0, 0],
            [0, each, 0],
            [0, 0, each],
          ],
          at: ([x = 0, y = 0, z = 0]) => ({ center: add(center, [x, y, z]), direction: null, radius: null }),
        },
        extent: null,
        tipProblem: ballRadius !== 0 && side === null ? sideUnknown(plan.name) : null,
        derived: null,
      },
    };
  },
  blindness: () => null,
  distance: ({ center }, place) => length(subtract(place, center)),
  formOf: () => ({ ok: true, value: NO_FORM }),
};

function deviations(points: Points3, center: Vec3, side: Vec3 | null): Float64Array {
  return points.x.map((_, i) => {
    const from = subtract([points.x[i]!, points.y[i]!, points.z[i]!], center);
    return side === null ? length(from) : dot(from, side);
  });
}

function scatter(points: Points3, center: Vec3, side: Vec3 | null): number {
  const along = (axis: Vec3): number =>
    Math.sqrt(
      deviations(points, center, axis).reduce((total, r) => total + r * r, 0) / (points.x.length - 1),
    );
  if (side !== null) return along(side);
  return Math.max(
    ...(
      [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ] as const
    ).map((axis) => along(scale(axis, 1))),
  );
}
