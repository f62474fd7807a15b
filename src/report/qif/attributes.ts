import { decimalText } from "./decimalText.ts";
import { counted, element, type XmlElement } from "./xml.ts";

export type Triple = readonly [number, number, number];
/** Name and value of a remark for programs; what is null is not known and left out. */
export type Attribute = readonly [name: string, value: string | number | Triple | null | undefined];

/** What the standard has no element for, as its typed attributes; null when there is none. */
export const attributes = (entries: readonly Attribute[]): XmlElement | null =>
  counted("Attributes", entries.map(attribute));

function attribute([name, value]: Attribute): XmlElement | null {
  if (value === null || value === undefined) return null;
  if (typeof value === "string") return element("AttributeStr", [], { name, value });
  if (typeof value !== "number")
    return isPlace(value) ? element("AttributeD3", [], { name, value: tripleText(value) }) : null;
  if (!Number.isFinite(value)) return null;
  return element("AttributeD1", [], { name, value: decimalText(value) });
}

/** Whether a place or direction is known; a record read back from disk may hold null for what was no number. */
export const isPlace = (triple: Triple | null | undefined): triple is Triple =>
  triple !== null && triple !== undefined && triple.length === 3 && triple.every(Number.isFinite);
export const tripleText = (triple: Triple): string => triple.map(decimalText).join(" ");

/** A list of references to objects of this file. */
export const references = (name: string, ids: readonly number[]): XmlElement | null =>
  counted(
    name,
    ids.map((id) => element("Id", String(id))),
  );
