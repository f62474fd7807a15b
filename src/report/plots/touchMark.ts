import { element } from "./svg.ts";

const INK = "#1a1a1a";

export interface Mark {
  readonly cx: number;
  readonly cy: number;
  /** Line of the log; null where the picture's data have none. */
  readonly line: number | null;
  /** Ringed: it holds the zone. */
  readonly holds: boolean;
  /** In a square: it carries an inscribed or circumscribed circle. */
  readonly carries?: boolean;
  /** Filled above or outside, hollow below or inside. */
  readonly filled: boolean;
}

/** One touch. */
export function touchMark({ cx, cy, line, holds, carries = false, filled }: Mark): string {
  const ring = holds
    ? element("circle", { cx, cy, r: 5, fill: "none", stroke: INK, "stroke-width": 0.8, class: "holds" })
    : "";
  const square = carries
    ? element("rect", {
        x: cx - 5,
        y: cy - 5,
        width: 10,
        height: 10,
        fill: "none",
        stroke: INK,
        "stroke-width": 0.8,
        class: "carries",
      })
    : "";
  const dot = element("circle", {
    cx,
    cy,
    r: 2.4,
    fill: filled ? INK : "#fff",
    stroke: INK,
    "stroke-width": 0.8,
    class: "touch",
    "data-line": line === null ? null : String(line),
  });
  return ring + square + dot;
}
