// What the program says of inputs it cannot use: exact sentences, with their place, and nothing else.
import { readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { BAD_LOGS, BAD_PLANS, PLAN } from "./badInputs.ts";
import { openProgram } from "./plinth.ts";

const plinth = openProgram();
afterAll(() => plinth.remove());

const GOOD_LOG = "# unit: mm\n# points: surface\nfeature,x,y,z\nface,1,2,3\nface,4,2,3\nface,1,7,3\n";

describe("a plan with a mistake: exit 2, and each problem with its place", () => {
  const folder = plinth.folder();
  const log = join(folder, "log.csv");
  writeFileSync(log, GOOD_LOG);
  it.concurrent.each(BAD_PLANS)("%s", async (name, text, sentences) => {
    const plan = join(folder, `${name}.yaml`);
    writeFileSync(plan, text);
    const { code, out, err } = await plinth.run([
      "report",
      log,
      "--plan",
      plan,
      "--out",
      join(folder, "out"),
    ]);
    expect(err).toBe(sentences.map((sentence) => `${name}.yaml:${sentence}\n`).join(""));
    expect([code, out]).toEqual([2, ""]);
    expect(readdirSync(folder)).not.toContain("out");
  });
});

describe("a log with a mistake: exit 3, one sentence, and nothing written", () => {
  it("each log of many, beside one that is right", async () => {
    const folder = plinth.folder();
    const put = (name: string, content: string | Uint8Array): string => {
      writeFileSync(join(folder, name), content);
      return join(folder, name);
    };
    const plan = put("seat.yaml", PLAN);
    const logs = BAD_LOGS.map(([name, content]) => put(name, content));
    const given = ["--plan", plan, "--out", join(folder, "out"), "--format", "json"];
    const alone = await plinth.run(["report", ...logs, ...given]);
    expect(alone.err.trimEnd().split("\n").sort()).toEqual(
      BAD_LOGS.map(([name, , sentence]) => `rejected: ${name}${sentence}`).sort(),
    );
    expect([alone.code, alone.out]).toEqual([3, ""]);
    expect(readdirSync(folder)).not.toContain("out");

    const beside = await plinth.run(["report", ...logs, put("good.log", GOOD_LOG), ...given]);
    expect(beside.code).toBe(3);
    expect(beside.err).toBe(alone.err);
    expect(readdirSync(join(folder, "out"))).toEqual(["no-job_no-operation_seat_r1.json"]);
  });
});
