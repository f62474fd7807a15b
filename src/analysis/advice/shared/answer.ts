import type { Said } from "../../../model/say.ts";
import type { AdviceValue, ReportAdvice } from "../../../model/setupReport.ts";
import type { FeatureResult, FittedFeature, UnfittedFeature } from "../../fittedFeature.ts";
import type { Advice } from "../contract.ts";

/** What a kind fills in; everything left out is empty. */
export interface Answer {
  readonly of: ReportAdvice["of"];
  readonly headline: Said;
  readonly values: Readonly<Record<string, AdviceValue>>;
  readonly moves?: Advice["moves"];
  readonly expect?: Said | null;
  readonly next?: Said | null;
  readonly working?: readonly Said[];
  readonly cautions?: readonly Said[];
  readonly shifts?: boolean;
  readonly halt?: boolean;
  readonly plot?: { readonly kind: string; readonly data: unknown };
}

/** The advice with its empty parts filled in. */
export function advised(answer: Answer, status: Advice["status"] = "advised"): Advice {
  const { of, headline, values, plot } = answer;
  return {
    of,
    headline,
    moves: answer.moves ?? [],
    expect: answer.expect ?? null,
    next: answer.next ?? null,
    values,
    working: answer.working ?? [],
    cautions: answer.cautions ?? [],
    status,
    ...(answer.shifts === true ? { shifts: true } : {}),
    ...(answer.halt === true ? { halt: true } : {}),
    ...(plot === undefined ? {} : { plot }),
  };
}
/** No number can be given: the headline is the reason. */
export const undecided = (answer: Answer): Advice => advised(answer, "undecided");

/** The advice when a feature it needs has no fit: the feature's own sentence is the reason. */
export function withoutFeature(
  feature: UnfittedFeature,
  of: ReportAdvice["of"],
  values: Readonly<Record<string, AdviceValue>>,
): Advice {
  return advised({ of, headline: feature.text, values }, feature.why === "missing" ? "missing" : "undecided");
}

/** The first feature without a fit, or null when all have one. */
export const firstUnfitted = (features: readonly FeatureResult[]): UnfittedFeature | null =>
  features.find((feature): feature is UnfittedFeature => !feature.ok) ?? null;

/** Those that have a fit. */
export const fittedOnly = (features: readonly FeatureResult[]): FittedFeature[] =>
  features.filter((feature): feature is FittedFeature => feature.ok);
