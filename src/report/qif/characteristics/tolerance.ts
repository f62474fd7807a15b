import type { ReportCharacteristic } from "../../../model/setupReport.ts";
import { decimal, isKnown } from "../value.ts";
import { element, optional, type XmlChildren, type XmlElement } from "../xml.ts";
import type { CharacteristicFacts } from "./contract.ts";

/** Limits of a dimension as they stand in the plan, or that it has none. */
export function dimensionTolerance({ limits: { lower, upper } }: ReportCharacteristic): XmlElement {
  if (!isKnown(lower) && !isKnown(upper)) return element("NonTolerance", "MEASURED");
  return element("Tolerance", [
    decimal("MaxValue", upper),
    decimal("MinValue", lower),
    element("DefinedAsLimit", "true"),
  ]);
}
/** The value aimed at. */
export const target = ({ nominal }: ReportCharacteristic): XmlElement | null =>
  decimal("TargetValue", nominal);

/** Size of a geometrical tolerance zone; null when the plan states no limit, which the standard's own elements cannot leave out. */
export function zoneTolerance({ limits }: ReportCharacteristic): XmlElement | null {
  return isKnown(limits.upper) && limits.upper >= 0 ? decimal("ToleranceValue", limits.upper) : null;
}
/** The reference frame of the datum that the plan names in `to`. */
export const frame = ({ to, frameOf }: CharacteristicFacts): XmlElement | null =>
  optional("DatumReferenceFrameId", to === null ? null : String(frameOf(to)));
export const NO_MATERIAL_CONDITION = element("MaterialCondition", "NONE");
export const zoneShape = (name: string, parts: XmlChildren = []): XmlElement =>
  element("ZoneShape", [element(name, parts)]);

const AXES: Readonly<Record<string, "1 0 0" | "0 1 0" | "0 0 1">> = {
  x: "1 0 0",
  y: "0 1 0",
  z: "0 0 1",
};
/** The plan's `along`, as a unit vector. */
export const vectorAlong = (along: unknown): string | null =>
  typeof along === "string" && Object.hasOwn(AXES, along) ? (AXES[along] ?? null) : null;
