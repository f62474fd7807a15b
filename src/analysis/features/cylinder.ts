import { fitCylinder } from "../../math/fitCylinder.ts";
import type { Outcome } from "../../math/outcome.ts";
import type { Points3 } from "../../math/points.ts";
import { add, basis, length, scale, unit } from "../../math/vector.ts";
import {
  circumscribedCylinder,
  inscribedCylinder,
  type OneCylinder,
  zoneCylinder,
} from "../../math/zones/zoneCylinder.ts";
import { say } from "../../model/say.ts";
import { formZone, spreadOf } from "../fitting/formZone.ts";
import { radiiAboutAxis } from "../fitting/places.ts";
import { provenBy } from "../fitting/provenBy.ts";
import { awayFromAxis, movedRadially, roundSide } from "../fitting/touches.ts";
import type { FitKind, HeldSize } from "./contract.ts";
import { extentAlong } from "./line.ts";

/**
 * Cylinder of least squared distances along the radius. The plan's normal says roughly where the axis points. Ball centres
 * give the same axis; the radius is made smaller (boss) or larger (bore) by the ball's. The measured length runs between
 * the outermost points dropped on the axis. Lengths in mm, frame of the log. Form: two coaxial cylinders (ISO 12180), the
 * axis searched near the fitted one. Throws nothing for data.
 */
export const cylinder: FitKind = {
  fit: "cylinder",
  minimumPoints: 5,
  formPoints: 12,
  singleSurface: false,
  fitTo({ points, touches, plan, ballRadius }) {
    const fit = fitCylinder(points, plan.normal === null ? undefined : unit(plan.normal));
    if (!fit.ok) return fit;
    const { center, direction } = fit;
    const away = awayFromAxis(center, direction);
    const side =
      ballRadius === 0 ? { sign: 0 as const, problem: null } : roundSide(plan, { points, touches }, away);
    const radius = fit.radius - side.sign * ballRadius;
    const { u, v, w } = basis(direction);
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
          covariance: fit.covariance,
          at: ([offsetU = 0, offsetV = 0, slopeU = 0, slopeV = 0, dRadius = 0]) => ({
            center: add(center, add(scale(u, offsetU), scale(v, offsetV))),
            direction: unit(add(w, add(scale(u, slopeU), scale(v, slopeV)))),
            radius: radius + dRadius,
          }),
        },
        extent: extentAlong(points, center, direction),
        tipProblem: side.problem,
        derived: null,
      },
    };
  },
  blindness: (count) =>
    say(
      "{count} points cannot tell taper, bend and lobes of a cylinder apart: three rings of five are the least.",
      { count },
    ),
  distance: ({ center, direction, radius }, place) =>
    length(awayFromAxis(center, direction!)(place)) - (radius ?? 0),
  formOf({ points, geometry, residuals }) {
    const start = { center: geometry.center, direction: geometry.direction! };
    const zone = zoneCylinder(points, start);
    if (!zone.ok) return zone;
    return {
      ok: true,
      value: {
        zone: formZone(
          spreadOf(residuals),
          zone.width,
          provenBy("cylinderZone", points, zone),
          zone.outer,
          zone.inner,
        ),
        places: (kind) => (kind === "minimum" ? radiiAboutAxis(points, zone) : residuals),
        inscribed: size(points, inscribedCylinder(points, start)),
        circumscribed: size(points, circumscribedCylinder(points, start)),
      },
    };
  },
};

const size = (points: Points3, found: Outcome<OneCylinder>): HeldSize | null =>
  found.ok
    ? {
        size: {
          center: found.center,
          diameter: 2 * found.radius,
          support: found.held.map(({ index }) => index),
        },
        weights: found.held.map(({ weight }) => weight),
        radii: () => radiiAboutAxis(points, found),
      }
    : null;
