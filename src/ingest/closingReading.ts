import type { Stations } from "./sweepShape.ts";

interface Rows {
  readonly position: readonly number[];
  readonly angle: readonly number[];
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly reading: readonly number[];
  readonly line: readonly number[];
}
export interface ClosingReading {
  /** Readings that count as stations: the first `used`. */
  readonly used: number;
  /** Last less first, as the indicator showed it, mm. */
  readonly difference: number;
  readonly lines: readonly number[];
  readonly words: string;
  readonly because: string;
}

/**
 * The reading at the end of a sweep that repeats its first place: it shows whether anything slipped and is no new
 * station. `repeat` are rows that the plan or their name declare as the repeat; they count station by station.
 */
export function closingReading(
  name: string,
  stations: Stations,
  rows: Rows,
  repeat: Rows | null,
): ClosingReading | null {
  const last = rows.reading.length - 1;
  const inside = last >= 2 && samePlace(stations, rows, 0, rows, last) && hasOtherPlace(stations, rows, last);
  const used = inside ? last : last + 1;
  if (repeat !== null && repeat.reading.length > 0) {
    const difference = meanDifference(stations, rows, used, repeat);
    const lines = [...(inside ? [rows.line[last] ?? 0] : []), ...repeat.line];
    return {
      used,
      difference,
      lines,
      words: `${repeat.reading.length} readings`,
      because: `repeat of ${name}`,
    };
  }
  if (!inside) return null;
  return {
    used,
    difference: (rows.reading[last] ?? 0) - (rows.reading[0] ?? 0),
    lines: [rows.line[last] ?? 0],
    words: `line ${rows.line[last] ?? 0}`,
    because: `the last reading stands at the place of the first, line ${rows.line[0] ?? 0}`,
  };
}

const TURN = 2 * Math.PI;
/** Written angles and positions repeat exactly; the slack is for 360 degrees in radians only. */
const SLACK = 1e-9;

function samePlace(stations: Stations, one: Rows, at: number, other: Rows, to: number): boolean {
  const apart = (from: readonly number[], until: readonly number[]): number =>
    Math.abs((from[at] ?? Number.NaN) - (until[to] ?? Number.NaN));
  if (stations === "position") return apart(one.position, other.position) <= SLACK;
  if (stations === "map") return apart(one.x, other.x) <= SLACK && apart(one.y, other.y) <= SLACK;
  const turn = apart(one.angle, other.angle) % TURN;
  return Math.min(turn, TURN - turn) <= SLACK;
}

const hasOtherPlace = (stations: Stations, rows: Rows, last: number): boolean => {
  for (let at = 1; at < last; at++) if (!samePlace(stations, rows, 0, rows, at)) return true;
  return false;
};

/** Over the repeated places; where none is repeated, the first of both are compared. */
function meanDifference(stations: Stations, rows: Rows, used: number, repeat: Rows): number {
  let sum = 0;
  let count = 0;
  for (let to = 0; to < repeat.reading.length; to++)
    for (let at = 0; at < used; at++) {
      if (!samePlace(stations, rows, at, repeat, to)) continue;
      sum += (repeat.reading[to] ?? 0) - (rows.reading[at] ?? 0);
      count++;
      break;
    }
  return count > 0 ? sum / count : (repeat.reading[0] ?? 0) - (rows.reading[0] ?? 0);
}
