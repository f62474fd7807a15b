import { type Said, say } from "../../../model/say.ts";
import type { FittedFeature } from "../../fittedFeature.ts";

/** Whether size and place of this surface are not known, because the tip is not taken off or nobody said so. */
export const placeUnknown = (feature: FittedFeature): boolean =>
  feature.tipUnknown || feature.tipProblem !== null;
/** Why, as a sentence. */
export const placeUnknownText = (feature: FittedFeature): Said =>
  feature.tipProblem ??
  say("{of}: not stated whether the tip is taken off, so size and place are not known.", {
    of: feature.name,
  });
