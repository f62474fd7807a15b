import type { SaidFinding } from "../model/finding.ts";
import { type Said, say } from "../model/say.ts";
import type { ReportFeature } from "../model/setupReport.ts";

/** A finding for each feature that was measured and gave no number: which, and why. */
export function unfitted(features: Readonly<Record<string, ReportFeature<Said>>>): SaidFinding[] {
  return Object.entries(features).flatMap(([name, feature]) =>
    [feature, feature.asFound].flatMap((one) =>
      one !== undefined && one.center === null && one.trouble !== undefined
        ? [finding(name, one.trouble)]
        : [],
    ),
  );
}

const finding = (feature: string, reason: Said): SaidFinding => ({
  level: "error",
  code: "feature-not-fitted",
  text: say("{feature} gives no number. {reason}", { feature, reason }),
  hint: say("Touch {feature} again in more and better spread places.", { feature }),
  feature,
});
