import { fitPlane } from "../../math/fitPlane.ts";
import { add, basis, dot, scale, subtract, unit } from "../../math/vector.ts";
import { zonePlane } from "../../math/zones/zonePlane.ts";
import { say } from "../../model/say.ts";
import { formZone, spreadOf } from "../fitting/formZone.ts";
import { heightsAlong } from "../fitting/places.ts";
import { provenBy } from "../fitting/provenBy.ts";
import { shifted, statedSide } from "../fitting/touches.ts";
import type { FitKind, ZoneKind } from "./contract.ts";

/**
 * Plane of least squared orthogonal distances. The normal points out of the material: the side of the touches, else of
 * the plan's normal, else its largest component is positive. Ball centres are fitted first and then moved by the ball's
 * radius along the fitted normal, because moving along the approach errs on a tilted face. Lengths in mm, frame of the log.
 * Form: minimum zone of two parallel planes (ISO 1101). Throws nothing for data.
 */
export const plane: FitKind = {
  fit: "plane",
  minimumPoints: 3,
  formPoints: 9,
  singleSurface: true,
  fitTo({ points, touches, plan, ballRadius }) {
    const fit = fitPlane(points, statedSide(touches, plan) ?? undefined);
    if (!fit.ok) return fit;
    const { direction } = fit;
    const center = subtract(fit.center, scale(direction, ballRadius));
    const { u, v, w } = basis(direction);
    return {
      ok: true,
      value: {
        geometry: { center, direction, radius: null },
        points: shifted(points, direction, -ballRadius),
        residuals: fit.residuals,
        rmsMm: fit.rms,
        degreesOfFreedom: fit.dof,
        scatterMm: fit.scatter,
        condition: fit.condition,
        iterations: fit.iterations,
        parameters: {
          covariance: fit.covariance,
          at: ([offset = 0, slopeU = 0, slopeV = 0]) => ({
            center: add(center, scale(w, offset)),
            direction: unit(subtract(w, add(scale(u, slopeU), scale(v, slopeV)))),
            radius: null,
          }),
        },
        extent: null,
        tipProblem: null,
        derived: null,
      },
    };
  },
  blindness(count) {
    if (count <= 3) return say("Three points always show a flatness of zero.", {});
    if (count === 4)
      return say(
        "Four points share one residual, plus and minus: a bad one cannot be found, and four corners of a dish read flat.",
        {},
      );
    return say("{count} points see a dish or a twist only where one of them stands on it.", { count });
  },
  distance: ({ center, direction }, place) => dot(subtract(place, center), direction!),
  formOf({ points, geometry, residuals }) {
    const zone = zonePlane(points, { about: geometry.direction! });
    if (!zone.ok) return zone;
    const value = formZone(
      spreadOf(residuals),
      zone.width,
      provenBy("planeZone", points, zone),
      zone.upper,
      zone.lower,
    );
    const places = (kind: ZoneKind) =>
      kind === "minimum" ? heightsAlong(points, geometry.center, zone.normal) : residuals;
    return { ok: true, value: { zone: value, places, inscribed: null, circumscribed: null } };
  },
};
