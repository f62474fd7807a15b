import { expect, test } from "vitest";
import { certifyTable, correctDigits } from "../references/certifyTable.ts";

test("every certified dataset is reached to the digits it needs", () => {
  const rows = certifyTable();
  expect(new Set(rows.map((row) => row.dataset)).size).toBe(26);
  const short = rows.filter((row) => !(row.digits >= row.needed));
  expect(short).toEqual([]);
});

test("a wrong value has few digits", () => {
  expect(correctDigits(1.001, 1)).toBeCloseTo(3, 9);
  expect(correctDigits(Number.NaN, 1)).toBe(0);
});
