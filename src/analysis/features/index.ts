import type { FitName } from "../../model/plan/plan.ts";
import { axis } from "./axis.ts";
import { circle } from "./circle.ts";
import type { FitKind } from "./contract.ts";
import { cylinder } from "./cylinder.ts";
import { line } from "./line.ts";
import { plane } from "./plane.ts";
import { point } from "./point.ts";
import { sphere } from "./sphere.ts";

export const fitKinds: readonly FitKind[] = [plane, line, circle, cylinder, sphere, point, axis];

const byName = new Map(fitKinds.map((kind) => [kind.fit, kind]));
/** The member for a fit. Throws RangeError for a name that is not on the shelf: the plan reader has checked it. */
export function fitKind(fit: FitName): FitKind {
  const kind = byName.get(fit);
  if (kind === undefined) throw new RangeError(`no fit ${fit}`);
  return kind;
}
