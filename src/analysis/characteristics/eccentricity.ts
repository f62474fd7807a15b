import { dot, scale, subtract, type Vec3 } from "../../math/vector.ts";
import { once } from "../../model/once.ts";
import { lengthFromZero, optional } from "../../model/plan/fields.ts";
import type { Plan } from "../../model/plan/plan.ts";
import { say } from "../../model/say.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { axisVector, largestAxis } from "../fitting/lineFrame.ts";
import { evaluation } from "../judging/evaluation.ts";
import { propagate } from "../propagate.ts";
import { uncertaintyOfLength } from "../uncertainty.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ sag: optional(lengthFromZero()) }));

/**
 * Eccentricity: distance of a circle's centre from the axis of the sweep, or of a touched circle from the log's zero, mm,
 * square to the axis. The sag of the arm stated in the log's header is already out of the readings; `sag` of the entry, or
 * what another entry of the plan states for this sweep, counts only where the header states none, and on rim sweeps only: the
 * true centre lies lower by it. Throws nothing for data.
 */
export const eccentricity: CharacteristicKind<typeof inputs> = {
  kind: "eccentricity",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["circle"],
  to: [],
  toRequired: false,
  evaluate({ inputs }, { of }, { plan }) {
    const axis = axisOf(of);
    const sweep = of.measured?.sweep;
    const swept = sweep?.kind === "rim-sweep" && sweep.headerSagMm === null;
    const taken = swept ? (inputs.sag ?? sagElsewhere(plan, of.name)) : 0;
    const measured = propagate([of], (at) => {
      const [x, y, z] = at(of).center;
      return acrossAxis([x, y - taken, z], axis);
    });
    return evaluation({
      value: Math.hypot(...measured.value),
      uncertainty: uncertaintyOfLength(measured),
      points: of.count,
      method:
        sweep === undefined
          ? say("distance of the least-squares centre from the log's zero, square to the axis", {})
          : taken === 0
            ? say("distance of the least-squares centre from the axis of the sweep", {})
            : say("distance of the least-squares centre from the axis of the sweep, after a sag of {sag}", {
                sag: { mm: taken, as: "stated" },
              }),
      shrinks: { byPoints: true, spanMm: null },
    });
  },
};

/** One arm swept it: what the plan states of its sag for another result counts here too. mm. */
function sagElsewhere({ characteristics, advice }: Plan, name: string): number {
  const others = [
    ...characteristics.filter(({ of }) => of === name),
    ...advice.filter(({ inputs }) => inputs.of === name),
  ];
  return others.map(({ inputs }) => inputs.sag).find((sag): sag is number => typeof sag === "number") ?? 0;
}

/** The stated normal, else the axis of the frame nearest the circle's own: its small tilt must not lever the zero. */
const axisOf = ({ plan, geometry }: FittedFeature): Vec3 => {
  if (plan?.normal) return scale(plan.normal, 1 / Math.hypot(...plan.normal));
  return axisVector((["x", "y", "z"] as const)[largestAxis(geometry.direction ?? [0, 0, 1])]);
};
const acrossAxis = (place: Vec3, axis: Vec3): Vec3 => subtract(place, scale(axis, dot(place, axis)));
