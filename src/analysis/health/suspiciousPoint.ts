import { type Points3, pointAt } from "../../math/points.ts";
import { studentQuantile } from "../../math/studentT.ts";
import type { SaidFinding } from "../../model/finding.ts";
import { type Said, say } from "../../model/say.ts";
import { fitKind } from "../features/index.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { judgesState, type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck, HealthResult } from "./contract.ts";

/** With fewer points one bad reading cannot be told from the others. */
const FEWEST = 6;
/** Refitting more than this takes longer than the hint is worth. */
const MOST = 20_000;
/** Chance of pointing at a sound reading, over all points of a feature. */
const RISK = 0.01;

interface Suspect {
  readonly index: number;
  /** Distance of the point from the fit of the others, mm. */
  readonly awayMm: number;
  readonly scatterMm: number;
}

/**
 * One point far off the fit of all others: the point with the largest residual is left out, the rest fitted again, and its
 * distance from that fit compared with their scatter (Student's t, for all points together at 1 %). It is only pointed at,
 * never left out: removal needs a cause. Source: ASTM E178 (in the sense of an outlier test; from memory).
 */
export const suspiciousPoint: HealthCheck = {
  code: "suspicious-point",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      const { fitted } = entry;
      if (!fitted.ok || fitted.derived !== null || fitted.plan === null) return [];
      const suspect = suspectOf(fitted, entry.readingMm);
      if (suspect === null) return [];
      const made = result(entry, suspect);
      // What was as it was found cannot be touched again.
      return [judgesState(entry, context) ? { ...made, again: againFor(made.finding, suspect) } : made];
    }),
};

function suspectOf(feature: FittedFeature, readingMm: number | null): Suspect | null {
  const kind = fitKind(feature.fit);
  const { points, residuals, count } = feature;
  if (kind.formPoints === null || count < FEWEST || count <= kind.minimumPoints + 1 || count > MOST)
    return null;
  let index = 0;
  residuals.forEach((residual, i) => {
    if (Math.abs(residual) > Math.abs(residuals[index]!)) index = i;
  });
  const others = kind.fitTo({
    points: withoutPoint(points, index),
    touches: null,
    plan: feature.plan!,
    ballRadius: 0,
    through: [],
  });
  if (!others.ok || others.value.scatterMm === null) return null;
  const { geometry, scatterMm, degreesOfFreedom } = others.value;
  const awayMm = kind.distance(geometry, pointAt(points, index));
  // A quarter more for what the others' fit itself is unsure of at this place.
  const bound =
    1.25 * studentQuantile(RISK / (2 * count), degreesOfFreedom) * Math.max(scatterMm, readingMm ?? 0);
  return Math.abs(awayMm) > bound && Math.abs(awayMm) > 1e-9 ? { index, awayMm, scatterMm } : null;
}

function withoutPoint({ x, y, z }: Points3, index: number): Points3 {
  const keep = (column: Float64Array) => column.filter((_, i) => i !== index);
  return { x: keep(x), y: keep(y), z: keep(z) };
}

function result({ measured, log }: Measured, { index, awayMm, scatterMm }: Suspect): HealthResult {
  const line = measured.readings.line[index];
  return {
    finding: {
      level: "warning",
      code: "suspicious-point",
      text: say(
        "One reading of {feature} stands {away} off the fit of the others, which scatter by {scatter}: it looks like a chip, an edge or a hole.",
        {
          feature: measured.name,
          away: { mm: awayMm, signed: true },
          scatter: { mm: scatterMm, as: "uncertainty" },
        },
      ),
      hint: say(
        "Clean the place and touch it again. Nothing was left out; to leave it out for a cause, name the line under exclude in the plan.",
        {},
      ),
      feature: measured.name,
      ...placeOf(log),
      ...(line === undefined ? {} : { line }),
    },
    undecides: [],
  };
}

const againFor = ({ feature = "", line }: SaidFinding, { awayMm }: Suspect): Said =>
  say(
    "First clean and touch {feature} again{where}: one reading stands {away} off the others, and the lines below are worked out with it.",
    {
      feature,
      where: line === undefined ? "" : say(" (line {line})", { line }),
      away: { mm: awayMm, signed: true },
    },
  );
