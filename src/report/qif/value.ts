import { decimalText } from "./decimalText.ts";
import { element, type XmlElement } from "./xml.ts";

/** A number that is known, as an element; null when it is not. */
export const decimal = (name: string, value: number | null | undefined): XmlElement | null =>
  isKnown(value) ? element(name, decimalText(value)) : null;
export const isKnown = (value: number | null | undefined): value is number => Number.isFinite(value);

/**
 * A measured value with its combined standard uncertainty: the expanded one over its coverage factor. The mean error stands
 * beside it, because the schema wants both or neither; it is 0, because a stated uncertainty supposes that known errors are
 * taken out (JCGM 100:2008, 3.2.4).
 */
export function measured(
  name: string,
  value: number | null,
  { uncertainty, coverage }: { readonly uncertainty: number | null; readonly coverage: number | null },
): XmlElement | null {
  if (!isKnown(value)) return null;
  const combined = isKnown(uncertainty) && isKnown(coverage) ? uncertainty / coverage : null;
  const known = isKnown(combined) && combined >= 0;
  return element(
    name,
    decimalText(value),
    known ? { combinedUncertainty: decimalText(combined), meanError: "0" } : {},
  );
}
