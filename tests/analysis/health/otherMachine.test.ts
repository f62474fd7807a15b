import { describe, expect, it } from "vitest";
import { grid, log, planOf, touched } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const plan = (machine: string) =>
  planOf(`machine: {${machine}}\nfeatures: {face: {fit: plane, normal: [0, 0, 1]}}\n`);
const face = touched(
  "face",
  grid(3, 50, () => 0),
);
const found = (machine: string, header: Record<string, string>) =>
  checked("other-machine", contextOf(plan(machine), [face], [log("a.csv", header)]));

describe("a log of another machine", () => {
  it("is told where the plan states which way B turns", () => {
    const [one, ...more] = found("name: M, b-sense: 1", { machine: "OTHER" });
    expect(more).toEqual([]);
    expect(one?.finding).toMatchObject({ level: "warning", log: "a.csv" });
    expect(one?.finding.text.text).toBe(
      "The log is of machine OTHER; the plan's sense of B is stated for M.",
    );
  });
  it("is nothing where the machine is the plan's, is not named, or no sense is stated", () => {
    expect(found("name: HM-2, b-sense: 1", { machine: "hm 2" })).toEqual([]);
    expect(found("name: M, b-sense: 1", {})).toEqual([]);
    expect(found("name: M", { machine: "OTHER" })).toEqual([]);
    expect(found("b-sense: 1", { machine: "OTHER" })).toEqual([]);
  });
});
