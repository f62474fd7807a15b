import type { SaidFinding } from "../model/finding.ts";
import { type Said, say } from "../model/say.ts";
import type { ReportFeature } from "../model/setupReport.ts";

/** A warning for each form zone whose certificate did not hold: its value is only an upper bound. */
export function unproved(features: Readonly<Record<string, ReportFeature<Said>>>): SaidFinding[] {
  return Object.entries(features).flatMap(([name, feature]) =>
    [feature, feature.asFound].flatMap((one) =>
      one?.zone?.proof === "none" && one.zone.support !== undefined ? [finding(name)] : [],
    ),
  );
}

const finding = (feature: string): SaidFinding => ({
  level: "warning",
  code: "zone-not-proved",
  text: say("The least zone of {feature} could not be proved; its value is an upper bound.", { feature }),
  hint: say("The form is at most this; touch again where points lie close together or stand twice.", {}),
  feature,
});
