import { once } from "../../../model/once.ts";
import { optional, positiveLength, quantity, refined } from "../../../model/plan/fields.ts";
import type { Said } from "../../../model/say.ts";
import { type Blank, weightKg, weightLine } from "../../weight.ts";

/** Keys of kinds that know the size of the blank: its density and the shop's own limit for lifting by hand. */
export const weightInputs = once(() => ({
  density: optional(refined(quantity("density"), (value) => value > 0, "expected a density above zero")),
  "hoist-above": optional(refined(quantity("mass"), (value) => value > 0, "expected a mass above zero")),
  length: optional(positiveLength()),
}));
/** The line on the weight of the blank; none while its size or density is not stated. */
export function weightOf(
  entry: { readonly density?: number | undefined; readonly "hoist-above"?: number | undefined },
  blank: Blank | null,
): Said[] {
  if (blank === null || entry.density === undefined) return [];
  return [weightLine(weightKg(blank, entry.density), entry["hoist-above"])];
}
