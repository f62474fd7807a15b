import { fitHarmonics } from "../../math/harmonics.ts";
import { dropped } from "../../math/points.ts";
import { once } from "../../model/once.ts";
import { count } from "../../model/plan/fields.ts";
import { say } from "../../model/say.ts";
import { readingScale } from "../fitting/readingScale.ts";
import { evaluation, noValue } from "../judging/evaluation.ts";
import { noZone } from "../judging/formValue.ts";
import { tooFewPoints } from "../judging/reasons.ts";
import { uncertaintyOfLength } from "../uncertainty.ts";
import type { CharacteristicKind } from "./contract.ts";

const inputs = once(() => ({ n: count() }));
const FITTED_TOGETHER = 4;

/**
 * Lobing: radius peak-to-valley of harmonic `n` of a circle about its fitted centre, mm: twice the amplitude. Harmonics 1 to 4
 * (up to `n` if higher) are fitted together by least squares, so that uneven spacing does not mix them.
 * No value where 2n is not below the number of different angles. Throws nothing for data.
 */
export const lobing: CharacteristicKind<typeof inputs> = {
  kind: "lobing",
  inputs,
  limit: "max",
  limitDimension: "length",
  of: ["circle"],
  to: [],
  toRequired: false,
  evaluate(entry, operands, context) {
    const { of } = operands;
    const { n } = entry.inputs;
    const { x, y } = dropped(of.points, of.geometry.center, of.geometry.direction!);
    const fit = fitHarmonics(
      x.map((_, i) => Math.atan2(y[i]!, x[i]!)),
      x.map((_, i) => Math.hypot(x[i]!, y[i]!)),
      { highest: Math.max(n, FITTED_TOGETHER) },
    );
    if (!fit.ok) return noValue(operands, noZone(of.name, fit.text));
    const wave = fit.harmonics[n - 1];
    if (wave === undefined)
      return noValue(operands, {
        text: say("{count} points cannot show {n} waves round {feature}.", {
          count: of.count,
          n,
          feature: of.name,
        }),
        remedy: say("Touch {feature} at {wanted} evenly spaced angles or more.", {
          feature: of.name,
          wanted: 4 * n,
        }),
      });
    const scale = readingScale(of.scale.statedMm, fit.scatter, fit.dof);
    const block = [2 * n - 1, 2 * n].map((a) =>
      [2 * n - 1, 2 * n].map((b) => 4 * fit.covariance[a]![b]! * (scale.sigmaMm ?? 0) ** 2),
    );
    return evaluation({
      value: wave.peakToValley,
      uncertainty: uncertaintyOfLength({
        value: [2 * wave.cosine, 2 * wave.sine],
        sources: [{ covariance: block, degreesOfFreedom: scale.degreesOfFreedom }],
        known: scale.sigmaMm !== null,
      }),
      points: of.count,
      method: say(
        "radius peak to valley of {n} waves about the least-squares centre, harmonics 1 to {highest} together",
        {
          n,
          highest: fit.harmonics.length,
        },
      ),
      undecided: tooFewPoints(of, context),
      shrinks: { byPoints: true, spanMm: null },
    });
  },
};
