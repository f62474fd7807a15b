import { subtract, type Vec3 } from "../../math/vector.ts";
import { once } from "../../model/once.ts";
import { axis, feature, oneOf, optional, place } from "../../model/plan/fields.ts";
import { say } from "../../model/say.ts";
import { axisIndex } from "../fitting/lineFrame.ts";
import { evaluation, noValue, pointsOf } from "../judging/evaluation.ts";
import { tipForPlace } from "../judging/reasons.ts";
import { propagate } from "../propagate.ts";
import { uncertaintyOfLength, uncertaintyOfSigned } from "../uncertainty.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ from: oneOf([place(), feature()]), along: optional(axis()) }));

/**
 * Offset: distance of the centre of a circle, sphere or point from `from`, a place (axes left out do not count) or the
 * centre of another feature, mm; with `along` the signed part along that axis, this less `from`. Throws nothing for data.
 */
export const offset: CharacteristicKind<typeof inputs> = {
  kind: "offset",
  inputs,
  limit: "either",
  signedBy: "along",
  limitDimension: "length",
  of: ["circle", "sphere", "point"],
  to: [],
  toRequired: false,
  evaluate(entry, operands, context) {
    const { of } = operands;
    const { from, along } = entry.inputs;
    const other = typeof from === "string" ? context.feature(from, of.state) : null;
    const shared = typeof from === "string" && other !== null && !other.ok ? context.feature(from) : other;
    if (shared !== null && !shared.ok)
      return noValue(operands, {
        text: shared.text,
        remedy: say("Measure {feature}.", { feature: shared.name }),
      });
    const features = shared === null ? [of] : [of, shared];
    const measured = propagate(features, (at) => {
      const center = at(of).center;
      const parts =
        typeof from === "string"
          ? subtract(center, shared === null ? center : at(shared).center)
          : fromPlace(center, [from.x, from.y, from.z]);
      return along === undefined ? parts : [parts[axisIndex(along)] ?? 0];
    });
    const value = along === undefined ? Math.hypot(...measured.value) : measured.value[0]!;
    return evaluation({
      value,
      uncertainty: along === undefined ? uncertaintyOfLength(measured) : uncertaintyOfSigned(measured),
      points: features.reduce((total, part) => total + pointsOf(part), 0),
      method:
        along === undefined
          ? say("distance of the centre from {from}", {
              from: typeof from === "string" ? from : say("the stated place"),
            })
          : say("centre less {from} along {along}", {
              from: typeof from === "string" ? from : say("the stated place"),
              along: along.toUpperCase(),
            }),
      undecided: tipForPlace(features),
      shrinks: { byPoints: true, spanMm: null },
    });
  },
};

/** A centre less a place; axes that the place leaves out are zero. */
export const fromPlace = (center: Vec3, place: readonly (number | null)[]): Vec3 => {
  const part = (i: 0 | 1 | 2): number => {
    const wanted = place[i] ?? null;
    return wanted === null ? 0 : center[i] - wanted;
  };
  return [part(0), part(1), part(2)];
};
