import { fitSphere } from "../../math/fitSphere.ts";
import type { Outcome } from "../../math/outcome.ts";
import type { Points3 } from "../../math/points.ts";
import { add, length, subtract } from "../../math/vector.ts";
import { circumscribedSphere } from "../../math/zones/circumscribedSphere.ts";
import { inscribedSphere, type OneSphere, zoneSphere } from "../../math/zones/zoneSphere.ts";
import { say } from "../../model/say.ts";
import { formZone, spreadOf } from "../fitting/formZone.ts";
import { radiiAboutCenter } from "../fitting/places.ts";
import { movedRadially, roundSide } from "../fitting/touches.ts";
import type { FitKind, HeldSize } from "./contract.ts";

/**
 * Sphere of least squared distances along the radius. Ball centres give the same centre; the radius is made smaller (boss,
 * the ordinary reference ball) or larger (bore) by the ball's. Lengths in mm, frame of the log. Form: two concentric
 * spheres, the centre searched near the fitted one; where that does not settle the spread about the fit, an upper bound. Throws nothing for data.
 */
export const sphere: FitKind = {
  fit: "sphere",
  minimumPoints: 4,
  formPoints: 9,
  singleSurface: false,
  fitTo({ points, touches, plan, ballRadius }) {
    const fit = fitSphere(points);
    if (!fit.ok) return fit;
    const { center } = fit;
    const away = (place: typeof center) => subtract(place, center);
    const side =
      ballRadius === 0 ? { sign: 0 as const, problem: null } : roundSide(plan, { points, touches }, away);
    const radius = fit.radius - side.sign * ballRadius;
    return {
      ok: true,
      value: {
        geometry: { center, direction: null, radius },
        points: movedRadially(points, away, side.sign, ballRadius),
        residuals: fit.residuals,
        rmsMm: fit.rms,
        degreesOfFreedom: fit.dof,
        scatterMm: fit.scatter,
        condition: fit.condition,
        iterations: fit.iterations,
        parameters: {
          covariance: fit.covariance,
          at: ([x = 0, y = 0, z = 0, dRadius = 0]) => ({
            center: add(center, [x, y, z]),
            direction: null,
            radius: radius + dRadius,
          }),
        },
        extent: null,
        tipProblem: side.problem,
        derived: null,
      },
    };
  },
  blindness: (count) =>
    count <= 4
      ? say("Four points always lie on a sphere.", {})
      : say("{count} points on a sphere cannot tell form from one bad reading.", { count }),
  distance: ({ center, radius }, place) => length(subtract(place, center)) - (radius ?? 0),
  formOf({ points, geometry, residuals }) {
    const start = geometry.center;
    const zone = zoneSphere(points, start);
    const leastSquares = spreadOf(residuals);
    return {
      ok: true,
      value: {
        zone: zone.ok
          ? formZone(leastSquares, zone.width, zone.proof, zone.outer, zone.inner)
          : { leastSquares, minimum: leastSquares, proof: "none" },
        places: (kind) => (kind === "minimum" && zone.ok ? radiiAboutCenter(points, zone.center) : residuals),
        inscribed: held(points, inscribedSphere(points, start)),
        circumscribed: held(points, circumscribedSphere(points)),
      },
    };
  },
};

const held = (points: Points3, found: Outcome<OneSphere>): HeldSize | null =>
  found.ok
    ? {
        size: {
          center: found.center,
          diameter: 2 * found.radius,
          support: found.held.map(({ index }) => index),
        },
        weights: found.held.map(({ weight }) => weight),
        radii: () => radiiAboutCenter(points, found.center),
      }
    : null;
