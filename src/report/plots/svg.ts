import { cleanText } from "../cleanText.ts";

type Attributes = Readonly<Record<string, string | number | null>>;

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#x27;",
};
const escapeText = (text: string): string =>
  cleanText(text).replace(/[&<>"']/g, (one) => ESCAPES[one] ?? one);

/** An element; `children` is markup made by these functions, attributes are escaped, null ones left out. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  const written = Object.entries(attributes)
    .filter((entry): entry is [string, string | number] => entry[1] !== null)
    .map(([key, value]) => ` ${key}="${typeof value === "number" ? px(value) : escapeText(value)}"`)
    .join("");
  return children.length === 0 ? `<${name}${written}/>` : `<${name}${written}>${children.join("")}</${name}>`;
}

/** A text at a place; class `halo` keeps it readable over lines. */
export const label = (x: number, y: number, text: string, attributes: Attributes = {}): string =>
  element("text", { x, y, ...attributes }, escapeText(text));

/** A whole picture with its description for those who cannot see it. */
export function picture(
  size: { readonly width: number; readonly height: number },
  description: string,
  ...children: readonly string[]
): string {
  const { width, height } = size;
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      viewBox: `0 0 ${px(width)} ${px(height)}`,
      width: px(width),
      height: px(height),
      role: "img",
      "aria-label": description,
      class: "plot",
    },
    ...children,
  );
}

/** A coordinate with two decimals: a fiftieth of a millimetre on paper. */
export function px(value: number): string {
  const text = String(Math.round(value * 100) / 100);
  return text === "-0" ? "0" : text;
}

/** A path through places. */
export function pathOf(places: readonly (readonly [number, number])[], closed = false): string {
  const steps = places.map(([x, y], index) => `${index === 0 ? "M" : "L"}${px(x)} ${px(y)}`);
  return steps.join("") + (closed && steps.length > 0 ? "Z" : "");
}
