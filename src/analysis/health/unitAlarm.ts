import { say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import { measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

const MM_PER_INCH = 25.4;
/** How near to 25.4 times a ratio must be to look like a mistaken unit. */
const WITHIN = 0.05;

/** A round that is 25.4 times as large or as small as the plan expects: millimetres taken for inches, or the reverse. */
export const unitAlarm: HealthCheck = {
  code: "unit-alarm",
  check: (context) =>
    measuredOf(context).flatMap(({ measured, fitted, log }) => {
      const expected = expectedDiameter(measured.name, context);
      const radius = fitted.ok ? fitted.geometry.radius : null;
      if (expected === null || radius === null || !mistaken((2 * radius) / expected)) return [];
      return [
        {
          finding: {
            level: "error",
            code: "unit-alarm",
            text: say(
              "{feature} measures {size} and the plan expects {expected}, a ratio of {ratio}: inches and millimetres look mixed up.",
              {
                feature: measured.name,
                size: { mm: 2 * radius },
                expected: { mm: expected },
                ratio: { value: (2 * radius) / expected, unit: "", digits: 3 },
              },
            ),
            hint: say("Check the unit of the log and of the plan's nominal.", {}),
            feature: measured.name,
            ...placeOf(log),
          },
          undecides: [],
        },
      ];
    }),
};

const mistaken = (ratio: number): boolean =>
  [MM_PER_INCH, 1 / MM_PER_INCH].some((factor) => Math.abs(ratio / factor - 1) < WITHIN);

/** Nominal of a signed length on the feature alone that its fit shows as a size. */
function expectedDiameter(name: string, { plan }: AnalysisContext): number | null {
  const sized = plan.characteristics.find(
    ({ of, kind, limits }) => of === name && kind === "diameter" && limits.nominal !== null,
  );
  return sized?.limits.nominal ?? null;
}
