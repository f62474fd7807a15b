import { describe, expect, it } from "vitest";
import { grid, log, planOf, touched } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const PLAN = planOf(`features:
  f0: {fit: plane, normal: [0, 0, 1]}
  f90: {fit: plane, normal: [0, 0, 1]}
  f180: {fit: plane, normal: [0, 0, 1]}
advice:
  - {kind: four-face, of: {0: f0, 90: f90, 180: f180}}
  - {kind: rotation-center, of: {0: f0, 90: f90, 180: f180}, stored: {x: 0 mm, z: 0 mm}}
`);
/** A face whose rows say these degrees of B, again and again; none says nothing. */
function face(name: string, degrees: readonly number[] = []) {
  const feature = touched(
    name,
    grid(3, 50, () => 0),
  );
  const b = feature.readings.x.map((_, i) => ((degrees[i % degrees.length] ?? Number.NaN) * Math.PI) / 180);
  return degrees.length === 0 ? feature : { ...feature, readings: { ...feature.readings, b } };
}
const found = (...features: ReturnType<typeof face>[]) =>
  checked("other-index", contextOf(PLAN, features, [log("faces.csv")]));

describe("a feature at another index than its rows", () => {
  it("is told with its name, the plan's index and the log's, once", () => {
    const [one, ...more] = found(face("f0", [0]), face("f90", [270]), face("f180", [180]));
    expect(more.map(({ finding }) => finding.text.text)).toEqual([]);
    expect(one?.finding).toMatchObject({ level: "warning", feature: "f90", log: "faces.csv", line: 10 });
    expect(one?.finding.text.text).toBe(
      "f90 stands at B 90° in the plan's four-face, but the log has it at B 270°.",
    );
  });
  it("is told by the first row that differs", () => {
    expect(found(face("f0", [0, 0, 90]))[0]?.finding.line).toBe(12);
  });
  it("is nothing for the same index in another turn, a table that misses by little, or rows without B", () => {
    expect(found(face("f0", [360]), face("f90", [-270]), face("f180", [180.003]))).toEqual([]);
    expect(found(face("f0"), face("f90", [Number.NaN, 90]))).toEqual([]);
  });
});
