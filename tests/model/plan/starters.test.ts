import { readdirSync, readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { planKinds } from "../../../src/analysis/planKinds.ts";
import { planJsonSchema } from "../../../src/model/plan/planJsonSchema.ts";
import { problemLine } from "../../../src/model/plan/problem.ts";
import { readPlan } from "../../../src/model/plan/readPlan.ts";
import { SAMPLE_KINDS } from "./sampleKinds.ts";

const folder = new URL("../../../templates/plans/", import.meta.url);
const STARTERS = ["chuck", "column", "first-side", "second-side", "stock"];
const textOf = (name: string) => readFileSync(new URL(`${name}.yaml`, folder), "utf8");
const validator = (kinds: typeof planKinds) =>
  // Dates are held by their pattern; the schema's `format` needs no second library.
  new Ajv2020({ strict: true, validateFormats: false, allowUnionTypes: true }).compile(planJsonSchema(kinds));

describe("the starter plans", () => {
  test("are these five", () => {
    expect(readdirSync(folder).toSorted()).toEqual(STARTERS.map((name) => `${name}.yaml`));
  });

  test.each(STARTERS)("%s is right, without a note", (name) => {
    const read = readPlan({ text: textOf(name), name: `${name}.yaml`, sha256: "0", kinds: planKinds });
    expect(read.ok ? read.notes.map(problemLine) : read.problems.map(problemLine)).toEqual([]);
    expect(read.ok && read.plan.name).toBe(name);
  });

  test.each(STARTERS)("%s marks every tolerance as having no source", (name) => {
    const limits = textOf(name)
      .split("\n")
      .filter(
        (line) => !line.trimStart().startsWith("#") && /\b(max|plus|minus): [\d.]+ (mm|in|um)/.test(line),
      );
    const unmarked = limits.filter((line) => !line.includes("# common practice, no source"));
    expect(unmarked).toEqual([]);
    expect(limits.length).toBeGreaterThan(0);
  });

  test.each(STARTERS)("%s prescribes no torque", (name) => {
    const read = readPlan({ text: textOf(name), name: `${name}.yaml`, sha256: "0", kinds: planKinds });
    const torques = read.ok ? read.plan.signOffs.filter((signOff) => signOff.unit === "N·m") : [];
    for (const { lower, upper } of torques) expect([lower, upper]).toEqual([null, null]);
    expect(read.ok).toBe(true);
  });

  test("the column's starter advises and the chuck's asks for its torque", () => {
    const column = readPlan({ text: textOf("column"), name: "c", sha256: "0", kinds: planKinds });
    expect(column.ok && column.plan.advice.map((entry) => entry.kind)).toEqual([
      "square-up",
      "seat-check",
      "four-face",
      "rotation-center",
      "work-offset",
    ]);
    const chuck = readPlan({ text: textOf("chuck"), name: "c", sha256: "0", kinds: planKinds });
    expect(chuck.ok && chuck.plan.signOffs.map((entry) => entry.id)).toContain("chuck-torque");
  });
});

describe("the JSON Schema for editors", () => {
  test.each(STARTERS)("accepts %s", (name) => {
    const validate = validator(planKinds);
    expect([validate(parse(textOf(name))), validate.errors]).toEqual([true, null]);
  });

  test.each<[string, (plan: Record<string, unknown>) => void]>([
    ["an unknown key", (plan) => Object.assign(plan, { titel: "x" })],
    ["a missing decision", (plan) => delete plan.decision],
    ["a bare limit", (plan) => Object.assign((plan.characteristics as object[])[0]!, { max: 0.012 })],
    [
      "a limit without unit",
      (plan) => Object.assign((plan.characteristics as object[])[0]!, { max: "0.012" }),
    ],
    [
      "an unknown kind",
      (plan) => Object.assign((plan.characteristics as object[])[0]!, { kind: "flattness" }),
    ],
    ["an unknown fit", (plan) => Object.assign(plan.features as object, { f: { fit: "plain" } })],
    ["another version", (plan) => Object.assign(plan, { plinth: 2 })],
  ])("refuses %s", (_, spoil) => {
    const plan = parse(textOf("first-side"));
    spoil(plan);
    expect(validator(planKinds)(plan)).toBe(false);
  });

  test("names its draft, completes keys of each kind, and says nothing of the reader's own marks", () => {
    const schema = planJsonSchema(SAMPLE_KINDS);
    expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
    const text = JSON.stringify(schema);
    for (const kind of ["flatness", "four-face"]) expect(text).toContain(`"const":"${kind}"`);
    for (const own of ["expects", "reference", "example"]) expect(text).not.toContain(`"${own}"`);
  });

  test("a shelf without members still makes a schema", () => {
    const validate = validator({ characteristics: [], advice: [] });
    expect(validate({ plinth: 1, decision: { rule: "simple" } })).toBe(true);
    expect(validate({ plinth: 1, decision: { rule: "simple" }, advice: [{ kind: "x" }] })).toBe(false);
  });
});
