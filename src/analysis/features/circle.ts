import { fitCircle3 } from "../../math/fitCircle3.ts";
import { dropped, fromFrame, type Points3 } from "../../math/points.ts";
import { add, basis, dot, length, scale, subtract, unit } from "../../math/vector.ts";
import { circumscribedCircle } from "../../math/zones/circumscribedCircle.ts";
import { inscribedCircle } from "../../math/zones/inscribedCircle.ts";
import type { Support } from "../../math/zones/support.ts";
import { zoneCircle } from "../../math/zones/zoneCircle.ts";
import { say } from "../../model/say.ts";
import { formZone, spreadOf } from "../fitting/formZone.ts";
import { radiiAbout } from "../fitting/places.ts";
import { provenBy } from "../fitting/provenBy.ts";
import { awayFromAxis, movedRadially, roundSide } from "../fitting/touches.ts";
import type { FitKind, HeldSize } from "./contract.ts";

/**
 * Circle of least squared distances along the radius. The points are dropped on their own least-squares plane; the plan's
 * normal only turns its direction. Ball centres give the same centre; the radius is made smaller (boss) or larger (bore)
 * by the ball's. Lengths in mm, frame of the log. Form: two concentric circles (ISO 12181), largest inscribed, smallest
 * circumscribed circle in the same plane. Throws nothing for data.
 */
export const circle: FitKind = {
  fit: "circle",
  minimumPoints: 3,
  formPoints: 7,
  singleSurface: false,
  fitTo({ points, touches, plan, ballRadius }) {
    const fit = fitCircle3(points, plan.normal === null ? undefined : unit(plan.normal));
    if (!fit.ok) return fit;
    const { center, direction, plane } = fit;
    const away = awayFromAxis(center, direction);
    const side =
      ballRadius === 0 ? { sign: 0 as const, problem: null } : roundSide(plan, { points, touches }, away);
    const radius = fit.radius - side.sign * ballRadius;
    const { u, v, w } = basis(direction);
    const lever = subtract(center, plane.center);
    return {
      ok: true,
      value: {
        geometry: { center, direction, radius },
        points: movedRadially(points, away, side.sign, ballRadius),
        residuals: fit.residuals,
        rmsMm: fit.rms,
        degreesOfFreedom: fit.dof,
        scatterMm: fit.scatter,
        condition: fit.condition,
        iterations: fit.iterations,
        parameters: {
          covariance: blocks(fit.covariance, plane.covariance),
          at: ([centerU = 0, centerV = 0, dRadius = 0, offset = 0, slopeU = 0, slopeV = 0]) => {
            const rise = offset + slopeU * (dot(lever, u) + centerU) + slopeV * (dot(lever, v) + centerV);
            return {
              center: add(add(center, scale(w, rise)), add(scale(u, centerU), scale(v, centerV))),
              direction: unit(subtract(w, add(scale(u, slopeU), scale(v, slopeV)))),
              radius: radius + dRadius,
            };
          },
        },
        extent: null,
        tipProblem: side.problem,
        derived: null,
      },
    };
  },
  blindness(count) {
    if (count <= 3) return say("Three points always show a roundness of zero.", {});
    if (count === 4)
      return say(
        "Four points read three lobes as eccentricity and do not see an oval that lies between them.",
        {},
      );
    return say("{count} points cannot show {waves} or more lobes.", { count, waves: Math.ceil(count / 2) });
  },
  distance: ({ center, direction, radius }, place) =>
    length(awayFromAxis(center, direction!)(place)) - (radius ?? 0),
  formOf({ points, geometry, residuals }) {
    const flat = droppedOnCircle(points, geometry);
    const zone = zoneCircle(flat, { start: [0, 0] });
    if (!zone.ok) return zone;
    const place = (center: readonly [number, number]) =>
      fromFrame([center[0], center[1], 0], geometry.center, geometry.direction!);
    const size = (
      found: { center: readonly [number, number]; radius: number },
      held: readonly Support[],
    ): HeldSize => ({
      size: {
        center: place(found.center),
        diameter: 2 * found.radius,
        support: held.map(({ index }) => index),
      },
      weights: held.map(({ weight }) => weight),
      radii: () => radiiAbout(flat, found.center),
    });
    const [inscribed, circumscribed] = [inscribedCircle(flat), circumscribedCircle(flat)];
    return {
      ok: true,
      value: {
        zone: formZone(
          spreadOf(residuals),
          zone.width,
          provenBy("circleZone", flat, zone),
          zone.outer,
          zone.inner,
        ),
        places: (kind) => (kind === "minimum" ? radiiAbout(flat, zone.center) : residuals),
        inscribed: inscribed.ok ? size(inscribed, inscribed.inner) : null,
        circumscribed: circumscribed.ok ? size(circumscribed, circumscribed.outer) : null,
      },
    };
  },
};

/** Points seen along the circle's direction, from its centre. */
export function droppedOnCircle(points: Points3, geometry: Parameters<FitKind["formOf"]>[0]["geometry"]) {
  return dropped(points, geometry.center, geometry.direction!);
}

/** Covariance of two independent groups of parameters. */
function blocks(first: readonly (readonly number[])[], second: readonly (readonly number[])[]): number[][] {
  const size = first.length + second.length;
  return Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_, j) =>
      i < first.length
        ? (first[i]![j] ?? 0)
        : j < first.length
          ? 0
          : second[i - first.length]![j - first.length]!,
    ),
  );
}
