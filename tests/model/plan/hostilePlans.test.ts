import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readPlan } from "../../../src/model/plan/readPlan.ts";
import { HEAD } from "./badPlan.ts";
import { SAMPLE_KINDS } from "./sampleKinds.ts";

const read = (text: string) => readPlan({ text, name: "h.yaml", sha256: "0", kinds: SAMPLE_KINDS });
/** Every answer is a plan or a list of sentences with places inside the text. */
function check(text: string): void {
  const result = read(text);
  if (result.ok) return;
  const lines = text.split(/\r\n|\r|\n/).length;
  expect(result.problems.length).toBeGreaterThan(0);
  for (const { line, column, text: sentence } of result.problems) {
    expect(line).toBeGreaterThanOrEqual(1);
    expect(line).toBeLessThanOrEqual(lines + 1);
    expect(column).toBeGreaterThanOrEqual(1);
    expect(sentence).not.toMatch(/[\u0000-\u001f]|undefined|\[object|Invalid input/);
  }
}

const WORDS = [
  ..."plinth name title decision rule guarded simple guard machine b-sense travel x instruments".split(" "),
  ..."uncertainty logs columns order features fit plane circle axis through normal from radius".split(" "),
  ..."characteristics id kind flatness offset of to max plus advice square-up stops four-face".split(" "),
  ..."sign-offs points closure exclude line reason 0 90 1 -1 0.5 true null ~ on .nan".split(" "),
  ...["0.01 mm", "0,01 mm", "5 deg", "<<", "*a", "&a", "!t", "__proto__", "constructor", "'", '"', "|", ">"],
];
const MARKS = [": ", ":\n  ", ", ", "{", "}", "[", "]", "\n", "\n  - ", "\n  ", " ", "\t", "# ", "---\n"];

describe("no text makes the reader throw", () => {
  test("any characters", () => {
    fc.assert(fc.property(fc.string({ unit: "binary", maxLength: 200 }), check), { numRuns: 500 });
  });
  test("words of plans in any order", () => {
    const soup = fc.array(fc.constantFrom(...WORDS, ...MARKS), { maxLength: 60 });
    fc.assert(
      fc.property(soup, fc.boolean(), (parts, headed) => check((headed ? HEAD : "") + parts.join(""))),
      { numRuns: 1000 },
    );
  });
  test("any values under the keys of a plan", () => {
    const leaf = fc.oneof(fc.constantFrom(...WORDS), fc.double(), fc.boolean(), fc.constant(null));
    const { tree } = fc.letrec((tie) => ({
      tree: fc.oneof(
        { depthSize: "small", maxDepth: 5 },
        leaf,
        fc.array(tie("tree"), { maxLength: 4 }),
        fc.dictionary(fc.constantFrom(...WORDS), tie("tree"), { maxKeys: 5 }),
      ),
    }));
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom(...WORDS), tree, { maxKeys: 8 }), (value) =>
        check(JSON.stringify(value)),
      ),
      { numRuns: 1000 },
    );
  });
});

describe("size does not end the process", () => {
  test.each<[string, string]>([
    ["brackets in brackets", `${HEAD}title: ${"[".repeat(100_000)}`],
    ["braces over many lines", `${HEAD}title: ${"{a:\n".repeat(50_000)}`],
    ["dashes in dashes", `${HEAD}title:\n  ${"- ".repeat(100_000)}`],
    ["questions in questions", `${HEAD}${"? ".repeat(50_000)}`],
    ["steps of indentation", Array.from({ length: 650 }, (_, depth) => `${" ".repeat(depth)}a:`).join("\n")],
    ["a very long text", `${HEAD}title: ${"x".repeat(1_000_000)}`],
  ])("%s", (_, text) => {
    const result = read(text);
    expect(result.ok).toBe(false);
    if (!result.ok) expect(result.problems[0]?.text).toMatch(/nested too deeply|characters; at most/);
  });

  test("as deep as is allowed, it is read", () => {
    const steps = Array.from({ length: 160 }, (_, depth) => `${" ".repeat(depth)}a:`).join("\n");
    for (const text of [steps, `${HEAD}title: ${"[".repeat(30)}${"]".repeat(30)}`, `- ${"- ".repeat(19)}a`])
      check(text);
  });

  test("many features and many mistakes take no longer than a glance", () => {
    const names = Array.from({ length: 3000 }, (_, index) => `  feature-${index}: {fit: plane}`);
    const started = performance.now();
    const entries = Array.from(
      { length: 300 },
      (_, i) => `  - {id: a${i}, kind: flatness, of: featur-${i}, max: 1}`,
    );
    const result = read(`${HEAD}features:\n${names.join("\n")}\ncharacteristics:\n${entries.join("\n")}\n`);
    expect(result.ok ? 0 : result.problems.length).toBe(600);
    expect(performance.now() - started).toBeLessThan(20_000);
  });
});
