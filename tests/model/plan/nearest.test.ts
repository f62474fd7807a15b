import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { listed, nearest, shown, spellingDistance } from "../../../src/model/plan/nearest.ts";

describe("distance of spellings", () => {
  test.each<[string, string, number]>([
    ["kitten", "sitting", 3],
    ["", "abc", 3],
    ["same", "same", 0],
    ["flta", "flat", 1],
    ["ca", "abc", 3],
    ["µm", "um", 1],
  ])("%s to %s", (from, to, distance) => expect(spellingDistance(from, to)).toBe(distance));

  test("it is the same both ways, zero only for equal words, and at most the longer word", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 12 }), fc.string({ maxLength: 12 }), (a, b) => {
        const distance = spellingDistance(a, b);
        expect(spellingDistance(b, a)).toBe(distance);
        expect(distance === 0).toBe(a === b);
        expect(distance).toBeLessThanOrEqual(Math.max([...a].length, [...b].length));
      }),
    );
  });
});

describe("the word that was meant", () => {
  const words = ["b-sense", "calibration-due", "x", "mm", "in", "fit", "sign-offs"];
  test.each<[string, string | null]>([
    ["bSense", "b-sense"],
    ["B_SENSE", "b-sense"],
    ["calibration due", "calibration-due"],
    ["SignOffs", "sign-offs"],
    ["X", "x"],
    ["q", null],
    ["cm", null],
    ["fitt", "fit"],
    ["elephant", null],
    ["f".repeat(100_000), null],
  ])("%s", (word, meant) => expect(nearest(word, words)).toBe(meant));
});

test("lists and values are short and on one line", () => {
  expect(listed(["a"])).toBe("a");
  expect(listed(["a", "b", "c"])).toBe("a, b or c");
  expect(listed(Array.from({ length: 30 }, (_, i) => `n${i}`))).toMatch(/^n0, .*n19 \.\.\. \(30 in all\)$/);
  expect(shown("a\nb\u0000")).toBe('"a b "');
  expect(shown("x".repeat(99))).toBe(`"${"x".repeat(60)}..."`);
  expect([shown(null), shown([]), shown({}), shown([1, 2]), shown([1, "a"]), shown(1.5)]).toEqual([
    "empty",
    "an empty list",
    "an empty mapping",
    "[1, 2]",
    "a list",
    "1.5",
  ]);
});
