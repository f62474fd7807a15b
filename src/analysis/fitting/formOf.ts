import type { Outcome } from "../../math/outcome.ts";
import { type FormResult, NO_FORM } from "../features/contract.ts";
import { fitKind } from "../features/index.ts";
import type { FittedFeature } from "../fittedFeature.ts";

type Form = Outcome<{ readonly value: FormResult }>;
const known = new WeakMap<FittedFeature, Form>();

/** Form and extreme sizes of a feature, computed once: report and characteristics ask for the same. */
export function formOf(feature: FittedFeature): Form {
  const found = known.get(feature);
  if (found !== undefined) return found;
  const form: Form = hasTouches(feature) ? fitKind(feature.fit).formOf(feature) : UNTOUCHED;
  known.set(feature, form);
  return form;
}

const UNTOUCHED: Form = { ok: true, value: NO_FORM };
/** A centre from a table of results has no touches, and so no form. */
const hasTouches = (feature: FittedFeature): boolean =>
  feature.measured !== null && feature.measured.result === undefined;
