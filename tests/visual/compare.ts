// Two printings of a page are compared by where their ink lies, so roughly that another typeface passes and a lost column does not.

/** Ink of a page in cells, row by row: 0 is paper, 1 is black. */
export interface PageInk {
  readonly columns: number;
  readonly rows: number;
  readonly ink: Float64Array;
}

/** Cells at head and foot that hold only the sheet's margins and its running line. */
const HEAD = 5;
const FOOT = 8;
/** A row with less ink is paper. */
const PAPER = 0.05;
/** How far ink may wander sideways: letters of another typeface are wider or narrower. */
const SPREAD = 2;
/** Rows of the reference that are judged together: a few lines of a table. */
const STRETCH = 8;
/** A stretch of a good page has less of its ink elsewhere: another typeface reaches 0.33, a lost column 0.57. */
export const MOST_APART = 0.4;
/** How many rows the two may have drifted apart. */
const DRIFT = 160;

type Row = Float64Array;

/** How much of the ink is elsewhere, 0 to 1, for every stretch of rows of the reference. */
export function differences(reference: readonly PageInk[], now: readonly PageInk[]): readonly number[] {
  const [a, b] = [rowsOf(reference), rowsOf(now)];
  const [apartOf, inkOf] = [new Float64Array(a.length), new Float64Array(a.length)];
  for (const [i, j] of align(a, b)) {
    apartOf[i] = (apartOf[i] ?? 0) + apart(a[i], b[j]);
    inkOf[i] = (inkOf[i] ?? 0) + most(a[i], b[j]);
  }
  const sum = (column: Float64Array, start: number): number =>
    column.subarray(start, start + STRETCH).reduce((total, one) => total + one, 0);
  return Array.from({ length: Math.ceil((2 * a.length) / STRETCH) }, (_, index) => {
    const start = Math.min((index * STRETCH) / 2, Math.max(0, a.length - STRETCH));
    return sum(apartOf, start) / Math.max(1, sum(inkOf, start));
  });
}

/** All rows with ink, page after page, each spread a little sideways. */
function rowsOf(pages: readonly PageInk[]): readonly Row[] {
  return pages.flatMap(({ columns, rows, ink }) =>
    Array.from({ length: rows - HEAD - FOOT }, (_, row) =>
      ink.subarray((row + HEAD) * columns, (row + HEAD + 1) * columns),
    )
      .filter((row) => row.reduce((total, one) => total + one, 0) > PAPER)
      .map(spread),
  );
}

function spread(row: Row): Row {
  return row.map((_, column) => {
    let total = 0;
    for (let near = column - SPREAD; near <= column + SPREAD; near++) total += row[near] ?? 0;
    return total / (2 * SPREAD + 1);
  });
}

type Pair = readonly [reference: number, now: number];

/** Rows that belong together, in order, with the least ink apart. A row may stand for several: where more lines wrap, blocks are higher. */
function align(a: readonly Row[], b: readonly Row[]): readonly Pair[] {
  const width = b.length;
  const cost = new Float64Array(a.length * width).fill(Number.POSITIVE_INFINITY);
  const step = new Uint8Array(a.length * width);
  const drift = Math.abs(a.length - b.length) + DRIFT;
  for (let i = 0; i < a.length; i++)
    for (let j = Math.max(0, i - drift); j < Math.min(width, i + drift); j++) {
      const here = i * width + j;
      const ways = [
        i > 0 && j > 0 ? (cost[here - width - 1] ?? 0) : Number.POSITIVE_INFINITY,
        i > 0 ? (cost[here - width] ?? 0) : Number.POSITIVE_INFINITY,
        j > 0 ? (cost[here - 1] ?? 0) : Number.POSITIVE_INFINITY,
      ];
      const best = Math.min(...ways);
      step[here] = ways.indexOf(best);
      cost[here] = (i === 0 && j === 0 ? 0 : best) + apart(a[i], b[j]);
    }
  const pairs: Pair[] = [];
  let [i, j] = [a.length - 1, width - 1];
  while (i > 0 || j > 0) {
    pairs.push([i, j]);
    const kind = i === 0 ? 2 : j === 0 ? 1 : (step[i * width + j] ?? 0);
    if (kind !== 2) i -= 1;
    if (kind !== 1) j -= 1;
  }
  return [...pairs, [0, 0] as const].reverse();
}

function apart(a: Row | undefined, b: Row | undefined): number {
  let total = 0;
  const length = Math.max(a?.length ?? 0, b?.length ?? 0);
  for (let column = 0; column < length; column++) total += Math.abs((a?.[column] ?? 0) - (b?.[column] ?? 0));
  return total;
}

function most(a: Row | undefined, b: Row | undefined): number {
  let total = 0;
  const length = Math.max(a?.length ?? 0, b?.length ?? 0);
  for (let column = 0; column < length; column++) total += Math.max(a?.[column] ?? 0, b?.[column] ?? 0);
  return total;
}
