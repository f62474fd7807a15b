import { counted, type Notebook } from "../notebook.ts";

/**
 * A touch at exactly 0, 0, 0 that lies outside all other touches of its feature is most likely no touch at all. It is
 * kept, because zero is also a place, and it is said.
 */
export function tellZeroRows(
  name: string,
  { x, y, z }: Readonly<Record<"x" | "y" | "z", Float64Array>>,
  lineOf: (at: number) => number,
  notes: Notebook,
): void {
  let count = 0;
  let first = -1;
  for (let at = 0; at < x.length; at++) {
    if (x[at] !== 0 || y[at] !== 0 || z[at] !== 0) continue;
    if (count++ === 0) first = at;
  }
  if (count === 0 || count === x.length) return;
  const outside = [x, y, z].some((values) => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let at = 0; at < x.length; at++) {
      if (x[at] === 0 && y[at] === 0 && z[at] === 0) continue;
      const value = values[at] ?? 0;
      if (value < low) low = value;
      if (value > high) high = value;
    }
    // A touch on the edge of a grid lies on the border of the others, a little outside at most.
    const slack = high - low;
    return 0 < low - slack || 0 > high + slack;
  });
  if (outside)
    notes.notice(
      "warning",
      "zero-row",
      "{count} of {name} at exactly 0, 0, 0, far from the others: perhaps nothing was touched; if so, say exclude in the plan",
      { count: counted(count, "row"), name },
      { line: lineOf(first), feature: name },
    );
}
