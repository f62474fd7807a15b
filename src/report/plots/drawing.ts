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

interface Bar {
  readonly left: number;
  readonly y: number;
  /** In pixels. */
  readonly length: number;
  /** What it stands for. */
  readonly text: string;
}
/** A length to measure by, lying flat. */
export function scaleBar({ left, y, length, text }: Bar): string {
  const to = px(left + length);
  return (
    element("path", {
      d: `M${px(left)} ${px(y - 3)}V${px(y + 3)}M${px(left)} ${px(y)}H${to}M${to} ${px(y - 3)}V${px(y + 3)}`,
      stroke: INK,
      "stroke-width": 1,
      fill: "none",
      class: "bar",
    }) + label(left, y + 15, text)
  );
}

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
