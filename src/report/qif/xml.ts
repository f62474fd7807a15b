/** One element with text or with children; attributes and children stand in the order given. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly content: string | readonly XmlElement[];
}
export type XmlChildren = readonly (XmlElement | null)[];

/** An element; null children are what is not known, and are left out. */
export function element(
  name: string,
  content: string | XmlChildren = [],
  attributes: Readonly<Record<string, string>> = {},
): XmlElement {
  return { name, attributes, content: typeof content === "string" ? content : content.filter(isElement) };
}
/** An element only where there is something to say. */
export const optional = (name: string, content: string | null | undefined): XmlElement | null =>
  content === null || content === undefined ? null : element(name, content);
/** A list that states its own length in `n`; null when empty, because the standard has no empty lists. */
export function counted(
  name: string,
  children: XmlChildren,
  attributes: Readonly<Record<string, string>> = {},
): XmlElement | null {
  const there = children.filter(isElement);
  return there.length === 0 ? null : element(name, there, { n: String(there.length), ...attributes });
}
const isElement = (child: XmlElement | null): child is XmlElement => child !== null;

/** A whole document (XML 1.0, fifth edition), indented by two blanks. Every text is escaped; what XML forbids is replaced. */
export const xmlDocument = (root: XmlElement): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n${written(root, "")}`;

function written({ name, attributes, content }: XmlElement, indent: string): string {
  const marks = Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${escaped(value).replaceAll('"', "&quot;").replace(LAYOUT, reference)}"`)
    .join("");
  const open = `${indent}<${name}${marks}`;
  if (content.length === 0) return `${open}/>\n`;
  if (typeof content === "string") return `${open}>${escaped(content)}</${name}>\n`;
  const children = content.map((child) => written(child, `${indent}  `)).join("");
  return `${open}>\n${children}${indent}</${name}>\n`;
}

/** Control characters that XML 1.0 forbids, or allows but advises against (section 2.2). */
const CONTROL = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]/g;
/** Half characters and the two codes that are no characters. */
const NO_CHARACTER = /\p{Cs}|[\ufffe\uffff]/gu;
/** A reader would turn these into blanks within an attribute. */
const LAYOUT = /[\t\n]/g;
const reference = (letter: string): string => `&#${letter.codePointAt(0)};`;

const escaped = (text: string): string =>
  text
    .replace(CONTROL, " ")
    .replace(NO_CHARACTER, "\ufffd")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll("\r", "&#13;");
/** A text as an XML token: one blank between words, none at the ends. */
export const token = (text: string): string =>
  text
    .replace(CONTROL, " ")
    .replace(/[ \t\r\n]+/g, " ")
    .replace(/^ | $/g, "");
