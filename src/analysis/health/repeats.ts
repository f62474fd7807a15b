import { chiSquareQuantile } from "../../math/chiSquareQuantile.ts";
import { toFrame } from "../../math/points.ts";
import { say } from "../../model/say.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import { readingColumn } from "../judging/readingColumn.ts";
import type { HealthCheck } from "./contract.ts";

/** Chance that sound repeats scatter above the bound. */
const CHANCE = 0.001;
/** Touches nearer than this in both directions along the surface count as the same place, mm. */
const SAME_PLACE = 0.02;

/** Places that were read more than once: how well the readings repeat, against the stated uncertainty of one (chi-square, 0.1 %). */
export const repeats: HealthCheck = {
  code: "repeats",
  check: (context) =>
    measuredOf(context).flatMap((entry) => {
      const { measured, readingMm, log } = entry;
      const seen = readingMm === null ? null : repeatScatter(entry);
      if (seen === null || readingMm === null || seen.scatter <= bound(seen.freedom) * readingMm) return [];
      return [
        {
          finding: {
            level: "warning",
            code: "repeats",
            text: say(
              "Places of {feature} that were read again repeat to {scatter} only; {stated} is stated for one reading.",
              {
                feature: measured.name,
                scatter: { mm: seen.scatter, as: "uncertainty" },
                stated: { mm: readingMm, as: "uncertainty" },
              },
            ),
            hint: say(
              "Check tip, clamping and cleanliness, or state the uncertainty that the gauge shows here.",
              {},
            ),
            feature: measured.name,
            ...placeOf(log),
          },
          undecides: [],
        },
      ];
    }),
};

/** How many times the uncertainty of one reading sound repeats may scatter. */
const bound = (freedom: number): number => Math.sqrt(chiSquareQuantile(1 - CHANCE, freedom) / freedom);

/** Pooled sample standard deviation of readings at the same place; null where no place was read twice. */
function repeatScatter(entry: Measured): { scatter: number; freedom: number } | null {
  const read = readingsAt(entry);
  if (read === null) return null;
  const { first, count } = samePlaces(read.u, read.v);
  const sums = new Float64Array(count.length);
  for (let i = 0; i < first.length; i++) sums[first[i]!]! += read.value[i]!;
  let [squares, freedom] = [0, 0];
  for (let i = 0; i < first.length; i++) {
    const group = first[i]!;
    if (count[group]! < 2) continue;
    squares += (read.value[i]! - sums[group]! / count[group]!) ** 2;
    if (group !== i) freedom++;
  }
  return freedom === 0 ? null : { scatter: Math.sqrt(squares / freedom), freedom };
}

/** Readings, and where along the surface each stands: u and v in mm. */
interface ReadAt {
  readonly value: Float64Array;
  readonly u: Float64Array;
  readonly v: Float64Array;
}

function readingsAt({ measured, fitted }: Measured): ReadAt | null {
  const value = readingColumn(measured, fitted);
  const station = measured.sweep?.station;
  if (value !== null && station !== undefined) {
    const scale = measured.sweep?.radiusMm ?? 1;
    return { value, u: station.map((place) => place * scale), v: new Float64Array(station.length) };
  }
  if (value !== null) {
    const [u, v] = (["x", "y", "z"] as const)
      .map((axis) => measured.readings[axis])
      .filter((a) => a !== value);
    // The readings of a map are a column of their own beside z.
    return { value, u: u!, v: v! };
  }
  return fitted.ok && fitted.derived === null ? roundReadings(fitted) : null;
}

/** Of a round: its residuals, at their place round the axis and along it. */
function roundReadings({ geometry, points, residuals }: FittedFeature): ReadAt | null {
  const { center, direction, radius } = geometry;
  if (direction === null || radius === null) return null;
  const { x, y, z } = toFrame(points, center, direction);
  return { value: residuals, u: x.map((value, i) => Math.atan2(y[i]!, value) * radius), v: z };
}

/** Side of the cells in which a place is looked for; no cell holds more than 81 places that are not the same. */
const CELL = 8 * SAME_PLACE;

/** For each touch the first one within SAME_PLACE of it in u and v, itself where there is none; and how many each first one has. */
function samePlaces(u: Float64Array, v: Float64Array): { first: Int32Array; count: Int32Array } {
  const first = new Int32Array(u.length);
  const count = new Int32Array(u.length);
  const places = new Places(u, v);
  for (let i = 0; i < u.length; i++) {
    const same = places.near(i);
    if (same < 0) places.add(i);
    first[i] = same < 0 ? i : same;
    count[first[i]!]!++;
  }
  return { first, count };
}

/** Touches by the cell that they lie in: a table of hashes, with those of one entry in a chain. */
class Places {
  readonly #u: Float64Array;
  readonly #v: Float64Array;
  readonly #heads: Int32Array;
  readonly #next: Int32Array;

  constructor(u: Float64Array, v: Float64Array) {
    this.#u = u;
    this.#v = v;
    this.#heads = new Int32Array(2 ** Math.ceil(Math.log2(2 * u.length + 2))).fill(-1);
    this.#next = new Int32Array(u.length);
  }
  add(i: number): void {
    const entry = this.#entry(Math.floor(this.#u[i]! / CELL), Math.floor(this.#v[i]! / CELL));
    this.#next[i] = this.#heads[entry]!;
    this.#heads[entry] = i;
  }
  /** An added touch within SAME_PLACE of touch `i`; -1 when there is none. */
  near(i: number): number {
    const [u, v] = [this.#u[i]!, this.#v[i]!];
    const [lastColumn, lastRow] = [Math.floor((u + SAME_PLACE) / CELL), Math.floor((v + SAME_PLACE) / CELL)];
    for (let column = Math.floor((u - SAME_PLACE) / CELL); column <= lastColumn; column++)
      for (let row = Math.floor((v - SAME_PLACE) / CELL); row <= lastRow; row++)
        for (let k = this.#heads[this.#entry(column, row)]!; k >= 0; k = this.#next[k]!)
          if (Math.abs(this.#u[k]! - u) <= SAME_PLACE && Math.abs(this.#v[k]! - v) <= SAME_PLACE) return k;
    return -1;
  }
  #entry(column: number, row: number): number {
    return (Math.imul(column, 0x9e3779b1) ^ Math.imul(row, 0x85ebca6b)) & (this.#heads.length - 1);
  }
}
