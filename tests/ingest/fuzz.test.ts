import { describe, expect, it } from "vitest";
import { damagedLog, trespass } from "./fuzzCases.ts";

describe("damaged logs", () => {
  it("5 000 of them: no crash, no silent unit, never a number that differs from the text", () => {
    const found: string[] = [];
    for (let seed = 1; seed <= 5000; seed++) {
      const wrong = trespass(damagedLog(seed));
      if (wrong !== "") found.push(`log ${seed}: ${wrong}`);
    }
    expect(found).toEqual([]);
  });
});
