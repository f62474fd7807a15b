import { isCrowd } from "./crowd.ts";

/** Reading an advice's plot data, whose shape the record does not promise. */

/** The value under a key of a record; undefined when there is none. */
function under(data: unknown, key: string): unknown {
  if (typeof data !== "object" || data === null || !Object.hasOwn(data, key)) return undefined;
  return (data as Readonly<Record<string, unknown>>)[key];
}

/** A number under `key`, or null. */
export function numberIn(data: unknown, key: string): number | null {
  const value = under(data, key);
  return typeof value === "number" && Number.isFinite(value) ? value : null;
}

/** A word under `key`, or null. */
export function wordIn(data: unknown, key: string): string | null {
  const value = under(data, key);
  return typeof value === "string" ? value : null;
}

/** A list of numbers under `key`, or null when one of them is not a number. */
export function numbersIn(data: unknown, key: string): readonly number[] | null {
  const value = under(data, key);
  if (!Array.isArray(value) || value.length === 0) return null;
  return value.every((one) => typeof one === "number" && Number.isFinite(one)) ? (value as number[]) : null;
}

/** A place of two numbers under `key`, or null. */
export function placeIn(data: unknown, key: string): readonly [number, number] | null {
  const [x, y, ...more] = numbersIn(data, key) ?? [];
  return x === undefined || y === undefined || more.length > 0 ? null : [x, y];
}

/** Columns of equal length under the keys, as rows; null when one is missing or of another length. */
export function rowsIn<Key extends string>(
  data: unknown,
  keys: readonly Key[],
): readonly Readonly<Record<Key, number>>[] | null {
  const columns = keys.map((key) => numbersIn(data, key));
  const length = columns[0]?.length ?? 0;
  if (length === 0 || columns.some((column) => column?.length !== length)) return null;
  return Array.from(
    { length },
    (_, row) =>
      Object.fromEntries(keys.map((key, column) => [key, columns[column]?.[row] ?? 0])) as Record<
        Key,
        number
      >,
  );
}

const MOST_DRAWN = 2000;
/** At most two thousand of many rows, evenly, those of `keep` always among them. */
export function thinnedRows<Row>(rows: readonly Row[], keep: readonly Row[]): readonly Row[] {
  if (rows.length <= MOST_DRAWN) return rows;
  const step = Math.ceil(rows.length / (MOST_DRAWN - 100));
  return rows.filter((row, index) => index % step === 0 || keep.includes(row));
}

/** All rows as long as they can be told apart; of a crowd only those of `keep`. */
export const fewOf = <Row>(rows: readonly Row[], keep: readonly Row[]): readonly Row[] =>
  isCrowd(rows.length) ? keep : rows;
