/** Two concentric circles in a form plot: shift of their centre and their distances from the base circle, in mm. */
export interface ZoneCircles {
  readonly shift: readonly [number, number];
  readonly outer: number;
  readonly inner: number;
}
export interface ZoneHold {
  /** Direction of the touch from the centre, unit vector in the view. */
  readonly along: readonly [number, number];
  readonly deviation: number;
  readonly outside: boolean;
}

/**
 * The circles through the four touches that the record names as holding the zone. They are drawn, not judged: null
 * unless their distance agrees with the record's own width within two percent.
 */
export function zoneCircles(holds: readonly ZoneHold[], width: number): ZoneCircles | null {
  if (holds.length !== 4) return null;
  const rows = holds.map(({ along, deviation, outside }) => [
    along[0],
    along[1],
    outside ? 1 : 0,
    outside ? 0 : 1,
    deviation,
  ]);
  const solved = eliminate(rows);
  if (solved === null) return null;
  const [x = 0, y = 0, outer = 0, inner = 0] = solved;
  return Math.abs(outer - inner - width) <= 0.02 * width ? { shift: [x, y], outer, inner } : null;
}

/** Four equations by elimination with row exchange; null when they do not determine the four unknowns. */
function eliminate(rows: number[][]): readonly number[] | null {
  const at = (row: number, column: number): number => rows[row]?.[column] ?? 0;
  for (let column = 0; column < 4; column++) {
    let pivot = column;
    for (let row = column; row < 4; row++)
      if (Math.abs(at(row, column)) > Math.abs(at(pivot, column))) pivot = row;
    if (Math.abs(at(pivot, column)) < 1e-9) return null;
    [rows[column], rows[pivot]] = [rows[pivot] ?? [], rows[column] ?? []];
    for (let row = 0; row < 4; row++) {
      if (row === column) continue;
      const factor = at(row, column) / at(column, column);
      rows[row] = (rows[row] ?? []).map((value, k) => value - factor * at(column, k));
    }
  }
  return [0, 1, 2, 3].map((k) => at(k, 4) / at(k, k));
}
