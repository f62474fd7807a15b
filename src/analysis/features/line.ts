import { fitLine2 } from "../../math/fitLine2.ts";
import { fitLine3 } from "../../math/fitLine3.ts";
import type { Outcome } from "../../math/outcome.ts";
import { centroid, type Points2, type Points3 } from "../../math/points.ts";
import { add, basis, cross, dot, length, scale, subtract, unit, type Vec3 } from "../../math/vector.ts";
import { zoneLine } from "../../math/zones/zoneLine.ts";
import { type Said, say } from "../../model/say.ts";
import { formZone, spreadOf } from "../fitting/formZone.ts";
import { heightOf, type LineFrame, scatterHeight, statedFrame } from "../fitting/lineFrame.ts";
import { provenBy } from "../fitting/provenBy.ts";
import { awayFromAxis, shifted, sideUnknown, statedSide } from "../fitting/touches.ts";
import type { FitInput, FitKind, FitResult, ZoneKind } from "./contract.ts";

/**
 * Line of least squared orthogonal distances. A traverse, or a touched line whose plan names `along` and `height`, is
 * fitted in that plane; other touched lines in space. Ball centres are moved by the ball's radius against the touch
 * direction, or the plan's normal, square to the line. Lengths in mm, frame of the log. Form: two parallel lines in the
 * plane of travel and height (ISO 12780 sense). Throws nothing for data.
 */
export const line: FitKind = {
  fit: "line",
  minimumPoints: 2,
  formPoints: 5,
  singleSurface: true,
  fitTo(input) {
    const frame = statedFrame(input.plan);
    return frame === null ? fitInSpace(input) : fitInPlane(input, frame);
  },
  blindness(count) {
    if (count <= 2) return say("Two points always lie on a straight line.", {});
    return say("{count} points on a line cannot tell a bend from one bad reading.", { count });
  },
  distance: ({ center, direction }, place) => length(awayFromAxis(center, direction!)(place)),
  formOf({ points, geometry, plan }) {
    const direction = geometry.direction!;
    const height =
      heightOf(points, direction, plan, null) ?? scatterHeight(points, geometry.center, direction);
    const flat = inFrame(points, geometry.center, { along: direction, height });
    const zone = zoneLine(flat, { about: [1, 0] });
    if (!zone.ok) return zone;
    // Heights, because residuals of a line in space without a known height have no sign.
    const value = formZone(
      spreadOf(flat.y),
      zone.width,
      provenBy("lineZone", flat, zone),
      zone.upper,
      zone.lower,
    );
    const places = (kind: ZoneKind) =>
      kind === "minimum" ? flat.y.map((y, i) => flat.x[i]! * zone.normal[0] + y * zone.normal[1]) : flat.y;
    return { ok: true, value: { zone: value, places, inscribed: null, circumscribed: null } };
  },
};

/** Places along and heights above `center`, as a plane's x and y. */
function inFrame(points: Points3, center: Vec3, { along, height }: LineFrame): Points2 {
  const column = (axis: Vec3) =>
    points.x.map((_, i) => dot(subtract([points.x[i]!, points.y[i]!, points.z[i]!], center), axis));
  return { x: column(along), y: column(height) };
}

function fitInPlane(input: FitInput, frame: LineFrame): Outcome<{ value: FitResult }> {
  const middle = centroid(input.points);
  const fit = fitLine2(inFrame(input.points, middle, frame));
  if (!fit.ok) return fit;
  const place = (x: number, y: number) => add(scale(frame.along, x), scale(frame.height, y));
  const center = add(middle, place(fit.center[0], fit.center[1]));
  const direction = unit(place(fit.direction[0], fit.direction[1]));
  const normal = unit(place(-fit.direction[1], fit.direction[0]));
  const moved = compensated(input, center, direction);
  return {
    ok: true,
    value: {
      ...moved,
      geometry: { center: moved.center, direction, radius: null },
      residuals: fit.residuals,
      ...qualityOf(fit),
      parameters: {
        covariance: fit.covariance,
        at: ([offset = 0, turn = 0]) => ({
          center: add(moved.center, scale(normal, offset)),
          direction: unit(add(direction, scale(normal, turn))),
          radius: null,
        }),
      },
      extent: extentAlong(moved.points, moved.center, direction),
      derived: null,
    },
  };
}

function fitInSpace(input: FitInput): Outcome<{ value: FitResult }> {
  const fit = fitLine3(input.points);
  if (!fit.ok) return fit;
  const { direction } = fit;
  const moved = compensated(input, fit.center, direction);
  const height = heightOf(input.points, direction, input.plan, input.touches);
  const { u, v, w } = basis(direction);
  return {
    ok: true,
    value: {
      ...moved,
      geometry: { center: moved.center, direction, radius: null },
      residuals:
        height === null ? fit.residuals : inFrame(input.points, fit.center, { along: direction, height }).y,
      ...qualityOf(fit),
      parameters: {
        covariance: fit.covariance,
        at: ([offsetU = 0, offsetV = 0, slopeU = 0, slopeV = 0]) => ({
          center: add(moved.center, add(scale(u, offsetU), scale(v, offsetV))),
          direction: unit(add(w, add(scale(u, slopeU), scale(v, slopeV)))),
          radius: null,
        }),
      },
      extent: extentAlong(moved.points, moved.center, direction),
      derived: null,
    },
  };
}

function qualityOf(fit: {
  rms: number;
  dof: number;
  scatter: number | null;
  condition: number;
  iterations: number;
}) {
  return {
    rmsMm: fit.rms,
    degreesOfFreedom: fit.dof,
    scatterMm: fit.scatter,
    condition: fit.condition,
    iterations: fit.iterations,
  };
}

/** Points and centre moved from the ball's centre to the surface, square to the line; the side must be known. */
function compensated(
  { points, touches, plan, ballRadius }: FitInput,
  center: Vec3,
  direction: Vec3,
): { points: Points3; center: Vec3; tipProblem: Said | null } {
  if (ballRadius === 0) return { points, center, tipProblem: null };
  const side = statedSide(touches, plan);
  const across = side === null ? null : cross(cross(direction, side), direction);
  if (across === null || length(across) < 1e-6) return { points, center, tipProblem: sideUnknown(plan.name) };
  const outward = unit(across);
  return {
    points: shifted(points, outward, -ballRadius),
    center: subtract(center, scale(outward, ballRadius)),
    tipProblem: null,
  };
}

/** Lowest and highest place of the points along a direction from `center`. */
export function extentAlong(points: Points3, center: Vec3, direction: Vec3): readonly [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < points.x.length; i++) {
    const at = dot(subtract([points.x[i]!, points.y[i]!, points.z[i]!], center), direction);
    low = Math.min(low, at);
    high = Math.max(high, at);
  }
  return [low, high];
}
