// What quality said stays: in the ledger made anew, on the board, in the digest, and on the next revision, which still verifies.
import { readFileSync, writeFileSync } from "node:fs";
import { readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { parse } from "node-html-parser";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { openLedger } from "../../src/records/ledger/openLedger.ts";
import { openWorkspace } from "../../src/records/workspace.ts";
import { rebuildLedger } from "../../src/runs/rebuildLedger.ts";
import { openProgram, type Program } from "../cli/plinth.ts";
import { drain, drop, faceLog, makeWorkspace, PLAN, reportOf } from "../runs/harness.ts";

let plinth: Program;
beforeAll(() => {
  plinth = openProgram();
});
afterAll(() => plinth.remove());

const REASON = `Edge is cut away in 20 <img src=x onerror=alert(1)> {{7*7}}`;
/** A fail with a disposition and a wrong pallet, corrected. */
async function noted(plan = PLAN): Promise<string> {
  const root = await makeWorkspace(plan.replaceAll("max: 0.02 mm", "max: 0.0001 mm"));
  await drop(root, "a.csv", faceLog({ header: { pallet: "3" } }));
  await drain(root);
  const note = async (...more: string[]): Promise<void> => {
    const report = join(root, "reports", "J-1_10_seat_r1.json");
    const { code, err } = await plinth.run([
      "note",
      report,
      "--who",
      "Shift lead",
      "--workspace",
      root,
      ...more,
    ]);
    expect([code, err]).toEqual([0, ""]);
  };
  await note(
    "--kind",
    "disposition",
    "--decision",
    "use-as-is",
    "--characteristic",
    "flat-0",
    "--why",
    REASON,
  );
  await note("--kind", "correction", "--set", "pallet=4", "--why", "Label read wrong");
  return root;
}
async function rebuild(root: string): Promise<void> {
  const effects = durableEffects();
  await rebuildLedger(effects, await openWorkspace(effects, root), () => undefined);
}
async function entriesInLedger(root: string): Promise<string[]> {
  const ledger = await openLedger(join(root, "plinth.db"));
  const rows = await ledger.tables.selectFrom("entry").selectAll().orderBy("kind").execute();
  await ledger.close();
  return rows.map(({ report_id, kind, who, why }) => [report_id, kind, who, why].join("|"));
}
const BOTH = [
  "J-1_10_seat|correction|Shift lead|Label read wrong",
  `J-1_10_seat|disposition|Shift lead|${REASON}`,
];

describe("what quality said", () => {
  it.each([
    ["a ledger that is whole", async () => undefined],
    ["a damaged one", async (root: string) => writeFile(join(root, "plinth.db"), "garbage")],
    ["none", async (root: string) => rm(join(root, "plinth.db"))],
  ])("is in the ledger made anew from %s, on board and digest, once", async (_, damage) => {
    const root = await noted();
    expect(await entriesInLedger(root)).toEqual(BOTH);
    await damage(root);
    await rebuild(root);
    expect(await entriesInLedger(root)).toEqual(BOTH);
    const day = (await reportOf(root, "J-1_10_seat_r1.json")).report.issued.slice(0, 10);
    const night = await plinth.run(["nightly", "--workspace", root, "--date", day]);
    expect(night.code).toBe(0);
    expect(await entriesInLedger(root)).toEqual(BOTH);
    const digest = JSON.parse(await readFile(join(root, "reports", "digests", `${day}.json`), "utf8")) as {
      reports: unknown[];
      entries: unknown[];
    };
    expect(digest.reports).toMatchObject([
      { pallet: "4", entries: ["disposition: use-as-is (flat-0)", "correction: pallet is 4"] },
    ]);
    expect(digest.entries).toHaveLength(2);
    const board = readFileSync(join(root, "reports", "board", "data-0001.js"), "utf8");
    expect(board).toContain("Label read wrong");
    expect(board).toContain("use-as-is");
  });

  it("stands on the next revision with who and why, as text, and the revision verifies as JSON and as PDF", async () => {
    const root = await noted();
    await rebuild(root);
    await drop(root, "b.csv", faceLog({ face: "face-90", header: { pallet: "3" } }));
    const { code } = await plinth.run(["watch", "--once", "--workspace", root, "--quiet"]);
    expect(code).toBe(0);
    const next = await reportOf(root, "J-1_10_seat_r2.json");
    expect(next.entries?.map(({ kind, revision, who }) => [kind, revision, who])).toEqual([
      ["disposition", 1, "Shift lead"],
      ["correction", 1, "Shift lead"],
    ]);
    const page = parse(readFileSync(join(root, "reports", "J-1_10_seat_r2.html"), "utf8"));
    const rows = page
      .querySelectorAll(".part-entries tbody tr")
      .map((row) => row.querySelectorAll("th, td").map((cell) => cell.text));
    expect(rows.map(([revision, , what, who]) => [revision, what, who])).toEqual([
      ["1", "use as is (flat-0)", "Shift lead"],
      ["1", "Pallet is 4", "Shift lead"],
    ]);
    expect(page.querySelectorAll("img, script")).toEqual([]);
    expect(rows[0]?.[4]).toContain("{{7*7}}");
    for (const ending of ["json", "pdf"]) {
      const checked = await plinth.run(["verify", join(root, "reports", `J-1_10_seat_r2.${ending}`)]);
      expect([ending, checked.code, checked.err]).toEqual([ending, 0, ""]);
    }
    // The first revision is as it was: nothing is edited.
    expect((await reportOf(root, "J-1_10_seat_r1.json")).entries).toBeUndefined();
  });

  it("is refused by verify once a word of it is changed, or when it belongs elsewhere", async () => {
    const root = await noted();
    await drop(root, "b.csv", faceLog({ face: "face-90", header: { pallet: "3" } }));
    await drain(root);
    const path = join(root, "reports", "J-1_10_seat_r2.json");
    const text = readFileSync(path, "utf8");
    for (const [change, words] of [
      [
        text.replace('"decision": "use-as-is"', '"decision": "rework"'),
        /an entry of Shift lead: its words are not those/,
      ],
      [text.replace("Label read wrong", "Label read right"), /its words are not those/],
      [text.replace(/"entries": \[/, '"entries": [null,'), /its words are not those/],
      [text.replace(/"entries": \[[^\]]*\]/, '"entries": {}'), /what quality said is no list/],
    ] as const) {
      expect(change).not.toBe(text);
      writeFileSync(join(root, "changed.json"), change);
      const { code, err, out } = await plinth.run(["verify", join(root, "changed.json")]);
      expect([code, err + out]).toEqual([3, expect.stringMatching(words)]);
    }
  });

  it("is refused of a sound report that is not the workspace's own of its name, by reports, ledger and record", async () => {
    const root = await noted();
    // Elsewhere the same job was measured with other touches: the same id and revision, another report.
    const other = await makeWorkspace();
    await drop(other, "a.csv", faceLog({ height: 5 }));
    await drain(other);
    const foreign = join(other, "reports", "J-1_10_seat_r1.json");
    const own = join(root, "reports", "J-1_10_seat_r1.json");
    const kept = readFileSync(own);
    const record = join(root, "records", "J-1", "manifest.json");
    const before = readFileSync(record, "utf8");
    const theVoid = async (path: string) =>
      plinth.run(["note", path, "--kind", "void", "--who", "Q", "--why", "Wrong part", "--workspace", root]);
    const expectRefused = async (path: string, words: RegExp): Promise<void> => {
      const { code, out, err } = await theVoid(path);
      expect([code, out, err]).toEqual([3, "", expect.stringMatching(words)]);
      expect(err.trim().split("\n")).toHaveLength(1);
      expect(readFileSync(record, "utf8")).toBe(before);
    };
    await expectRefused(
      foreign,
      /not the report of this name and revision that the workspace has \(.*_r1\.json has another one\)/,
    );
    await rm(own);
    await expectRefused(foreign, /\(the ledger has another one\)/);
    // A revision that this workspace has yet to make.
    await drop(other, "a.csv", faceLog({ height: 6 }));
    await drain(other);
    await expectRefused(
      join(other, "reports", "J-1_10_seat_r2.json"),
      /has J-1_10_seat up to revision 1, but no revision 2 of it/,
    );
    await writeFile(own, kept);
    expect((await theVoid(own)).code).toBe(0);
  });

  it("is said in the language of the page", async () => {
    const root = await noted(PLAN.replace("title:", "language: de\ntitle:"));
    await drop(root, "b.csv", faceLog({ face: "face-90", header: { pallet: "3" } }));
    await drain(root);
    const page = parse(readFileSync(join(root, "reports", "J-1_10_seat_r2.html"), "utf8"));
    expect(page.querySelector(".part-entries")?.text).toMatch(
      /früheren Revisionen[\s\S]*so verwenden \(flat-0\)[\s\S]*Palette ist 4/,
    );
  });
});
