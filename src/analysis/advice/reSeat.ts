import { summarise } from "../../math/statistics.ts";
import { once } from "../../model/once.ts";
import {
  choice,
  feature,
  features,
  type Inputs,
  oneOf,
  optional,
  positiveLength,
} from "../../model/plan/fields.ts";
import { type Said, type SaidValue, say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import type { FeatureResult, FittedFeature } from "../fittedFeature.ts";
import { quantityWords } from "../quantityWords.ts";
import type { Advice, AdviceKind } from "./contract.ts";
import { advised, undecided, withoutFeature } from "./shared/answer.ts";
import { faceSlopes } from "./shared/slopes.ts";
import { placeUnknown, placeUnknownText } from "./shared/tip.ts";
import { mm, signedMm, signedSlope, stated } from "./shared/words.ts";

const QUANTITIES = ["slopeX", "slopeY", "x", "y", "z"] as const;
type Quantity = (typeof QUANTITIES)[number];
const inputs = once(() => ({
  /** The same thing after each seating, in order; or `ledger`: `feature` in the reports before this one. */
  of: oneOf([choice(["ledger"]), features()]),
  feature: optional(feature()),
  quantity: optional(choice(QUANTITIES)),
  limit: optional(positiveLength()),
  /** The length over which the limit holds for a slope. */
  over: optional(positiveLength()),
}));
type ReSeat = Readonly<Inputs<typeof inputs>>;
const EMPTY = { count: null, mean: null, deviation: null, range: null };

/**
 * How well something comes back to its place: mean, sample standard deviation and range of one quantity over several
 * seatings (slope of a plane, mm per mm; place of a centre, mm), and its drift against earlier reports. The range is
 * compared with `limit`, for slopes over the length `over`. Source: sample statistics.
 */
export const reSeat: AdviceKind<typeof inputs> = {
  kind: "re-seat",
  turn: 2,
  mends: [],
  inputs,
  advise(entry, context) {
    const names = namesOf(entry);
    const of = entry.of === "ledger" ? (entry.feature ?? null) : names;
    const refuse = (headline: Said): Advice => undecided({ of, headline, values: EMPTY });
    if (names.length === 0)
      return refuse(say("State which feature of the ledger to compare: feature: NAME."));
    const results = names.map((name) => context.feature(name));
    const fitted = results.filter((one): one is FittedFeature => one.ok);
    const quantity = entry.quantity ?? defaultQuantity(results);
    const blurred = fitted.find((one) => !isSlope(quantity) && singleSurface(one) && placeUnknown(one));
    if (blurred !== undefined) return refuse(placeUnknownText(blurred));
    const seatings = seatingsOf(entry, context, results, quantity);
    if (seatings.length < 2) {
      const missing = results.find((one) => !one.ok);
      if (missing !== undefined && !missing.ok && entry.of !== "ledger")
        return withoutFeature(missing, of, EMPTY);
      return refuse(
        say("Two seatings at least are needed, three are better: here is {count}.", {
          count: seatings.length,
        }),
      );
    }
    return answerFor(entry, context, { of, names, quantity, seatings });
  },
};

const namesOf = (entry: ReSeat): readonly string[] =>
  entry.of === "ledger"
    ? entry.feature === undefined
      ? []
      : [entry.feature]
    : (entry.of as readonly string[]);
const isSlope = (quantity: Quantity): boolean => quantity === "slopeX" || quantity === "slopeY";
const singleSurface = ({ fit }: FittedFeature): boolean =>
  fit === "plane" || fit === "line" || fit === "point";
/** Planes and lines come back in their slope, everything else in its place. */
function defaultQuantity(results: readonly FeatureResult[]): Quantity {
  const first = results.find((one): one is FittedFeature => one.ok);
  if (first === undefined || (first.fit !== "plane" && first.fit !== "line")) return "x";
  return faceSlopes(first).slopeX === null ? "slopeY" : "slopeX";
}

interface Seating {
  readonly from: string;
  readonly value: number;
}
function seatingsOf(
  entry: ReSeat,
  context: AnalysisContext,
  results: readonly FeatureResult[],
  quantity: Quantity,
): Seating[] {
  const now = results.flatMap((one) => {
    const value = one.ok ? quantityOf(one, quantity) : null;
    return value === null ? [] : [{ from: one.name, value }];
  });
  if (entry.of !== "ledger") return now;
  return [
    ...earlier(context, namesOf(entry), quantity).map((one) => ({ from: one.report, value: one.value })),
    ...now,
  ];
}
const earlier = (context: AnalysisContext, names: readonly string[], quantity: Quantity) =>
  context.history.filter((one) => names.includes(one.of) && one.quantity === quantity);

function quantityOf(found: FittedFeature, quantity: Quantity): number | null {
  if (quantity === "slopeX" || quantity === "slopeY") return faceSlopes(found)[quantity];
  return found.geometry.center[["x", "y", "z"].indexOf(quantity)] ?? null;
}

interface Judged {
  readonly of: string | readonly string[] | null;
  readonly names: readonly string[];
  readonly quantity: Quantity;
  readonly seatings: readonly Seating[];
}
function answerFor(entry: ReSeat, context: AnalysisContext, judged: Judged): Advice {
  const { quantity, seatings, of } = judged;
  const { count, mean, deviation, range } = summarise(seatings.map((one) => one.value));
  const words = wordsOf(quantity);
  const spread = (value: number): SaidValue => (isSlope(quantity) ? { slope: value } : mm(value));
  const drift = entry.of === "ledger" ? [] : driftLines(context, judged, mean);
  return advised({
    of,
    values: { count, mean, deviation, range },
    plot: {
      kind: "re-seat",
      data: {
        values: seatings.map((one) => one.value),
        unit: quantity.startsWith("slope") ? "slope" : "mm",
      },
    },
    headline: headlineOf(entry, judged, range),
    expect: say("The next seating falls within {range} of the mean.", { range: spread(range) }),
    next: say("Outside the limit: clean seat, pins and pull-studs, look for a burr, seat again three times."),
    working: [
      ...seatings.map((one) =>
        say("{from}: {quantity} {value}", {
          from: one.from,
          quantity: quantityWords(quantity),
          value: words(one.value),
        }),
      ),
      say("mean {mean}, standard deviation {deviation}, largest less smallest {range}", {
        mean: words(mean),
        deviation: deviation === null ? say("not known") : spread(deviation),
        range: spread(range),
      }),
      ...drift,
    ],
    cautions: [
      ...(count < 3
        ? [say("{count} seatings say little about spread: seat at least three times.", { count })]
        : []),
      say("Seat it the same way each time: the same push, the same order of bolts."),
    ],
  });
}
const wordsOf =
  (quantity: Quantity) =>
  (value: number): SaidValue =>
    isSlope(quantity) ? signedSlope(value) : signedMm(value);

function headlineOf(entry: ReSeat, { quantity, seatings }: Judged, range: number): Said {
  const slope = isSlope(quantity);
  const values = {
    count: seatings.length,
    quantity: quantityWords(quantity),
    range: slope ? ({ slope: range } as const) : mm(range),
    over: stated(entry.over ?? 0),
    length: mm(slope ? range * (entry.over ?? 0) : range),
    limit: stated(entry.limit ?? 0),
  };
  if (entry.limit === undefined) return say("{count} seatings: {quantity} within {range}", values);
  if (slope && entry.over === undefined)
    return say("{count} seatings: {quantity} within {range}; state over to hold it against {limit}", values);
  const inside = (slope ? range * (entry.over ?? 0) : range) <= entry.limit;
  const where = slope ? " over {over}" : "";
  return say(
    inside
      ? `Comes back: {count} seatings within {length}${where}, limit {limit}`
      : `Does NOT come back: {count} seatings differ {length}${where}, limit {limit}`,
    values,
  );
}

/** Mean of these seatings against the same in earlier reports. */
function driftLines(context: AnalysisContext, { names, quantity }: Judged, mean: number): Said[] {
  const before = earlier(context, names, quantity);
  if (before.length === 0) return [say("no earlier report of this: no drift can be told")];
  const old = summarise(before.map((one) => one.value));
  const words = wordsOf(quantity);
  return [
    say("drift against {count} earlier values (mean {old}): {drift}", {
      count: old.count,
      old: words(old.mean),
      drift: words(mean - old.mean),
    }),
  ];
}
