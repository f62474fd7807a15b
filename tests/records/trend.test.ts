// Values over time: what stands in a trend, by which key, and that the page's picture shows the very numbers.
import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "node-html-parser";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TrendPoint } from "../../src/model/trend.ts";
import { addEntry, type EntryRequest } from "../../src/records/entries.ts";
import { openProgram, type Program } from "../cli/plinth.ts";
import { drain, drop, makeWorkspace, PLAN, quickEffects } from "../runs/harness.ts";

let plinth: Program;
beforeAll(() => {
  plinth = openProgram();
});
afterAll(() => plinth.remove());

const at = (iso: string) =>
  quickEffects({ SOURCE_DATE_EPOCH: String(Date.parse(iso) / 1000), PATH: process.env.PATH ?? "" });

interface Setup {
  readonly day: string;
  readonly bump: number;
  readonly header?: Readonly<Record<string, string>>;
  readonly plan?: string;
}
/** One setup on each day: a face with a bump in its middle, so that its flatness is the bump. */
async function shop(setups: readonly Setup[], settings?: string): Promise<string> {
  const root = await makeWorkspace(PLAN, settings);
  for (const [i, { day, bump, header = {} }] of setups.entries()) {
    const rows = [-100, 0, 100].flatMap((x) =>
      [-100, 0, 100].map((y) => `face-0,${x}.0,${y}.0,${(x === 0 && y === 0 ? bump : 0).toFixed(4)}`),
    );
    const keys = { job: `D-${i}`, operation: "10", plan: "seat", points: "surface", ...header };
    const head = Object.entries(keys).map(([key, value]) => `# ${key}: ${value}`);
    await drop(root, `D-${i}.csv`, `${[...head, "feature,x,y,z", ...rows].join("\n")}\n`);
    await drain(root, { effects: at(`${day}T10:00:00Z`) });
  }
  return root;
}
const entry = (root: string, report: string, more: Partial<EntryRequest>) =>
  addEntry(at("2026-11-20T08:00:00Z"), join(root, "records"), {
    path: join(root, "reports", `${report}.json`),
    kind: "void",
    who: "Quality",
    why: "Probe was loose",
    decision: null,
    characteristic: null,
    corrected: {},
    ...more,
  });
const trend = (root: string, ...more: string[]) => plinth.run(["trend", ...more, "--workspace", root]);
async function points(root: string, ...more: string[]): Promise<TrendPoint[]> {
  const { out, err, code } = await trend(root, ...more, "--json");
  expect([code, err]).toEqual([0, ""]);
  return JSON.parse(out) as TrendPoint[];
}
const page = async (root: string, ...more: string[]) => {
  const file = join(root, "trend.html");
  expect(await trend(root, ...more, "--html", file, "--quiet")).toMatchObject({ code: 0, out: "", err: "" });
  return readFileSync(file, "utf8");
};
const day = (n: number): string => `2026-11-${String(n).padStart(2, "0")}`;

const BUMPS = [0.004, 0.005, 0.004, 0.005, 0.004, 0.005, 0.012];
const seven = BUMPS.map((bump, i) => ({ day: day(i + 1), bump }));

