// Whole cases: logs and plan in, record and page out. A difference is read and accepted by `npm run accept`, never here.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { loadAssets } from "../../src/records/assets.ts";
import { reportJson } from "../../src/records/reportStore.ts";
import { renderReport } from "../../src/report/render.ts";
import { cases, kept, RECORDS, recordOf, SAMPLES } from "./road.ts";
import { sampleLogs } from "./sampleLogs.ts";
import { TRUTH } from "./scenario.ts";

const stored = (name: string): SetupReport =>
  JSON.parse(readFileSync(join(RECORDS, `${name}.json`), "utf8")) as SetupReport;
const valuesOf = (report: SetupReport, kind: string) =>
  report.advice.find((entry) => entry.kind === kind)?.values ?? {};
const value = (report: SetupReport, id: string): number =>
  report.characteristics.find((entry) => entry.id === id)?.value ?? Number.NaN;

describe("sample logs", () => {
  it.each(Object.entries(sampleLogs()))(
    "%s is what the simulated machine or the published source gives",
    (path, text) => {
      expect(readFileSync(join(SAMPLES, path), "utf8")).toBe(text);
    },
  );
});

describe.each(cases(SAMPLES))("%s", (name) => {
  it("gives the accepted record", async () => {
    const report = await recordOf(join(SAMPLES, name));
    expect(kept(report)).toBe(kept(stored(name)));
  });

  it("is judged with a guard band and an uncertainty on every value", () => {
    const { decision, characteristics } = stored(name);
    expect(decision.rule).toBe("guarded");
    expect(characteristics.length).toBeGreaterThan(2);
    for (const { id, uncertainty } of characteristics)
      expect([id, uncertainty]).toEqual([id, expect.any(Number)]);
  });

  it("gives the same bytes twice, as JSON and as a page", async () => {
    const [first, second] = [await recordOf(join(SAMPLES, name)), await recordOf(join(SAMPLES, name))];
    const assets = await loadAssets();
    expect(reportJson(first)).toBe(reportJson(second));
    expect(renderReport(first, { assets, page: "a4" })).toBe(renderReport(second, { assets, page: "a4" }));
  });

  it("still opens when stored", async () => {
    const page = renderReport(stored(name), { assets: await loadAssets(), page: "letter" });
    expect(page).toContain(stored(name).report.id);
    expect(page).not.toMatch(/undefined|NaN|\[object/);
  });
});

describe("what was simulated comes out", () => {
  it("finds the column as it stands, the B centre and the undecided lean", async () => {
    const report = await recordOf(join(SAMPLES, "1-column"));
    expect(report.verdict).toBe("undecided");
    expect(value(report, "yaw")).toBeCloseTo(TRUTH.yaw * 12 * 25.4, 2);
    expect(value(report, "lean")).toBeCloseTo(TRUTH.lean * 20 * 25.4, 2);
    const center = valuesOf(report, "rotation-center");
    expect(center.x).toBeCloseTo(TRUTH.machine.center[0], 2);
    expect(center.z).toBeCloseTo(TRUTH.machine.center[2], 2);
    expect(valuesOf(report, "four-face").seatZ).toBeCloseTo(TRUTH.lean, 5);
    expect(valuesOf(report, "four-face").seatX).toBeCloseTo(0, 5);
    // The face stands half a width before the column's middle, and leans towards the spindle on the way up.
    expect(valuesOf(report, "work-offset").new).toMatchObject({
      z: expect.closeTo(TRUTH.column.origin[2] + TRUTH.halfWidth + 330 * TRUTH.lean, 2),
    });
    // The right side stands nearer the spindle still, so the right stop goes away from it.
    const [stop] = report.advice.find((entry) => entry.kind === "square-up")?.moves ?? [];
    expect(stop).toMatchObject({ at: "right stop", along: "z" });
    expect(stop?.amount).toBeLessThan(0);
    const [yaw, lean] = report.corrections ?? [];
    expect(yaw?.judged).toBe("good");
    expect(lean?.judged).toBe("partly");
  });

  it("takes the sag out of the chuck's sweep: the chuck sits low, not high", async () => {
    const report = await recordOf(join(SAMPLES, "2-chuck-and-blank"));
    const centering = valuesOf(report, "centering");
    expect(centering.x).toBeCloseTo(TRUTH.chuck[0], 2);
    expect(centering.y).toBeCloseTo(TRUTH.chuck[1], 2);
    const moves = report.advice.find((entry) => entry.kind === "centering")?.moves ?? [];
    expect(moves.map(({ along, amount }) => [along, Math.sign(amount)])).toEqual([
      ["x", -1],
      ["y", 1],
    ]);
    expect(report.verdict).toBe("pass");
  });

  it("fails the wall for its three lobes and nothing else", async () => {
    const report = await recordOf(join(SAMPLES, "3-first-side"));
    expect(
      report.characteristics.filter((entry) => entry.verdict !== "pass").map((entry) => entry.id),
    ).toEqual(["wall-roundness"]);
    expect(value(report, "wall-diameter")).toBeCloseTo(2 * 77.006, 2);
  });
});

describe("published results are met by the whole road", () => {
  it("surface plate of 1955", async () => {
    const report = await recordOf(join(SAMPLES, "4-published-plate"));
    // Printed: overall 17.841145e-5 in. J. C. Moody (1955), heights as corrected by B. Allen (2019).
    expect(value(report, "plate-overall")).toBeCloseTo(17.841145e-5 * 25.4, 9);
    // Not printed: minimum zone by HiGHS, spread about the fitted plane by numpy, both from these 126 heights.
    expect(value(report, "plate-flatness")).toBeCloseTo(0.0041572957, 8);
    expect(value(report, "plate-about-fit")).toBeCloseTo(0.004454435028, 9);
  });

  it("line of 1901 and the cookbook's ring", async () => {
    const report = await recordOf(join(SAMPLES, "4-published-plate"));
    // K. Pearson (1901), page 571; minimum zone by two routes with numpy and scipy.
    expect(value(report, "line-straightness")).toBeCloseTo(0.67082039325, 9);
    // SciPy Cookbook, Least Squares Circle, points all round; minimum zone by exhaustive search and linear programme.
    expect(value(report, "ring-roundness")).toBeCloseTo(2.9245917885, 8);
  });
});
