import { describe, expect, it } from "vitest";
import { planOf, ring, touched } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const plan = (part = "") =>
  planOf(`${part}features: {bore: {fit: circle, normal: [0, 0, 1], surface: bore}}
characteristics: [{id: size, kind: diameter, of: bore, nominal: 152.4 mm, plus: 0.01 mm, minus: 0.01 mm}]
`);
const bore = (temperatureC: number | null) =>
  touched(
    "bore",
    ring(8, () => 76.2),
    { temperatureC },
  );
const told = (part: string, temperatureC: number | null) =>
  checked("expansion-not-stated", contextOf(plan(part), [bore(temperatureC)])).map(
    ({ finding }) => finding.text.text,
  );

describe("a temperature without an expansion", () => {
  it("warns of what it changes, whether log or plan states it", () => {
    const sentence = [
      expect.stringMatching(/^The part was at 35 °C .* On steel that changes 152\.4 mm by 0\.026 mm\.$/),
    ];
    expect(told("", 35)).toEqual(sentence);
    expect(told("part: {temperature: 35 C}\n", null)).toEqual(sentence);
  });
  it("is no worry at 20 °C, without any, or with an expansion", () => {
    expect(told("", 20.1)).toEqual([]);
    expect(told("", null)).toEqual([]);
    expect(told("part: {expansion: 11.5 um/m/K}\n", 35)).toEqual([]);
  });
});