describe("a trend on the terminal", () => {
  it("has each setup's newest revision in time order, the change, mean, limits of chance and what breaks a rule", async () => {
    const root = await shop(seven);
    const { code, out } = await trend(root, "flat-0");
    expect(code).toBe(0);
    const lines = out.split("\n");
    expect(lines[0]).toBe("flat-0 flatness");
    const rows = lines.filter((line) => line.includes("_seat r1"));
    expect(rows.map((row) => row.trim().split(/ {2,}/).slice(0, 2))).toEqual(
      seven.map((setup, i) => [`${setup.day}T10:00:00Z`, `D-${i}_10_seat r1`]),
    );
    expect(rows[6]).toMatch(/ 0\.0120 mm +\+0\.0070 mm /);
    // Of the six before: mean 0.0045, mean moving range 0.001; 0.0045 - 2.66 x 0.001 and 0.0045 + 2.66 x 0.001.
    expect(out).toContain("mean 0.0045 mm, limits of chance 0.0018 mm to 0.0072 mm");
    expect(out).toContain("! the latest lies outside the limits");
    expect((await trend(root, "flat-0", "--since", "2026-11-07")).out).toContain("too few values for limits");
  });
  it("shows inch where the shop does, and the same numbers as JSON in mm", async () => {
    const root = await shop([{ day: day(1), bump: 0.0127 }], "show: in\n");
    expect((await trend(root, "flat-0")).out).toContain("0.00050 in");
    const [point] = await points(root, "flat-0");
    expect(point).toMatchObject({
      of: "flat-0",
      kind: "flatness",
      quantity: "value",
      unit: "mm",
      plan: "seat",
      group: null,
    });
    expect(point?.value).toBeCloseTo(0.0127, 9);
  });
  it("divides by machine, pallet, fixture or job; who states none stands apart", async () => {
    const root = await shop([
      { day: day(1), bump: 0.004, header: { machine: "HM-4", pallet: "1", fixture: "column-7" } },
      { day: day(2), bump: 0.005, header: { machine: "HM-5", pallet: "1", fixture: "column-8" } },
      { day: day(3), bump: 0.006, header: { machine: "HM-4", pallet: "2", fixture: "column-7" } },
      { day: day(4), bump: 0.007, header: { machine: "HM-4" } },
    ]);
    const groups = async (key: string): Promise<Record<string, number[]>> => {
      const found: Record<string, number[]> = {};
      for (const { group, value } of await points(root, "flat-0", "--by", key)) {
        const name = String(group);
        found[name] = [...(found[name] ?? []), Number(value.toFixed(4))];
      }
      return found;
    };
    expect(await groups("machine")).toEqual({ "HM-4": [0.004, 0.006, 0.007], "HM-5": [0.005] });
    expect(await groups("pallet")).toEqual({ "1": [0.004, 0.005], "2": [0.006], null: [0.007] });
    expect(await groups("fixture")).toEqual({
      "column-7": [0.004, 0.006],
      "column-8": [0.005],
      null: [0.007],
    });
    expect(await groups("job")).toEqual({ "D-0": [0.004], "D-1": [0.005], "D-2": [0.006], "D-3": [0.007] });
    const { out } = await trend(root, "flat-0", "--by", "fixture");
    expect(out).toContain("flat-0 flatness, fixture column-7");
    expect(out).toContain("flat-0 flatness, fixture not stated");
  });
  it("leaves void revisions out and goes by corrected headers", async () => {
    const root = await shop(seven.map((setup) => ({ ...setup, header: { machine: "HM-4" } })));
    await entry(root, "D-6_10_seat_r1", {});
    await entry(root, "D-0_10_seat_r1", {
      kind: "correction",
      why: "Wrong plate read",
      corrected: { machine: "HM-5" },
    });
    const found = await points(root, "flat-0", "--by", "machine");
    expect(found.map(({ report, group }) => [report, group])).toEqual(
      ["HM-5", "HM-4", "HM-4", "HM-4", "HM-4", "HM-4"].map((group, i) => [`D-${i}_10_seat`, group]),
    );
    const html = await page(root, "flat-0", "--by", "machine");
    expect(html).not.toContain("D-6_10_seat");
    expect(html).toContain("A void report is left out.");
  });
  it("takes the revision that replaces, also when the clock was set back between the two", async () => {
    const root = await shop([
      { day: day(2), bump: 0.004, header: { job: "A" } },
      { day: day(1), bump: 0.006, header: { job: "A" } },
    ]);
    const found = await points(root, "flat-0");
    expect(found.map(({ revision, value }) => [revision, Number(value.toFixed(4))])).toEqual([[2, 0.006]]);
  });
  it("takes the newest revision only, and the one before where that is void", async () => {
    const root = await shop([
      { day: day(1), bump: 0.004, header: { job: "A" } },
      { day: day(2), bump: 0.006, header: { job: "A" } },
    ]);
    const seen = async () =>
      (await points(root, "flat-0")).map(({ report, revision, value }) => [
        report,
        revision,
        Number(value.toFixed(6)),
      ]);
    // The second log measures the face of the same setup again: the later counts.
    expect(await seen()).toEqual([["A_10_seat", 2, 0.006]]);
    await entry(root, "A_10_seat_r2", {});
    expect(await seen()).toEqual([["A_10_seat", 1, 0.004]]);
  });
  it("answers an unknown value, a wrong date and no value with one sentence and 2", async () => {
    const root = await shop([{ day: day(1), bump: 0.004 }]);
    for (const [given, words] of [
      [["flat-9"], /no report in this workspace has such a value; name a characteristic/],
      [["flat-0", "--since", "2026-12-01"], /no such|since 2026-12-01/],
      [["flat-0", "--since", "soon"], /--since soon: expected a date/],
      [[], /trend: name a value/],
      [["probe", "--by", "instrument", "--html", "x.html"], /a gauge's uses are a list/],
    ] as const) {
      const { code, err } = await trend(root, ...given);
      expect([given, code]).toEqual([given, 2]);
      expect(err).toMatch(words);
    }
  });
});

describe("the page of a trend", () => {
  /** Reads values back from heights, by the two lines whose values the text beside them says. */
  function readBack(html: string) {
    const svg = parse(html).querySelector("svg");
    const height = (path: string | undefined): number => Number(/^M[\d.]+ ([\d.]+)H/.exec(path ?? "")?.[1]);
    const lines = svg
      ?.querySelectorAll("path.mean, path.limit")
      .map((path) => height(path.getAttribute("d")));
    const circles = svg?.querySelectorAll("circle") ?? [];
    return {
      lines: lines ?? [],
      circles: circles.map((circle) => ({
        x: Number(circle.getAttribute("cx")),
        y: Number(circle.getAttribute("cy")),
        open: circle.getAttribute("fill") === "#fff",
      })),
      line: svg?.querySelector("path.values")?.getAttribute("d") ?? "",
      words: svg?.getAttribute("aria-label") ?? "",
    };
  }
  it("draws every value at its height, in its order, the line through them, and what lies outside open", async () => {
    const root = await shop(seven);
    const html = await page(root, "flat-0");
    const { lines, circles, line, words } = readBack(html);
    const [mean = 0, lower = 0, upper = 0] = lines;
    // Known from the terminal's test: mean 0.0045, limits 0.0045 -+ 0.00266.
    const mmPerPx = (2 * 0.00266) / (lower - upper);
    expect((lower + upper) / 2).toBeCloseTo(mean, 1);
    const read = circles.map(({ y }) => 0.0045 + (mean - y) * mmPerPx);
    for (const [i, bump] of BUMPS.entries()) expect(read[i]).toBeCloseTo(bump, 4);
    const steps = circles.slice(1).map(({ x }, i) => x - (circles[i]?.x ?? 0));
    expect(Math.min(...steps)).toBeGreaterThan(0);
    expect(Math.max(...steps) - Math.min(...steps)).toBeLessThan(0.03);
    expect(circles.map(({ open }) => open)).toEqual([false, false, false, false, false, false, true]);
    expect(line).toBe(`M${circles.map(({ x, y }) => `${x} ${y}`).join("L")}`);
    expect(words).toBe("flat-0 flatness: 7 values, the latest 0.0120 mm, mean 0.0045 mm");
    // The table says the same, newest first.
    const rows = parse(html)
      .querySelectorAll("tbody tr")
      .map((row) => row.querySelectorAll("td").map((cell) => cell.text));
    expect(rows).toHaveLength(7);
    expect(rows[0]?.[1]).toBe("0.0120 mm");
    expect(rows[0]?.[2]).toBe("+0.0070 mm");
    expect(rows[6]?.[2]).toBe("");
    expect(html).toContain("the latest lies outside the limits");
    expect(html).toContain("6.3.2.2");
  });
  it("is the same bytes twice, loads nothing and runs nothing", async () => {
    const root = await shop(seven.slice(0, 2));
    const html = await page(root, "flat-0");
    expect(await page(root, "flat-0")).toBe(html);
    expect(html).not.toMatch(/<script|https?:\/\/(?!www\.w3\.org)|undefined|NaN/);
    const policy = parse(html).querySelector("meta[http-equiv]")?.getAttribute("content");
    expect(policy).toMatch(/^default-src 'none'; style-src 'unsafe-inline';/);
    const { circles } = readBack(html);
    expect(circles).toHaveLength(2);
  });
  it("is one honest dot for one value, and one chart for each group", async () => {
    const root = await shop([
      { day: day(1), bump: 0.004, header: { pallet: "1" } },
      { day: day(2), bump: 0.005, header: { pallet: "2" } },
    ]);
    const html = await page(root, "flat-0", "--by", "pallet");
    const svgs = parse(html).querySelectorAll("svg");
    expect(svgs).toHaveLength(2);
    for (const svg of svgs) {
      const [circle, ...more] = svg.querySelectorAll("circle");
      expect(more).toEqual([]);
      expect(Number(circle?.getAttribute("cy"))).toBeGreaterThan(16);
      expect(Number(circle?.getAttribute("cy"))).toBeLessThan(176);
    }
    expect(html).toContain("too few values for limits");
  });
  it("shows hostile names as text and nothing else", async () => {
    const hostile = `"><script>alert(1)</script><img src=x onerror=alert(2)>&{{7*7}}`;
    const root = await shop([{ day: day(1), bump: 0.004, header: { machine: hostile, job: hostile } }]);
    const html = await page(root, "flat-0", "--by", "machine");
    const tree = parse(html);
    expect(tree.querySelectorAll("script, img, iframe, object, link")).toEqual([]);
    expect(tree.querySelector("h2")?.text).toContain("alert(1)");
    expect(tree.querySelectorAll("[onerror], [onload], [href], [src]")).toEqual([]);
    expect(html).not.toContain("<script");
    expect(html).toContain("{{7*7}}");
    const { out } = await trend(root, "flat-0", "--by", "machine");
    expect(out).toContain("<script>");
  });
});

describe("a gauge found out of calibration", () => {
  const due = (date: string): string =>
    PLAN.replace("{uncertainty: 0.001 mm}", `{uncertainty: 0.001 mm, calibration-due: ${date}}`);
  /** Two setups under the old due date, one check, three under the new one. */
  async function checkedShop(): Promise<string> {
    const root = await shop(seven.slice(0, 2));
    return root;
  }
  async function more(root: string, plan: string, setups: readonly (readonly [string, string])[]) {
    const { writeFile } = await import("node:fs/promises");
    await writeFile(join(root, "plans", "seat.yaml"), plan);
    for (const [job, date] of setups) {
      const rows = [-100, 0, 100].flatMap((x) => [-100, 0, 100].map((y) => `face-0,${x}.0,${y}.0,0.0000`));
      const head = `# job: ${job}\n# operation: 10\n# plan: seat\n# points: surface\n`;
      await drop(root, `${job}.csv`, `${head}feature,x,y,z\n${rows.join("\n")}\n`);
      await drain(root, { effects: at(`${date}T10:00:00Z`) });
    }
  }
  interface Use {
    readonly instrument: string;
    readonly report: string;
    readonly void: boolean;
    readonly calibrationDue: string | null;
  }
  const uses = async (root: string, ...given: string[]): Promise<Use[]> =>
    JSON.parse((await trend(root, ...given, "--by", "instrument", "--json")).out) as Use[];

  it("names every report that used it since its last good check, the void ones marked", async () => {
    const root = await checkedShop();
    await more(root, due("2026-12-01"), [["E-1", "2026-11-08"]]);
    await more(root, due("2027-12-01"), [
      ["F-1", "2026-11-10"],
      ["F-2", "2026-11-11"],
    ]);
    await entry(root, "F-2_10_seat_r1", {});
    expect((await uses(root, "probe")).map((use) => [use.report, use.calibrationDue, use.void])).toEqual([
      ["F-1_10_seat", "2027-12-01", false],
      ["F-2_10_seat", "2027-12-01", true],
    ]);
    const { out, code } = await trend(root, "probe", "--by", "instrument");
    expect(code).toBe(0);
    expect(out).toContain(
      "probe: 2 reports since its last check: its due date became 2027-12-01 with F-1_10_seat of 2026-11-10. 3 earlier uses are left out.",
    );
    expect(out).toContain("missing, void");
    // A day says it better than the due dates: then that counts.
    expect((await uses(root, "probe", "--since", "2026-11-02")).map(({ report }) => report)).toEqual([
      "D-1_10_seat",
      "E-1_10_seat",
      "F-1_10_seat",
      "F-2_10_seat",
    ]);
  });
  it("without a name lists each gauge; one that nobody used is said so", async () => {
    const root = await checkedShop();
    expect((await uses(root)).map(({ instrument, report }) => [instrument, report])).toEqual([
      ["probe", "D-0_10_seat"],
      ["probe", "D-1_10_seat"],
    ]);
    const { out, code } = await trend(root, "lost-one", "--by", "instrument");
    expect([code, out.trim()]).toEqual([0, "No report in this workspace names the instrument lost-one."]);
    mkdirSync(join(root, "empty"), { recursive: true });
    const bare = await makeWorkspace();
    expect((await trend(bare, "--by", "instrument")).out.trim()).toBe(
      "No report in this workspace names an instrument.",
    );
  });
});
