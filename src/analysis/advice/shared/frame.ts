import type { SaidFinding } from "../../../model/finding.ts";
import { say } from "../../../model/say.ts";
import type { FittedFeature } from "../../fittedFeature.ts";

export type Frame = "machine" | "work";

/** The frame in which features were logged: the first one stated, else null. */
export function statedFrame(features: readonly FittedFeature[]): Frame | null {
  for (const feature of features) {
    const frame = feature.measured?.frame ?? null;
    if (frame !== null) return frame;
    const behind = statedFrame(feature.through);
    if (behind !== null) return behind;
  }
  return null;
}

/** A warning where a frame had to be assumed, because the advice depends on it. */
export function assumedFrame(
  kind: string,
  features: readonly FittedFeature[],
  assumed: Frame,
): SaidFinding[] {
  const first = features[0];
  if (first === undefined || statedFrame(features) !== null) return [];
  return [
    {
      level: "warning",
      code: "frame-assumed",
      text: say(
        assumed === "work"
          ? "{kind}: the log does not say which coordinates these are; taken as coordinates of the active offset."
          : "{kind}: the log does not say which coordinates these are; taken as machine coordinates.",
        { kind: say(kind) },
      ),
      hint: say("State frame: machine or frame: work in the log's header or the plan's logs."),
      feature: first.name,
    },
  ];
}
