import { describe, expect, it } from "vitest";
import { grid, ISSUED, log, planOf, touched } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const planDue = (due: string) =>
  planOf(`instruments:
  probe: {uncertainty: 0.001 mm, calibration-due: ${due}}
  other: {uncertainty: 0.001 mm, calibration-due: 2099-01-01}
features: {a: {fit: plane}, b: {fit: plane}, c: {fit: plane}}\n`);
const face = (name: string, more = {}) =>
  touched(
    name,
    grid(3, 50, () => 0),
    more,
  );

describe("calibration", () => {
  it("is one finding for gauge and log, stops all it measured there and nothing else", () => {
    const found = checked(
      "calibration-overdue",
      contextOf(planDue("2026-11-01"), [face("a"), face("b"), face("c", { instrument: "other" })]),
    );
    expect(found).toHaveLength(1);
    expect(found[0]?.undecides).toEqual(["a", "b"]);
    expect(found[0]?.finding.text.text).toBe(
      "The calibration of probe was due on 2026-11-01; used on 2026-11-25 for a, b.",
    );
  });
  it("counts from the log's time before the time of issue, and allows the day itself", () => {
    const at = (due: string, time: string | null) =>
      checked("calibration-overdue", contextOf(planDue(due), [face("a")], [{ ...log(), time }])).length;
    expect(ISSUED.slice(0, 10)).toBe("2026-11-25");
    expect(at("2026-11-25", null)).toBe(0);
    expect(at("2026-11-24", null)).toBe(1);
    expect(at("2026-11-24", "2026-11-24T23:59:59Z")).toBe(0);
    expect(at("2026-11-26", "2026-11-27T00:00:00Z")).toBe(1);
  });
  it("of an as-found log stops nothing that was measured in date as left", () => {
    const found = checked(
      "calibration-overdue",
      contextOf(planDue("2026-11-01"), [
        face("a", { state: "as-found" }),
        face("a", { instrument: "other" }),
      ]),
    );
    expect(found.map(({ undecides }) => undecides)).toEqual([[]]);
  });
});
