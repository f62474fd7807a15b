// What must not go unsaid: a void report, a watcher that is gone, a plan's mistake, a file that is no report, a narrow window.
import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { workspaceChecks } from "../../src/cli/commands/workspaceChecks.ts";
import { exitCodeOf, wordError } from "../../src/cli/errors.ts";
import { styleFor, table, wrap } from "../../src/cli/output.ts";
import { openLedger } from "../../src/records/ledger/openLedger.ts";
import { writtenReport } from "../records/writtenReport.ts";
import { PLAN } from "./badInputs.ts";
import { openProgram } from "./plinth.ts";

const plinth = openProgram();
afterAll(() => plinth.remove());

const face = [-50, 0, 50].flatMap((x) => [-50, 0, 50].map((y) => `face,${x},${y},0.0${x === y ? 1 : 0}`));
const log = (keys: string): string =>
  `${keys}# unit: mm\n# points: surface\nfeature,x,y,z\n${face.join("\n")}\n`;

async function workspace(name: string): Promise<string> {
  const root = join(plinth.folder(), name);
  expect(await plinth.run(["init", root])).toMatchObject({ code: 0 });
  writeFileSync(join(root, "plans", "seat.yaml"), PLAN);
  return root;
}
const drop = (root: string, name: string, text: string): void =>
  writeFileSync(join(root, "inbox", name), text);

