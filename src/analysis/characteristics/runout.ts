import type { Sweep } from "../../model/measurement.ts";
import { once } from "../../model/once.ts";
import { lengthFromZero, optional } from "../../model/plan/fields.ts";
import { say } from "../../model/say.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { spreadOf } from "../fitting/formZone.ts";
import { evaluation, noValue, travelTerm } from "../judging/evaluation.ts";
import { uncertaintyOfForm } from "../uncertainty.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ sag: optional(lengthFromZero()) }));

/**
 * Runout of a sweep: full indicator movement, largest less smallest reading, mm. The sag of the arm stated in the log's
 * header is already out of the readings; `sag` of the entry counts only where the header states none, and on rim sweeps
 * only. Throws nothing for data.
 */
export const runout: CharacteristicKind<typeof inputs> = {
  kind: "runout",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["plane", "circle", "line"],
  to: [],
  toRequired: false,
  evaluate(entry, operands, context) {
    const { of } = operands;
    const sweep = of.measured?.sweep;
    if (sweep === undefined)
      return noValue(operands, {
        text: say("{feature} was touched and not swept: there is no indicator movement.", {
          feature: of.name,
        }),
        remedy: say("Sweep {feature} with an indicator.", { feature: of.name }),
      });
    const sag = sweep.kind === "rim-sweep" && sweep.headerSagMm === null ? (entry.inputs.sag ?? null) : null;
    const readings = withoutSag(sweep, of, sag ?? 0);
    const value = spreadOf(readings);
    const stated = sag ?? sweep.headerSagMm;
    return evaluation({
      value,
      uncertainty: uncertaintyOfForm({
        value,
        upper: [1],
        lower: [1],
        readingMm: of.scale.statedMm,
        points: of.count,
        freedoms: 0,
        places: () => readings,
        extra: sweep.kind === "traverse" ? travelTerm(context) : [],
      }),
      points: of.count,
      method:
        stated === null
          ? say("full indicator movement", {})
          : say("full indicator movement after a sag of {sag}", { sag: { mm: stated, as: "stated" } }),
    });
  },
};

/**
 * Readings as a stiff arm would have given them. The arm droops towards -Y, so that the measured centre is high by the sag:
 * a bore's readings gain sag x sin(angle), a boss's lose it.
 */
function withoutSag(sweep: Sweep, of: FittedFeature, sagMm: number): Float64Array {
  const { station } = sweep;
  if (sagMm === 0 || station === undefined) return sweep.reading;
  const sign = of.plan?.surface === "bore" ? 1 : -1;
  return sweep.reading.map((reading, i) => reading + sign * sagMm * Math.sin(station[i]!));
}
