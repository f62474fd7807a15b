import { coverageFactor } from "../math/studentT.ts";
import type { Decision, Limits } from "../model/plan/plan.ts";
import { type Said, say } from "../model/say.ts";
import { expanded, type Uncertainty } from "./uncertainty.ts";

export interface Undecided {
  /** Value and limits in mm or radians. */
  readonly value: number;
  readonly limits: Limits;
  readonly uncertainty: Uncertainty;
  readonly decision: Decision;
  /** Number of readings behind the value. */
  readonly points: number;
  /** Standard uncertainty of one reading now, mm; null when only the scatter is known. */
  readonly readingMm: number | null;
  /** What makes the uncertainty smaller; see `Evaluation.shrinks`. */
  readonly shrinks: { readonly byPoints: boolean; readonly spanMm: number | null };
}
/** One way to come to a decision, with the numbers that it needs. */
export type WayToDecide =
  | { readonly way: "points"; readonly points: number; readonly text: Said }
  | { readonly way: "span"; readonly spanMm: number; readonly points: number; readonly text: Said }
  | { readonly way: "gauge"; readonly readingMm: number; readonly text: Said }
  | { readonly way: "too-near"; readonly text: Said };

/** The new guard band is to take at most this part of the distance to the limit: the new value will scatter too. */
const MARGIN = 0.4;
/** Beyond this many times the readings nobody goes on touching. */
const MOST_TIMES = 20;
/** A gauge better than the present one by more than this is not to be had for the asking. */
const BEST_GAUGE = 1 / 20;

/**
 * Ways to decide a value that lies inside the guard band of a limit, cheapest first: more readings with the same gauge (the
 * uncertainty falls with the root of their number), a longer span (it falls with the span), a better gauge (it falls
 * with the gauge's). Each is sized so that the new guard band is two fifths of the distance to the limit. When the value is nearer to
 * the limit than any of these can resolve, or the limits are closer together than the guard bands, that is said instead.
 * @example waysToDecide({value: 0.009, limits: {nominal: null, lower: null, upper: 0.012}, uncertainty: {standard: 0.002, degreesOfFreedom: Infinity, coverage: 2}, decision: {rule: "guarded", guard: 1}, points: 9, readingMm: 0.004, shrinks: {byPoints: true, spanMm: null}})
 */
export function waysToDecide(question: Undecided): readonly WayToDecide[] {
  const { value, limits, uncertainty, decision, points, readingMm, shrinks } = question;
  const room = roomOf(value, limits);
  const guardBand = decision.guard * expanded(uncertainty);
  if (room === null || !(guardBand > 0)) return [];
  // How many times smaller the guard band must become.
  const times = guardBand / (MARGIN * room);
  // With as many readings as now, chance alone may let their scatter govern next time, with its wider factor.
  const same = times * chanceFactor(points, uncertainty);
  const ways: WayToDecide[] = [];
  const wanted = Math.ceil(points * times * times);
  if (shrinks.byPoints && times > 0 && wanted <= MOST_TIMES * points)
    ways.push({
      way: "points",
      points: wanted,
      text: say("Take {wanted} readings in place of {points}, spread in the same way, with the same gauge.", {
        wanted,
        points,
      }),
    });
  const longer = spanFor(points, times, uncertainty);
  if (shrinks.spanMm !== null && longer.times <= MOST_SPAN)
    ways.push({
      way: "span",
      spanMm: shrinks.spanMm * longer.times,
      points: longer.points,
      text: say("Measure over {wanted} in place of {span}, with {count} readings spread evenly.", {
        wanted: { mm: shrinks.spanMm * longer.times, digits: 0 },
        span: { mm: shrinks.spanMm, digits: 0 },
        count: longer.points,
      }),
    });
  if (readingMm !== null && 1 / same >= BEST_GAUGE)
    ways.push({
      way: "gauge",
      readingMm: readingMm / same,
      text: say(
        "Use a gauge with a standard uncertainty of {wanted} or less for one reading; now it is {reading}.",
        {
          wanted: { mm: readingMm / same, as: "uncertainty" },
          reading: { mm: readingMm, as: "uncertainty" },
        },
      ),
    });
  if (ways.length > 0) return ways;
  return [
    {
      way: "too-near",
      text: say(
        "The value is too near the limit for any sensible measurement to decide: correct the part, or settle with whoever set the limit.",
        {},
      ),
    },
  ];
}

/** A span this many times as long is not to be had on the same part. */
const MOST_SPAN = 4;
const LEAST_FOR_SPAN = 12;
/**
 * A longer span with at least a dozen even readings, so that chance does not widen its factor much: how many times as long.
 * Readings spread evenly over a span have the sum of squares n (n + 1) / (12 (n - 1)) span^2.
 */
function spanFor(
  now: number,
  times: number,
  uncertainty: Uncertainty,
): { readonly points: number; readonly times: number } {
  const points = Math.max(now, LEAST_FOR_SPAN);
  const squares = (n: number): number => (n * (n + 1)) / (n - 1);
  const gain = Math.sqrt(squares(points) / squares(Math.max(2, now)));
  return { points, times: Math.max(1, (times * chanceFactor(points, uncertainty)) / gain) };
}

/** Freedoms that a usual fit leaves of its readings: a plane or a circle takes three. */
const TAKEN = 3;
const MOST_WIDER = 2;
/** How much wider the factor of a few readings is than the present one; 1 where the seen scatter governs already. */
function chanceFactor(points: number, { coverage }: Uncertainty): number {
  const next = coverageFactor(Math.max(1, points - TAKEN));
  return Math.min(MOST_WIDER, Math.max(1, next / coverage));
}

/**
 * Distance to the nearest limit. Between two limits it is at most half their distance; a value outside is measured from
 * the limit it broke. Null without limits.
 */
function roomOf(value: number, { lower, upper }: Limits): number | null {
  const rooms = [upper === null ? null : upper - value, lower === null ? null : value - lower].filter(
    (room) => room !== null,
  );
  if (rooms.length === 0) return null;
  return Math.abs(Math.min(...rooms));
}
