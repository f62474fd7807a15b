import { type Said, say } from "../../model/say.ts";
import { fitKind } from "../features/index.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { measuredOf, placeOf } from "../judging/measuredOf.ts";
import { formPointsFor } from "../judging/reasons.ts";
import type { HealthCheck } from "./contract.ts";
import { widestGap } from "./shortArc.ts";

/** What a feature of few points cannot show, in numbers; sizes and places of it are judged all the same. */
export const fewPoints: HealthCheck = {
  code: "few-points",
  check: (context) =>
    measuredOf(context).flatMap(({ measured, fitted, log }) => {
      if (!fitted.ok || measured.result !== undefined) return [];
      const wanted = formPointsFor(fitted, context);
      const blindness =
        wanted !== null && fitted.count < wanted ? fitKind(fitted.fit).blindness(fitted.count) : null;
      if (blindness === null || wanted === null) return [];
      return [
        {
          finding: {
            level: "note",
            code: "few-points",
            text: textOf(measured.name, blindness, unseenFlat(fitted)),
            hint: say("Touch {feature} in at least {wanted} places before its form is judged.", {
              feature: measured.name,
              wanted,
            }),
            feature: measured.name,
            ...placeOf(log),
          },
          undecides: [],
        },
      ];
    }),
};

/** A flat between two neighbouring touches of a round that none of them sees. */
interface Flat {
  readonly widthMm: number;
  readonly depthMm: number;
}

const textOf = (feature: string, blindness: Said, flat: Flat | null): Said =>
  flat === null
    ? say("{feature}: {blindness}", { feature, blindness })
    : say("{feature}: {blindness} A flat {width} wide and {depth} deep fits unseen between two touches.", {
        feature,
        blindness,
        width: { mm: flat.widthMm, digits: 1 },
        depth: { mm: flat.depthMm, digits: 3 },
      });

/** Chord over the widest gap g of the touches: 2 R sin(g/2) wide, R (1 - cos(g/2)) deep; null for what is not round. */
function unseenFlat(feature: FittedFeature): Flat | null {
  const gap = widestGap(feature);
  const { radius } = feature.geometry;
  // Over half a turn without a touch there is no chord to speak of.
  if (gap === null || radius === null || gap >= Math.PI) return null;
  return { widthMm: 2 * radius * Math.sin(gap / 2), depthMm: radius * (1 - Math.cos(gap / 2)) };
}
