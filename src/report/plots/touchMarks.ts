import { INK } from "./drawing.ts";
import { element, px } from "./svg.ts";

/** Across a dot with its rim, and across the white in a hollow one, in pixels. */
const ACROSS = 5.6;
const ACROSS_WHITE = 4;

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

/** Touches, the filled ones above the hollow ones. */
export function touchMarks(marks: readonly Mark[]): string {
  const hollow = marks.filter((mark) => !mark.filled);
  const filled = marks.filter((mark) => mark.filled);
  return [
    ...marks.filter((mark) => mark.holds).map(ring),
    ...marks.filter((mark) => mark.carries).map(square),
    dots(hollow, { stroke: INK, "stroke-width": ACROSS, class: "touches hollow", ...linesOf(hollow) }),
    dots(hollow, { stroke: "#fff", "stroke-width": ACROSS_WHITE }),
    dots(filled, { stroke: INK, "stroke-width": ACROSS, class: "touches filled", ...linesOf(filled) }),
  ].join("");
}

/** One path for all: the round ends of strokes too short to be seen. A circle for each makes a page heavy and slow. */
function dots(marks: readonly Mark[], attributes: Readonly<Record<string, string | number>>): string {
  if (marks.length === 0) return "";
  const d = marks.map(({ cx, cy }) => `M${px(cx)} ${px(cy)}h.01`).join("");
  return element("path", { d, fill: "none", "stroke-linecap": "round", ...attributes });
}

/** The lines of the log in the order of the dots, where the picture's data have them. */
function linesOf(marks: readonly Mark[]): Readonly<Record<string, string>> {
  return marks.every((mark) => mark.line === null)
    ? {}
    : { "data-lines": marks.map((mark) => mark.line ?? "-").join(" ") };
}

const OUTLINE = { fill: "none", stroke: INK, "stroke-width": 0.8 } as const;
const ring = ({ cx, cy }: Mark): string => element("circle", { cx, cy, r: 5, ...OUTLINE, class: "holds" });
const square = ({ cx, cy }: Mark): string =>
  element("rect", { x: cx - 5, y: cy - 5, width: 10, height: 10, ...OUTLINE, class: "carries" });
