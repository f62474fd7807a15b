import { describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import type { Vec3 } from "../../src/math/vector.ts";
import { ISSUED, log, planOf, touched } from "./setting.ts";

describe("a feature without a fit", () => {
  it("is named in a finding with its reason, and hides no other", () => {
    const plan = planOf(
      "features:\n  bad: {fit: plane}\n  good: {fit: plane}\ncharacteristics:\n  - {id: b, kind: flatness, of: bad, max: 1 mm}\n  - {id: g, kind: flatness, of: good, max: 1 mm}\n",
      "rule: simple",
    );
    const line = [0, 1, 2, 3, 4].map((i): Vec3 => [i, 2 * i, 0]);
    const grid = [0, 1, 2].flatMap((x) => [0, 1, 2].map((y): Vec3 => [x, y, 0]));
    const set = {
      logs: [log()],
      features: [touched("bad", line), touched("good", grid)],
      signOffs: [],
      setup: {},
      findings: [],
    };
    const report = analyse({ set, plan, issued: ISSUED });
    const [found, ...more] = report.findings.filter(({ code }) => code === "feature-not-fitted");
    expect(more).toEqual([]);
    expect(found).toMatchObject({
      level: "error",
      feature: "bad",
      text: { text: "bad gives no number. The points lie on one line: they hold no plane." },
    });
    expect(report.characteristics.map(({ verdict }) => verdict)).toEqual(["undecided", "pass"]);
  });
});
