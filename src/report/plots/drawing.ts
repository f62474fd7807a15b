import { element, label, px } from "./svg.ts";

export const INK = "#1a1a1a";

/** A straight line. */
export const stroke = (
  from: readonly [number, number],
  to: readonly [number, number],
  attributes: Readonly<Record<string, string | number>> = {},
): string =>
  element("path", {
    d: `M${px(from[0])} ${px(from[1])}L${px(to[0])} ${px(to[1])}`,
    stroke: INK,
    "stroke-width": 1,
    fill: "none",
    ...attributes,
  });

/** An arrow that stands upright or lies flat, with a filled head. */
export function arrow(from: readonly [number, number], to: readonly [number, number], name: string): string {
  const [dx, dy] = [Math.sign(to[0] - from[0]), Math.sign(to[1] - from[1])];
  const [x, y] = to;
  const head = dx === 0 ? `M${px(x)} ${px(y)}l-4 ${-7 * dy}h8Z` : `M${px(x)} ${px(y)}l${-7 * dx} -4v8Z`;
  return stroke(from, to, { "stroke-width": 1.6, class: name }) + element("path", { d: head, fill: INK });
}

/** A named mark below or above a place. */
export const nameAt = (x: number, y: number, text: string, strong = false): string =>
  label(x, y, text, { "text-anchor": "middle", class: strong ? "strong" : "halo" });
