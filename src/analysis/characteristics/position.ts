import { add, scale, type Vec3 } from "../../math/vector.ts";
import { once } from "../../model/once.ts";
import { place } from "../../model/plan/fields.ts";
import { say } from "../../model/say.ts";
import type { FittedFeature, Geometry } from "../fittedFeature.ts";
import { evaluation, pointsOf } from "../judging/evaluation.ts";
import { tipForPlace } from "../judging/reasons.ts";
import { propagate } from "../propagate.ts";
import { uncertaintyOfLength } from "../uncertainty.ts";
import type { CharacteristicKind } from "./contract.ts";
import { fromPlace } from "./offset.ts";

const inputs = once(() => ({ at: place() }));

/**
 * Position (ISO 1101): diameter of the zone about the place `at` that holds the centre, twice its distance, mm; axes that
 * `at` leaves out do not count. Of an axis the larger of its two ends. Throws nothing for data.
 */
export const position: CharacteristicKind<typeof inputs> = {
  kind: "position",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["circle", "axis", "point", "cylinder", "sphere"],
  to: [],
  toRequired: false,
  evaluate(entry, { of }) {
    const { at: wanted } = entry.inputs;
    const fromWanted = (end: Vec3): Vec3 => scale(fromPlace(end, [wanted.x, wanted.y, wanted.z]), 2);
    const along = endsAlong(of);
    const sizes = along.map((by) => Math.hypot(...fromWanted(endAt(of.geometry, by))));
    const worst = along[sizes.indexOf(Math.max(...sizes))] ?? 0;
    const measured = propagate([of], (at) => fromWanted(endAt(at(of), worst)));
    return evaluation({
      value: Math.hypot(...measured.value),
      uncertainty: uncertaintyOfLength(measured, { ends: along.length }),
      points: pointsOf(of),
      method:
        along.length > 1
          ? say("twice the distance of the end of the axis farther from the stated place", {})
          : say("twice the distance of the centre from the stated place", {}),
      undecided: tipForPlace([of]),
      shrinks: { byPoints: true, spanMm: null },
    });
  },
};

/** Places along the direction, from the centre, that count: the two ends of an axis, else the centre itself. */
export const endsAlong = ({ extent }: FittedFeature): readonly number[] => (extent === null ? [0] : extent);
export const endAt = ({ center, direction }: Geometry, by: number): Vec3 =>
  by === 0 || direction === null ? center : add(center, scale(direction, by));
