// The command line as a person or a script meets it: own process, exit codes, what is printed and what is written.
import { copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { openProgram, SAMPLES } from "./plinth.ts";

const plinth = openProgram();
afterAll(() => plinth.remove());

const PLAN = `plinth: 1
name: seat
title: Seat
decision: {rule: simple}
features:
  face: {fit: plane, normal: [0, 0, 1]}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 0.01 mm}
`;
const face = (keys: string, height = 0.002): string =>
  `# unit: mm\n# points: surface\n${keys}feature,x,y,z\n${[-50, 0, 50]
    .flatMap((x) => [-50, 0, 50].map((y) => `face,${x},${y},${x === 0 && y === 0 ? height : 0}`))
    .join("\n")}\n`;
const at = (folder: string, name: string, text: string | Uint8Array): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
function workplace(log = face("# job: K-1\n# operation: 10\n"), plan = PLAN) {
  const folder = plinth.folder();
  return {
    folder,
    log: at(folder, "face.csv", log),
    plan: at(folder, "seat.yaml", plan),
    out: join(folder, "out"),
  };
}
const column = join(SAMPLES, "1-column");
const firstSide = join(SAMPLES, "3-first-side");

describe("usage", () => {
  it.each([
    [["chek"], "unknown command 'chek'"],
    [["check"], "missing required argument 'log'"],
    [["report", "x.csv"], "required option '--plan <file>' not specified"],
    [["check", "x.csv", "--show", "ft"], "Allowed choices are mm, in"],
    [["check", "x.csv", "--fail-on", "pass"], "Allowed choices are fail, undecided"],
    [["plan", "colum"], "expected one of column, chuck, stock, first-side, second-side"],
  ])("%j is a mistake of usage", async (args, text) => {
    const { code, err } = await plinth.run(args as string[]);
    expect(code).toBe(2);
    expect(err).toContain(text);
    expect(err).not.toMatch(/\n\s+at /);
  });
  it("prints the version", async () => {
    expect((await plinth.run(["--version"])).out).toBe("0.0.0-test\n");
  });
});

describe("other formats", () => {
  it("are a flat table and a QIF document beside the record", async () => {
    const { log, plan, out } = workplace();
    const done = await plinth.run(["report", log, "--plan", plan, "--out", out, "--format", "csv,qif"]);
    expect(done.code).toBe(0);
    const written = readdirSync(out).sort();
    expect(written).toEqual(["K-1_10_seat_r1.csv", "K-1_10_seat_r1.json", "K-1_10_seat_r1.qif"]);
    const document = readFileSync(join(out, "K-1_10_seat_r1.qif"), "utf8");
    expect(document).toMatch(/^<\?xml version="1\.0" encoding="UTF-8"\?>\s*<QIFDocument /);
    expect(document).toContain("<FlatnessCharacteristicItem ");
    expect(readFileSync(join(out, "K-1_10_seat_r1.csv"), "utf8")).toContain("flatness");
  });
});

describe("exit codes", () => {
  it("is 0 whatever the verdicts, 10 and 11 when asked", async () => {
    const codes = async (folder: string): Promise<(number | null)[]> =>
      Promise.all(
        [[], ["--fail-on", "fail"], ["--fail-on", "undecided"]].map(
          async (more) =>
            (await plinth.run(["check", folder, "--plan", join(folder, "plan.yaml"), ...more])).code,
        ),
      );
    expect(await codes(firstSide)).toEqual([0, 10, 10]);
    expect(await codes(column)).toEqual([0, 0, 11]);
  });
  it("is 3 for a rejected log, over 10, and says one sentence", async () => {
    const { folder } = workplace();
    const bad = at(folder, "bad.csv", "feature,x,y,z\nface,1,2,3\n");
    const { code, err } = await plinth.run([
      "check",
      bad,
      firstSide,
      "--plan",
      join(firstSide, "plan.yaml"),
      "--fail-on",
      "fail",
    ]);
    expect(code).toBe(3);
    expect(err).toBe(
      "rejected: bad.csv: the column x has no unit; write # unit: mm or # unit: in above the rows, put it into the column name as x [mm], or set logs.unit in the plan\n",
    );
  });
  it("is 4 for a log or plan that is not there", async () => {
    const { folder, log, plan } = workplace();
    const noLog = await plinth.run(["check", join(folder, "none.csv"), "--plan", plan]);
    const noPlan = await plinth.run(["check", log, "--plan", join(folder, "none.yaml")]);
    expect([noLog.code, noPlan.code]).toEqual([4, 4]);
    expect(noLog.err).toContain("none.csv: there is no such file; check the name and folder.");
    expect(noPlan.err).toContain("none.yaml: there is no such file");
  });
  it("is 4 when the report cannot be written", async () => {
    const { folder, log, plan } = workplace();
    const { code, err } = await plinth.run([
      "report",
      log,
      "--plan",
      plan,
      "--out",
      join(at(folder, "file", ""), "out"),
      "--format",
      "json",
    ]);
    expect(code).toBe(4);
    expect(err).toMatch(/cannot be reached or written/);
    expect(err).not.toMatch(/\n\s+at /);
  });
  it("is 2 for a plan with mistakes, and tells all of them with their places", async () => {
    const { log, plan } = workplace(
      undefined,
      PLAN.replace("flatness", "flatnes").replace("fit: plane", "fit: plan"),
    );
    const { code, err } = await plinth.run(["check", log, "--plan", plan]);
    expect(code).toBe(2);
    expect(err.trimEnd().split("\n")).toEqual([
      expect.stringMatching(/^seat\.yaml:6:15: .*"plan".*did you mean "plane"\?/),
      expect.stringMatching(/^seat\.yaml:8:22: .*"flatnes".*did you mean "flatness"\?/),
    ]);
  });
});

describe("check", () => {
  it("says the verdict first, then what to do, then the table, and writes nothing", async () => {
    const { folder } = workplace();
    const { out } = await plinth.run(["check", column, "--plan", join(column, "plan.yaml")], { cwd: folder });
    expect(out.indexOf("UNDECIDED")).toBeLessThan(out.indexOf("DO NEXT"));
    expect(out.indexOf("DO NEXT")).toBeLessThan(out.indexOf("characteristic"));
    expect(out).toContain("lean");
    expect(readdirSync(folder).sort()).toEqual(["face.csv", "seat.yaml"]);
  });
  it("shows inch or mm as asked, in a table and in sentences", async () => {
    const plan = join(column, "plan.yaml");
    const [mm, inch] = await Promise.all(
      ["mm", "in"].map((unit) => plinth.run(["check", column, "--plan", plan, "--show", unit])),
    );
    expect(mm?.out).toMatch(/lean +0\.0\d+ mm/);
    expect(mm?.out).not.toMatch(/\d in\b/);
    expect(inch?.out).toMatch(/lean +0\.000\d+ in/);
  });
  it("gives the record as JSON", async () => {
    const { out } = await plinth.run(["check", firstSide, "--plan", join(firstSide, "plan.yaml"), "--json"]);
    const report = JSON.parse(out);
    expect(report.schema).toBe("plinth.setup-report/1");
    expect(report.verdict).toBe("fail");
  });
  it("prints one heading when quiet, and no colour in a pipe", async () => {
    const { out } = await plinth.run(["check", firstSide, "--plan", join(firstSide, "plan.yaml"), "--quiet"]);
    expect(out.trimEnd().split("\n")).toHaveLength(2);
    expect(out).not.toContain("\u001b");
  });
  it("works without a plan and judges nothing", async () => {
    const { log } = workplace();
    const { code, out } = await plinth.run(["check", log]);
    expect(code).toBe(0);
    expect(out).toContain("NOTHING JUDGED");
  });
});

describe("report", () => {
  it("writes JSON, HTML and PDF once, leaves the same inputs alone, and writes the next revision for others", async () => {
    const { folder, log, plan, out } = workplace();
    const args = ["report", log, "--plan", plan, "--out", out, "--issued", "2026-11-25T07:00:00Z"];
    expect((await plinth.run(args)).code).toBe(0);
    const first = ["html", "json", "pdf"].map((ending) => `K-1_10_seat_r1.${ending}`);
    expect(readdirSync(out)).toEqual(first);
    const bytes = first.map((name) => readFileSync(join(out, name)));
    const again = await plinth.run(args.with(-1, "2026-11-26T07:00:00Z"));
    expect(again.out).toContain("same inputs: left alone");
    expect(first.map((name) => readFileSync(join(out, name)))).toEqual(bytes);
    at(folder, "face.csv", face("# job: K-1\n# operation: 10\n", 0.02));
    await plinth.run([...args, "--format", "json"]);
    const second = JSON.parse(readFileSync(join(out, "K-1_10_seat_r2.json"), "utf8"));
    expect(second.report).toMatchObject({ revision: 2, replaces: 1 });
    expect(second.verdict).toBe("fail");
    expect(readdirSync(out)).toHaveLength(4);
  });
  it("makes a page that a kept revision lacks, and says which files it left alone", async () => {
    const { log, plan, out } = workplace();
    const run = (format: string) =>
      plinth.run(["report", log, "--plan", plan, "--out", out, "--format", format]);
    const first = await run("json");
    expect(first.out).not.toContain("left alone");
    const { out: said } = await run("html");
    expect(said).toMatch(/K-1_10_seat_r1\.json {2}\(same inputs: left alone\)\n.*K-1_10_seat_r1\.html\n$/);
    expect(readdirSync(out)).toEqual(["K-1_10_seat_r1.html", "K-1_10_seat_r1.json"]);
  });
  it("gives the same JSON bytes in another folder, from --issued and from SOURCE_DATE_EPOCH", async () => {
    const { log, plan, folder } = workplace();
    const run = (out: string, more: string[], env: Record<string, string>) =>
      plinth.run(["report", log, "--plan", plan, "--out", join(folder, out), "--format", "json", ...more], {
        env,
      });
    await run("a", ["--issued", "2026-11-25T07:00:00Z"], {});
    await run("b", [], { SOURCE_DATE_EPOCH: "1795590000" });
    const [a, b] = ["a", "b"].map((name) => readFileSync(join(folder, name, "K-1_10_seat_r1.json"), "utf8"));
    expect(JSON.parse(a ?? "").report.issued).toBe("2026-11-25T07:00:00Z");
    expect(b).toBe(a);
  });
  it("writes one report for each setup in one run", async () => {
    const { folder, log, plan, out } = workplace();
    const other = at(folder, "other.csv", face("# job: K-2\n# operation: 20\n# setup: 3\n"));
    await plinth.run(["report", log, other, "--plan", plan, "--out", out, "--format", "json"]);
    expect(readdirSync(out)).toEqual(["K-1_10_seat_r1.json", "K-2_20_seat_3_r1.json"]);
  });
  it("writes nothing for a log that cannot be understood", async () => {
    const { folder, plan, out } = workplace();
    const bad = at(folder, "bad.csv", "# unit: mm\nwhat,is,this\n1,2,3\n");
    const { code } = await plinth.run(["report", bad, "--plan", plan, "--out", out, "--format", "json"]);
    expect(code).toBe(3);
    expect(readdirSync(folder)).not.toContain("out");
  });
  it("keeps hostile names inside its folder", async () => {
    const keys =
      "# job: ../../../etc/pass wd\n# operation: ..\n# operator: <script>alert(1)</script>\u0007\n# setup: \u00e4\u00f6\n";
    const { folder, log, plan, out } = workplace(face(keys));
    const { code } = await plinth.run(["report", log, "--plan", plan, "--out", out, "--format", "json,html"]);
    expect(code).toBe(0);
    const names = readdirSync(out);
    expect(names).toHaveLength(2);
    for (const name of names) expect(name).toMatch(/^[A-Za-z0-9.-]+(_[A-Za-z0-9.-]+)+_r1\.(json|html)$/);
    expect(readdirSync(folder).sort()).toEqual(["face.csv", "out", "seat.yaml"]);
    const page = readFileSync(join(out, names.find((name) => name.endsWith("html")) ?? ""), "utf8");
    expect(page).not.toContain("<script>");
  });
  it("writes a flat table for spreadsheets when asked", async () => {
    const { log, plan, out } = workplace(face("# job: =1+1\n# operation: 10\n"));
    await plinth.run(["report", log, "--plan", plan, "--out", out, "--format", "json,csv"]);
    const [name = ""] = readdirSync(out).filter((file) => file.endsWith(".csv"));
    const lines = readFileSync(join(out, name), "utf8").trimEnd().split("\r\n");
    expect(lines[0]).toMatch(/^"report","revision","job"/);
    expect(lines[1]).toContain('"\'=1+1"');
    expect(lines[1]).toMatch(/"flat","flatness","face",,0\.00\d+,"mm",/);
    expect(lines).toHaveLength(2);
  });
  it("refuses a time that is none", async () => {
    const { log, plan, out } = workplace();
    const wrong = await plinth.run(["report", log, "--plan", plan, "--out", out, "--issued", "yesterday"]);
    const epoch = await plinth.run(["report", log, "--plan", plan, "--out", out], {
      env: { SOURCE_DATE_EPOCH: "soon" },
    });
    expect([wrong.code, epoch.code]).toEqual([2, 2]);
    expect(wrong.err).toContain("--issued yesterday: expected a time such as 2026-11-25T07:00:00Z");
    expect(epoch.err).toContain("SOURCE_DATE_EPOCH=soon: expected whole seconds since 1970");
  });
  it("still writes JSON and HTML where the browser that was named is not there", async () => {
    const { log, plan, out } = workplace();
    const { code, err } = await plinth.run(["report", log, "--plan", plan, "--out", out], {
      env: { PLINTH_BROWSER: "/nowhere/browser" },
    });
    expect(code).toBe(4);
    expect(err).toMatch(/^No PDF: .*\/nowhere\/browser/);
    expect(readdirSync(out)).toEqual(["K-1_10_seat_r1.html", "K-1_10_seat_r1.json"]);
  });
});

describe("verify", () => {
  it("accepts what it wrote and refuses what was changed, naming what differs", async () => {
    const { folder, log, plan, out } = workplace();
    await plinth.run(["report", log, "--plan", plan, "--out", out]);
    const json = join(out, "K-1_10_seat_r1.json");
    const pdf = join(out, "K-1_10_seat_r1.pdf");
    expect((await plinth.run(["verify", json])).code).toBe(0);
    expect((await plinth.run(["verify", pdf])).code).toBe(0);
    const text = readFileSync(json, "utf8");
    const tampered: readonly (readonly [string, string, RegExp])[] = [
      [
        "value",
        text.replace(/("id": "flat",[\s\S]*?"value": )[\d.e-]+/, "$10.001"),
        /characteristic flat, value: 0\.001 is stated/,
      ],
      ["verdict", text.replaceAll('"verdict": "pass"', '"verdict": "fail"'), /verdict: "fail" is stated/],
      ["log", text.replace("face,0,0,0.002", "face,0,0,0.001"), /the log face\.csv does not have the hash/],
      ["plan", text.replace("max: 0.01 mm", "max: 0.02 mm"), /the plan seat does not have the hash/],
      ["cut", text.slice(0, 900), /not whole JSON/],
      ["foreign", "{}", /not a setup report/],
    ];
    for (const [name, content, because] of tampered) {
      const { code, out: said } = await plinth.run(["verify", at(folder, `${name}.json`, content)]);
      expect([name, code]).toEqual([name, 3]);
      expect(said).toMatch(because);
    }
    expect(
      (await plinth.run(["verify", at(folder, "cut.pdf", readFileSync(pdf).subarray(0, 20_000))])).code,
    ).toBe(3);
  });
});

describe("look, plan and doctor", () => {
  it("shows units with their evidence", async () => {
    const { log } = workplace();
    const { code, out } = await plinth.run(["look", log]);
    expect(code).toBe(0);
    expect(out).toMatch(/unit of x +mm +header line 1/);
    expect(out).toMatch(/points +surface +header line 2/);
  });
  it("prints starters that a report can be made with", async () => {
    for (const kind of ["column", "chuck", "stock", "first-side", "second-side"]) {
      const { folder } = workplace();
      const { out } = await plinth.run(["plan", kind]);
      const plan = at(folder, "plan.yaml", out);
      const { code, err } = await plinth.run(["check", join(folder, "face.csv"), "--plan", plan]);
      expect([kind, code, err]).toEqual([kind, 0, ""]);
    }
  });
  it("prints the JSON Schema of plans", async () => {
    expect(JSON.parse((await plinth.run(["plan", "--schema"])).out).$schema).toContain("2020-12");
  });
  it("finds a browser that prints, or says what is wrong", async () => {
    const { code, out } = await plinth.run(["doctor", "--json"]);
    expect(code).toBe(0);
    expect(JSON.parse(out).find((check: { what: string }) => check.what === "test page")).toMatchObject({
      works: true,
    });
    const broken = await plinth.run(["doctor"], { env: { PLINTH_BROWSER: "/nowhere/browser" } });
    expect(broken.code).toBe(4);
    expect(broken.out).toMatch(/MEND +browser +.*\/nowhere\/browser/);
  });
  it("takes a folder of logs and leaves plans, notes and half-written files in it alone", async () => {
    const { folder } = workplace();
    const inner = join(folder, "logs");
    mkdirSync(inner);
    copyFileSync(join(folder, "face.csv"), join(inner, "a.csv"));
    for (const name of ["b.csv.tmp", ".hidden.csv", "README.md", "plan.yaml"]) at(inner, name, "not a log");
    const { code, out } = await plinth.run(["look", inner, "--json"]);
    expect(code).toBe(0);
    expect(JSON.parse(out).map((log: { name: string }) => log.name)).toEqual(["a.csv"]);
  });
});
