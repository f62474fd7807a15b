import { describe, expect, it } from "vitest";
import { planOf, ring, touched } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const PLAN = planOf("features: {bar: {fit: circle, normal: [0, 0, 1], surface: boss}}\n");
const texts = (count: number) =>
  checked(
    "few-points",
    contextOf(PLAN, [
      touched(
        "bar",
        ring(count, () => 77.724),
      ),
    ]),
  ).map(({ finding }) => finding.text.text);

describe("few points", () => {
  it("says how large a flat fits between the touches of a round", () => {
    // A quarter turn apart: chord R root 2 = 109.9, depth R (1 - 1/root 2) = 22.765.
    expect(texts(4)[0]).toMatch(/109\.9 mm wide and 22\.765 mm deep/);
    // 60 degrees apart: chord R, depth R (1 - cos 30) = 10.413.
    expect(texts(6)[0]).toMatch(/77\.7 mm wide and 10\.413 mm deep/);
    expect(texts(6)[0]).toMatch(/3 or more lobes/);
  });
  it("is silent from as many as a form needs", () => {
    expect(texts(7)).toEqual([]);
  });
});
