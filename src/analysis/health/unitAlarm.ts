import { type Said, say } from "../../model/say.ts";
import type { CharacteristicEntry } from "../characteristics/contract.ts";
import { characteristicKinds } from "../characteristics/index.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { judgesState, type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck, HealthResult } from "./contract.ts";

const MM_PER_INCH = 25.4;
/** How near to 25.4 times a ratio must be to look like a mistaken unit. */
const WITHIN = 0.05;
/** Shorter expected lengths are deviations rather than sizes, and any ratio to them is chance, mm. */
const SHORTEST = 1;

/** A length as measured and as the plan expects it, mm, with its sentence. */
interface Clue {
  readonly measuredMm: number;
  readonly expectedMm: number;
  readonly template: string;
  readonly of: string;
}

/**
 * A size, a distance or a place that is 25.4 times as large or as small as the plan expects: millimetres taken for inches, or
 * the reverse. Everything in such a log is as wrong, a flatness too, which nobody would see; so nothing of the log is decided.
 */
export const unitAlarm: HealthCheck = {
  code: "unit-alarm",
  check(context) {
    const measured = measuredOf(context);
    return context.set.logs.flatMap((_, index): HealthResult[] => {
      const ofLog = measured.filter((entry) => entry.measured.log === index);
      const alarmed = ofLog.flatMap((entry) => {
        const clue = cluesOf(entry, context).find(mistaken);
        return clue === undefined ? [] : [{ entry, clue }];
      })[0];
      if (alarmed === undefined) return [];
      const stopped = ofLog.filter((entry) => judgesState(entry, context));
      return [result(alarmed.entry, alarmed.clue, [...new Set(stopped.map((entry) => entry.measured.name))])];
    });
  },
};

function result({ measured, log }: Measured, clue: Clue, undecides: readonly string[]): HealthResult {
  return {
    finding: {
      level: "error",
      code: "unit-alarm",
      text: textOf(clue),
      hint: say("Check the unit of the log and of the plan's nominal.", {}),
      feature: measured.name,
      ...placeOf(log),
    },
    undecides,
  };
}

const textOf = ({ template, of, measuredMm, expectedMm }: Clue): Said =>
  say(template, {
    feature: of,
    size: { mm: measuredMm },
    expected: { mm: expectedMm, as: "stated" },
    ratio: { value: measuredMm / expectedMm, unit: "", digits: 3 },
  });

const mistaken = ({ measuredMm, expectedMm }: Clue): boolean =>
  Math.abs(expectedMm) >= SHORTEST &&
  [MM_PER_INCH, 1 / MM_PER_INCH].some((factor) => Math.abs(measuredMm / expectedMm / factor - 1) < WITHIN);

/** What the plan expects of the feature in lengths. The radius of a rim sweep is the plan's own and says nothing. */
function cluesOf({ measured, fitted }: Measured, context: AnalysisContext): readonly Clue[] {
  if (!fitted.ok || typeof measured.sweep?.radiusMm === "number") return [];
  return context.plan.characteristics
    .filter(({ of }) => of === measured.name)
    .flatMap((entry) => [
      ...sizeClue(entry as CharacteristicEntry<never>, fitted, context),
      ...placeClue(entry.inputs.at ?? entry.inputs.from, fitted),
    ]);
}

/** Kinds whose nominal is a length of the part: a slope's or a form's does not grow with a mistaken unit alone. */
const SIZES = new Set(["diameter", "distance", "offset"]);

function sizeClue(
  entry: CharacteristicEntry<never>,
  fitted: FittedFeature,
  context: AnalysisContext,
): readonly Clue[] {
  const { nominal } = entry.limits;
  if (nominal === null || !SIZES.has(entry.kind)) return [];
  const value = entry.kind === "diameter" ? diameterOf(fitted) : evaluated(entry, fitted, context);
  return value === null
    ? []
    : [
        {
          measuredMm: value,
          expectedMm: nominal,
          of: entry.kind === "diameter" ? fitted.name : entry.id,
          template:
            "{feature} measures {size} and the plan expects {expected}, a ratio of {ratio}: inches and millimetres look mixed up.",
        },
      ];
}

const diameterOf = ({ geometry }: FittedFeature): number | null =>
  geometry.radius === null ? null : 2 * geometry.radius;

function evaluated(
  entry: CharacteristicEntry<never>,
  of: FittedFeature,
  context: AnalysisContext,
): number | null {
  const to = entry.to === null ? null : context.feature(entry.to);
  if (to !== null && !to.ok) return null;
  const kind = characteristicKinds.find((one) => one.kind === entry.kind);
  return kind?.evaluate(entry, { of, to }, context).value ?? null;
}

/** A centre that lies in the expected direction, but 25.4 times as far from zero or as near. */
function placeClue(wanted: unknown, { name, geometry }: FittedFeature): readonly Clue[] {
  const expected = placeFrom(wanted);
  if (expected === null) return [];
  const center = geometry.center.map((part, i) => (expected[i] === null ? 0 : part));
  const target = expected.map((part) => part ?? 0);
  const [measuredMm, expectedMm] = [Math.hypot(...center), Math.hypot(...target)];
  const along = center.reduce((total, part, i) => total + part * target[i]!, 0);
  if (!(along > (1 - WITHIN ** 2) * measuredMm * expectedMm)) return [];
  return [
    {
      measuredMm,
      expectedMm,
      of: name,
      template:
        "The centre of {feature} lies {size} from the log's zero and the plan expects {expected}, a ratio of {ratio}: inches and millimetres look mixed up.",
    },
  ];
}

/** The axes of a place that count; null for what is no place, such as the name of a feature. */
function placeFrom(wanted: unknown): readonly (number | null)[] | null {
  if (typeof wanted !== "object" || wanted === null) return null;
  const axes = wanted as Readonly<Record<string, unknown>>;
  return ["x", "y", "z"].map((axis) => (typeof axes[axis] === "number" ? axes[axis] : null));
}
