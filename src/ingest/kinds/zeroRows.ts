import { counted, type Notebook } from "../notebook.ts";

/**
 * A touch at exactly 0, 0, 0 that lies outside all other touches of its feature is most likely no touch at all. It is
 * kept, because zero is also a place, and it is said.
 */
export function tellZeroRows(
  name: string,
  rows: Readonly<Record<"x" | "y" | "z" | "line", readonly number[]>>,
  notes: Notebook,
): void {
  const zero = rows.x.flatMap((x, at) => (x === 0 && rows.y[at] === 0 && rows.z[at] === 0 ? [at] : []));
  if (zero.length === 0 || zero.length === rows.x.length) return;
  const outside = (["x", "y", "z"] as const).some((axis) => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    rows[axis].forEach((value, at) => {
      if (zero.includes(at)) return;
      low = Math.min(low, value);
      high = Math.max(high, value);
    });
    // A touch on the edge of a grid lies on the border of the others, a little outside at most.
    const slack = high - low;
    return 0 < low - slack || 0 > high + slack;
  });
  const [first = 0] = zero;
  if (outside)
    notes.notice(
      "warning",
      "zero-row",
      "{count} of {name} at exactly 0, 0, 0, far from the others: perhaps nothing was touched; if so, say exclude in the plan",
      { count: counted(zero.length, "row"), name },
      { line: rows.line[first] ?? 0, feature: name },
    );
}
