import { dot, scale, subtract, type Vec3 } from "../../math/vector.ts";
import { say } from "../../model/say.ts";
import type { Geometry } from "../fittedFeature.ts";
import { evaluation, pointsOf } from "../judging/evaluation.ts";
import { tipForPlace } from "../judging/reasons.ts";
import { propagate } from "../propagate.ts";
import { uncertaintyOfLength } from "../uncertainty.ts";
import type { CharacteristicKind } from "./contract.ts";
import { endAt, endsAlong } from "./position.ts";

const inputs = () => ({});

/**
 * Coaxiality (ISO 1101): diameter of the cylinder about the datum axis that holds the axis over its measured length, mm:
 * twice the larger distance of its two ends. Throws nothing for data.
 */
export const coaxiality: CharacteristicKind<typeof inputs> = {
  kind: "coaxiality",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["axis", "cylinder"],
  to: ["axis", "cylinder"],
  toRequired: true,
  evaluate(_, { of, to }) {
    const datum = to ?? of;
    const along = endsAlong(of);
    const sizes = along.map((by) => Math.hypot(...twiceFrom(datum.geometry, endAt(of.geometry, by))));
    const worst = along[sizes.indexOf(Math.max(...sizes))] ?? 0;
    const measured = propagate([of, datum], (at) => twiceFrom(at(datum), endAt(at(of), worst)));
    return evaluation({
      value: Math.hypot(...measured.value),
      uncertainty: uncertaintyOfLength(measured, { ends: 2 }),
      points: pointsOf(of),
      method: say("twice the larger distance of the ends of the axis from the datum axis", {}),
      undecided: tipForPlace([of, datum]),
      shrinks: { byPoints: true, spanMm: null },
    });
  },
};

/** Twice the vector from an axis to a place, square to the axis. */
function twiceFrom({ center, direction }: Geometry, place: Vec3): Vec3 {
  const from = subtract(place, center);
  return scale(subtract(from, scale(direction!, dot(from, direction!))), 2);
}
