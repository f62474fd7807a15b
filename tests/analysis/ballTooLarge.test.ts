import { describe, expect, it } from "vitest";
import type { Vec3 } from "../../src/math/vector.ts";
import { onlyCharacteristic, planOf, touched } from "./setting.ts";

describe("a ball larger than what it touched", () => {
  it("gives no size, and says what to check", () => {
    const plan = planOf(
      "features:\n  b: {fit: circle, surface: boss, normal: [0, 0, 1]}\ncharacteristics:\n  - {id: d, kind: diameter, of: b, nominal: 4 mm, plus: 1 mm, minus: 1 mm}\n",
      "rule: simple",
    );
    // Tip centres on a radius of 2 with a ball of radius 3: a boss of radius -1.
    const centers = [0, 1, 2, 3, 4, 5, 6, 7].map((i): Vec3 => [2 * Math.cos(i), 2 * Math.sin(i), 0]);
    const entry = onlyCharacteristic(plan, [
      touched("b", centers, { tip: { points: "ball-center", radiusMm: 3 } }),
    ]);
    expect(entry).toMatchObject({ value: null, verdict: "undecided" });
    expect(entry.because.text).toBe(
      "The ball is larger than what was touched: check tip-diameter and surface.",
    );
  });
});
