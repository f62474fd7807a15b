import { element, pathOf, px } from "./svg.ts";

/** With more touches than this they are a crowd: drawn by where they lie and how far they reach, not one by one. */
export const MOST_MARKS = 300;

/** Side of a cell in pixels. */
const CELL = 4;
/** More touches in a cell are drawn darker, in steps that stay apart in grey. */
const SHADES = ["#b4c0c8", "#85959f", "#4f626d"] as const;

export const isCrowd = (count: number): boolean => count > MOST_MARKS;

/** Where touches lie, as small squares, darker where more lie: a path for each shade, however many touches. */
export function density(places: readonly (readonly [number, number])[]): string {
  const cells = new Map<string, { readonly x: number; readonly y: number; count: number }>();
  for (const [x, y] of places) {
    const [column, row] = [Math.floor(x / CELL), Math.floor(y / CELL)];
    const cell = cells.get(`${column} ${row}`) ?? { x: column * CELL, y: row * CELL, count: 0 };
    cell.count += 1;
    cells.set(`${column} ${row}`, cell);
  }
  const most = [...cells.values()].reduce((high, { count }) => Math.max(high, count), 1);
  const shadeOf = (count: number): number =>
    most === 1 ? 1 : Math.min(SHADES.length - 1, Math.floor(((count - 1) / (most - 1)) * SHADES.length));
  return SHADES.map((fill, shade) => {
    const squares = [...cells.values()].filter(({ count }) => shadeOf(count) === shade);
    if (squares.length === 0) return "";
    const d = squares.map(({ x, y }) => `M${px(x + 1.2)} ${px(y + 1.2)}h1.6v1.6h-1.6Z`).join("");
    return element("path", { d, fill, class: "crowd" });
  }).join("");
}

/** How far a crowd reaches along its order: the outline of the highest and lowest of each stretch. */
export function reach(
  spots: readonly { readonly at: number; readonly value: number }[],
  stretches: number,
  placeOf: (at: number, value: number) => readonly [number, number],
): string {
  const [from, to] = spots.reduce(
    ([low, high], { at }) => [Math.min(low, at), Math.max(high, at)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  ) as [number, number];
  if (!(to > from)) return "";
  const ends = new Map<number, { at: number; low: number; high: number }>();
  for (const { at, value } of spots) {
    const index = Math.min(stretches - 1, Math.floor(((at - from) / (to - from)) * stretches));
    const known = ends.get(index);
    const middle = from + ((index + 0.5) * (to - from)) / stretches;
    ends.set(index, {
      at: middle,
      low: Math.min(known?.low ?? value, value),
      high: Math.max(known?.high ?? value, value),
    });
  }
  const ordered = [...ends.entries()].sort(([a], [b]) => a - b).map(([, end]) => end);
  const outline = [
    ...ordered.map(({ at, high }) => placeOf(at, high)),
    ...ordered.reverse().map(({ at, low }) => placeOf(at, low)),
  ];
  return element("path", {
    d: pathOf(outline, true),
    fill: "#c5ced4",
    stroke: "#647b89",
    "stroke-width": 0.5,
    class: "crowd",
  });
}
