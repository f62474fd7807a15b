import { fitCircle2 } from "../../math/fitCircle2.ts";
import { zoneCircle } from "../../math/zones/zoneCircle.ts";
import { once } from "../../model/once.ts";
import { say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import { fitKind } from "../features/index.ts";
import { spreadOf } from "../fitting/formZone.ts";
import { radiiAbout } from "../fitting/places.ts";
import { type Section, sectionsOf } from "../fitting/sections.ts";
import { evaluation, noValue, travelTerm } from "../judging/evaluation.ts";
import { chanceRemark, formValue, noZone, zoneChoice } from "../judging/formValue.ts";
import { tooFewPoints } from "../judging/reasons.ts";
import { type FormHold, uncertaintyOfForm } from "../uncertainty.ts";
import type { CharacteristicKind, Evaluation, Operands } from "./contract.ts";

const inputs = once(() => ({ zone: zoneChoice() }));
type Zone = "minimum" | "least-squares";

/**
 * Roundness (ISO 12181): least radial distance of two concentric circles that hold all points, mm. Of a cylinder: each
 * ring of touches dropped along the fitted axis, the worst counts. `zone: least-squares` gives the spread about the fitted
 * circle. Throws nothing for data.
 */
export const roundness: CharacteristicKind<typeof inputs> = {
  kind: "roundness",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["circle", "cylinder"],
  to: [],
  toRequired: false,
  evaluate(entry, operands, context) {
    const zone = entry.inputs.zone ?? "minimum";
    if (operands.of.extent !== null) return worstSection(operands, context, zone);
    return formValue(operands, context, {
      zone,
      freedoms: 2,
      minimum: say("minimum zone of two concentric circles (ISO 12181)", {}),
      leastSquares: say("spread about the least-squares circle", {}),
    });
  },
};

function worstSection(operands: Operands, context: AnalysisContext, zone: Zone): Evaluation {
  const { of } = operands;
  const sections = sectionsOf(of);
  const results = sections.flatMap((section) => {
    const value = sectionZone(section, zone);
    return value === null ? [] : [{ section, ...value }];
  });
  const worst = results.reduce<(typeof results)[number] | null>(
    (most, result) => (most === null || result.value > most.value ? result : most),
    null,
  );
  if (worst === null) return noValue(operands, noRings(of.name));
  const wanted = context.plan.points.circle ?? fitKind("circle").formPoints ?? 0;
  const fewest = sections.reduce(
    (least, { members }) => Math.min(least, members.length),
    Number.POSITIVE_INFINITY,
  );
  const count = worst.section.members.length;
  return evaluation({
    value: worst.value,
    uncertainty: uncertaintyOfForm({
      ...worst,
      among: Float64Array.from(results, ({ value }) => value),
      readingMm: of.scale.statedMm,
      points: count,
      freedoms: 2,
      extra: travelTerm(context),
    }),
    points: of.count,
    method: say(
      "worst of {count} rings of touches, each dropped along the fitted axis; the worst at {height} from the middle",
      {
        count: sections.length,
        height: { mm: worst.section.height, digits: 2 },
      },
    ),
    undecided: [
      ...tooFewPoints(of, context, {
        count: fewest,
        wanted,
        noun: say("each ring of {feature}", { feature: of.name }),
      }),
    ],
    remarks: chanceRemark(worst.value, of.scale.statedMm, count, 2),
  });
}

type Held = Pick<FormHold, "value" | "upper" | "lower" | "places">;
function sectionZone({ points }: Section, zone: Zone): Held | null {
  const fit = fitCircle2(points);
  if (!fit.ok) return null;
  if (zone === "least-squares") {
    const { residuals } = fit;
    return { value: spreadOf(residuals), upper: [1], lower: [1], places: () => residuals };
  }
  const found = zoneCircle(points, { start: fit.center });
  if (!found.ok) return null;
  return {
    value: found.width,
    upper: found.outer.map(({ weight }) => weight),
    lower: found.inner.map(({ weight }) => weight),
    places: () => radiiAbout(points, found.center),
  };
}

const noRings = (feature: string) => ({
  text: noZone(feature, "The touches do not lie in rings with clear gaps between them.").text,
  remedy: say("Touch {feature} in rings, each at one height with at least 7 touches.", { feature }),
});