describe("a void report", () => {
  it("is called void by verify and by the night's list, and a job may begin with any sign", async () => {
    const root = await workspace("shop");
    drop(root, "a.csv", log("# job: -17\n# plan: seat\n"));
    expect(await plinth.run(["watch", "--workspace", root, "--once"])).toMatchObject({ code: 0 });
    const name = readdirSync(join(root, "reports")).find((one) => /^-17_.*_r1\.json$/.test(one));
    const path = join(root, "reports", name ?? "");
    const noted = ["note", path, "--kind", "void", "--who", "Shift lead", "--why", "Wrong part"];
    expect(await plinth.run(noted)).toMatchObject({ code: 0 });
    const { code, out } = await plinth.run(["verify", path]);
    expect(out).toMatch(/ ACCEPTED {3}-17_\S+ r1: pass, job -17 {2}\(/);
    expect([code, out]).toEqual([0, expect.stringMatching(/BUT IT IS VOID \(Shift lead, .*: Wrong part\)/)]);
    const night = await plinth.run(["nightly", "--workspace", root]);
    expect(night.out).toMatch(/-17_\S* r1 {2}.*\[void/);
    expect(readFileSync(join(root, "reports", "index.html"), "utf8")).toMatch(/-17_\S* r1 .*\[void\]<\/a>/);
  });
});

describe("a full disk", () => {
  it("is looked for where the workspace lies, and not beside it", async () => {
    const root = await workspace("disk");
    const { out } = await plinth.run(["doctor", "--workspace", root, "--json"]);
    const checks = JSON.parse(out) as { what: string; found: string }[];
    const found = (what: string) => checks.filter((check) => check.what === what).map((check) => check.found);
    expect(found("disk")).toEqual([expect.stringMatching(new RegExp(`free on the disk of ${root}$`))]);
    expect(found("folder")).toEqual([`${root} can be written`]);
  });
  it("is called so, with what to do, whatever the ledger calls it", async () => {
    const root = await workspace("full");
    const ledger = async (refuses: () => Promise<void>) => {
      const open = async (path: string) => ({ ...(await openLedger(path)), close: refuses });
      return (await workspaceChecks(root, { open, freeMb: async () => 0 })).find(
        ({ what }) => what === "ledger",
      );
    };
    for (const trouble of [
      Object.assign(new Error("database or disk is full"), { code: "SQLITE_FULL" }),
      Object.assign(new Error("disk I/O error"), { code: "SQLITE_IOERR_SHMSIZE" }),
    ])
      expect(await ledger(() => Promise.reject(trouble))).toMatchObject({
        works: false,
        found: `the disk is full; make room on it and run this again (${trouble.message})`,
      });
  });
  it("is called so by every command", () => {
    const full = { code: "ENOSPC", path: "/shop/reports/a.json" };
    expect(wordError(Object.assign(new Error(), full))).toBe(
      "/shop/reports/a.json: the disk is full; make room on it and run this again (ENOSPC).",
    );
    const ledger = Object.assign(new Error(), { code: "SQLITE_FULL" });
    expect(wordError(ledger)).toBe(
      "the ledger: the disk is full; make room on it and run this again (SQLITE_FULL).",
    );
    expect(exitCodeOf(ledger)).toBe(4);
  });
});

describe("a watcher", () => {
  it("whose process is gone is not called alive", async () => {
    const root = await workspace("gone");
    const { pid } = spawnSync(process.execPath, ["-e", "0"]);
    mkdirSync(join(root, ".plinth"), { recursive: true });
    const beat = { state: "watching", beat: new Date().toISOString(), pid, host: hostname() };
    writeFileSync(join(root, ".plinth", "heartbeat.json"), JSON.stringify(beat));
    const { out } = await plinth.run(["doctor", "--workspace", root]);
    expect(out).toMatch(new RegExp(`MEND\\s+watcher\\s+process ${pid} on .* is gone since`));
  });
  it("names the mistake of a plan that a log asks for", async () => {
    const root = await workspace("mistake");
    writeFileSync(join(root, "plans", "bad.yaml"), PLAN.replace("fit: plane", "fit: plain"));
    drop(root, "e.csv", log("# job: E\n# plan: bad\n"));
    const { err } = await plinth.run(["watch", "--workspace", root, "--once"]);
    expect(err).toMatch(/rejected e\.csv: .* has mistakes: .*plain.*\(inbox\/rejected\/e\.csv\)/);
  });
});

describe("verify", () => {
  it("names what it verified, says what it did not compute, and refuses a revision that does not say what it replaces", async () => {
    const folder = plinth.folder();
    const first = writtenReport(folder, { name: "FIRST", height: 0.001, revision: 1 });
    const next = writtenReport(folder, { name: "NEXT", height: 0.02, revision: 2, header: { job: "" } });
    const { code, out } = await plinth.run(["verify", first]);
    expect([code, out]).toEqual([
      0,
      expect.stringContaining(` ACCEPTED   K-1_10_seat r1: pass, job K-1  (${first})`),
    ]);
    expect(out).toContain("the time of issue and the pictures on the page are not recomputed");
    expect((await plinth.run(["verify", next])).out).toContain(" ACCEPTED   no-job_10_seat r2: fail  (");
    expect(JSON.parse((await plinth.run(["verify", next, "--json"])).out)).toMatchObject({
      accepted: true,
      report: { id: "no-job_10_seat", revision: 2, verdict: "fail", job: null },
    });
    for (const [path, from, to, words] of [
      [
        first,
        '"replaces": null',
        '"replaces": 1',
        /revision 1 states that it replaces 1: a first one replaces none/,
      ],
      [next, '"replaces": 1', '"replaces": null', /revision 2 states null as the one that it replaces/],
      [next, '"replaces": 1', '"replaces": 2', /revision 2 states 2 as the one that it replaces/],
      [next, '"revision": 2', '"revision": "2"', /"2" is no number of a revision/],
    ] as const) {
      const text = readFileSync(path, "utf8");
      writeFileSync(join(folder, "changed.json"), text.replace(from, to));
      const changed = await plinth.run(["verify", join(folder, "changed.json")]);
      expect([changed.code, changed.out]).toEqual([3, expect.stringMatching(words)]);
    }
  });
  it("says of a page or a table that it is none of the files it can verify", async () => {
    const folder = plinth.folder();
    const page = join(folder, "page.html");
    writeFileSync(page, "<!doctype html><p>report</p>");
    const { code, out } = await plinth.run(["verify", page]);
    expect([code, out]).toEqual([3, expect.stringContaining("it is no report as JSON or PDF")]);
  });
});

describe("the next command that init names", () => {
  it("is one that a shell takes, whatever the folder is called", async () => {
    const root = join(plinth.folder(), "Fräs Ordner");
    const { out } = await plinth.run(["init", root]);
    expect(out).toContain(`Next: plinth watch --workspace "${root}"`);
  });
});

describe("sentences", () => {
  it("fit the window, and keep a number and its unit on one line", () => {
    expect(styleFor(true, 60).width).toBe(60);
    expect([styleFor(true, 20).width, styleFor(true, 200).width, styleFor(false).width]).toEqual([
      40, 100, 100,
    ]);
    expect(wrap("moved by -0.00002 in to it", 17, "  ")).toBe("moved by\n  -0.00002 in to\n  it");
    expect(wrap("a 5 mm b", 3)).toBe("a\n5 mm\nb");
  });
});

describe("a table", () => {
  const columns = [
    { title: "" },
    { title: "id" },
    { title: "value", align: "right" as const },
    { title: "U" },
  ];
  const rows = [
    ["PASS", "flat", "0.001 mm", "0.0002 mm"],
    ["FAIL", "a", "0.1 mm", ""],
  ];
  it("stands as a list in a window that is too narrow for it", () => {
    const whole = ["      id       value  U", "PASS  flat  0.001 mm  0.0002 mm", "FAIL  a       0.1 mm"].join(
      "\n",
    );
    expect(table(columns, rows)).toBe(whole);
    expect(table(columns, rows, 31)).toBe(whole);
    expect(table(columns, rows, 30)).toBe(
      "PASS  flat\n  value  0.001 mm\n  U      0.0002 mm\nFAIL  a\n  value  0.1 mm",
    );
    expect(table(columns, rows, 12)).toContain("  value\n    0.001 mm");
  });
  it("is never divided where there is no window", () => {
    expect(styleFor(false).window).toBe(Number.POSITIVE_INFINITY);
    expect(styleFor(true, 130).window).toBe(130);
  });
});

describe("what several values share", () => {
  it("is said once", async () => {
    const folder = plinth.folder();
    writeFileSync(join(folder, "shared.csv"), log(""));
    const more = "  - {id: level, kind: flatness, of: face, max: 2 mm}\n";
    writeFileSync(
      join(folder, "shared.yaml"),
      `${PLAN.replace(/decision:.*/, "decision: {rule: guarded}")}${more}`,
    );
    const { out } = await plinth.run([
      "check",
      join(folder, "shared.csv"),
      "--plan",
      join(folder, "shared.yaml"),
    ]);
    expect(out.match(/^[^\n]*: No uncertainty is stated .*$/gm)).toEqual([
      expect.stringMatching(/^flat, level: No uncertainty/),
    ]);
    expect(out.match(/^ {2}to decide: State the gauge/gm)?.length).toBe(1);
  });
});
