// The day's digest: order, day in the workspace's zone, gauges, changes, CSV, and the same result twice.
import { readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Digest } from "../../src/model/digest.ts";
import { addEntry } from "../../src/records/entries.ts";
import { openWorkspace } from "../../src/records/workspace.ts";
import { csvText } from "../../src/report/csv.ts";
import { nightly } from "../../src/runs/nightly.ts";
import { drain, drop, faceLog, makeWorkspace, PLAN, quickEffects } from "./harness.ts";

const SETTINGS = "plinth: 1\nshop: Shop by the river\ntime-zone: Europe/Berlin\n";
/** Seconds since 1970 of a moment. */
const at = (iso: string): Record<string, string> => ({ SOURCE_DATE_EPOCH: String(Date.parse(iso) / 1000) });

async function run(root: string, iso: string, logs: Readonly<Record<string, string>>): Promise<void> {
  for (const [name, text] of Object.entries(logs)) await drop(root, name, text);
  await drain(root, { effects: quickEffects(at(iso)) });
}
async function digest(root: string, date: string | null, iso = "2026-11-25T22:00:00Z") {
  const effects = quickEffects(at(iso));
  return nightly(effects, await openWorkspace(effects, root), { date });
}
const log = (job: string, more: Readonly<Record<string, string>> = {}, height = 0): string =>
  faceLog({ header: { job, ...more }, height });
const signed = (job: string, answer: string): string =>
  `# job: ${job}\n# operation: 10\n# plan: seat\ncheck,value\nstoned,${answer}\n`;
const both = (job: string, answer: string): Record<string, string> => ({
  [`${job}-0.csv`]: log(job),
  [`${job}-90.csv`]: faceLog({ header: { job }, face: "face-90" }),
  [`${job}-s.csv`]: signed(job, answer),
});

describe("nightly", () => {
  it("puts what failed first, then missing, undecided and pass, and is the same when run twice", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    await run(root, "2026-11-25T10:00:00Z", {
      ...both("A-pass", "yes"),
      ...both("Z-fail", "no"),
      "m.csv": log("M-missing"),
      ...both("U-open", "perhaps"),
    });
    const first = await digest(root, "2026-11-25");
    expect(first.digest.reports.map(({ id, verdict }) => [id, verdict])).toEqual([
      ["Z-fail_10_seat", "fail"],
      ["M-missing_10_seat", "missing"],
      ["U-open_10_seat", "undecided"],
      ["A-pass_10_seat", "pass"],
    ]);
    expect(first.digest.counts).toEqual({ fail: 1, missing: 1, undecided: 1, pass: 1 });
    expect(first.digest.schema).toBe("plinth.digest/1");
    const folder = join(root, "reports", "digests");
    expect(readdirSync(folder).sort()).toEqual(
      ["csv", "html", "json", "pdf"].map((ending) => `2026-11-25.${ending}`),
    );
    const before = readdirSync(folder).map(
      (name) => [readFileSync(join(folder, name)), statSync(join(folder, name)).mtimeMs] as const,
    );
    const again = await digest(root, "2026-11-25", "2026-11-26T03:00:00Z");
    expect(again.status).toBe("kept");
    expect(
      readdirSync(folder).map((name) => [
        readFileSync(join(folder, name)),
        statSync(join(folder, name)).mtimeMs,
      ]),
    ).toEqual(before);
    const page = readFileSync(join(folder, "2026-11-25.html"), "utf8");
    expect(page.indexOf("Z-fail")).toBeLessThan(page.indexOf("A-pass"));
    expect(page).toContain("Shop by the river");
    expect(page).not.toMatch(/<script|undefined|NaN/);
  });
  it("makes the same bytes again where they were taken away, the PDF too", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    await run(root, "2026-11-25T10:00:00Z", { ...both("A-pass", "yes"), ...both("Z-fail", "no") });
    const folder = join(root, "reports", "digests");
    const all = (): [string, string][] =>
      readdirSync(folder)
        .sort()
        .map((name) => [name, readFileSync(join(folder, name)).toString("base64")]);
    await digest(root, "2026-11-25");
    const before = all();
    expect(before.map(([name]) => name.split(".")[1])).toEqual(["csv", "html", "json", "pdf"]);
    for (const [name] of before) rmSync(join(folder, name));
    const again = await digest(root, "2026-11-25", "2027-02-01T03:00:00Z");
    expect(again.status).toBe("written");
    expect(all()).toEqual(before);
  });
  it("counts the day in the workspace's zone, names the newest revision only, and says what changed", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    await run(root, "2026-11-24T12:00:00Z", both("A", "yes"));
    // Half past eleven in the evening in UTC is the next day in Berlin.
    await run(root, "2026-11-24T23:30:00Z", { "A-s.csv": signed("A", "no") });
    await run(root, "2026-11-25T23:30:00Z", both("B", "yes"));
    const day = async (date: string): Promise<Digest> => (await digest(root, date)).digest;
    expect(
      (await day("2026-11-24")).reports.map(({ id, revision, verdict }) => [id, revision, verdict]),
    ).toEqual([["A_10_seat", 1, "pass"]]);
    const next = await day("2026-11-25");
    expect(next.reports.map(({ id, revision, verdict }) => [id, revision, verdict])).toEqual([
      ["A_10_seat", 2, "fail"],
    ]);
    expect(next.changes).toEqual([{ id: "A_10_seat", from: "pass", to: "fail" }]);
    expect((await day("2026-11-26")).reports.map(({ id }) => id)).toEqual(["B_10_seat"]);
    expect((await digest(root, null, "2026-11-25T23:30:00Z")).digest.date).toBe("2026-11-26");
  });
  it("names the revision that replaces, also when the clock was set back between the two", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    await run(root, "2026-11-25T12:00:00Z", { "A-0.csv": log("A") });
    await run(root, "2026-11-24T12:00:00Z", { "A-s.csv": signed("A", "no") });
    for (const date of ["2026-11-24", "2026-11-25"]) {
      const { digest: seen } = await digest(root, date);
      expect(seen.reports.map(({ id, revision, verdict }) => [id, revision, verdict])).toEqual([
        ["A_10_seat", 2, "fail"],
      ]);
      expect(seen.counts).toEqual({ fail: 1, missing: 0, undecided: 0, pass: 0 });
    }
  });
  it("makes an empty day an honest page", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    await run(root, "2026-11-24T12:00:00Z", both("A", "yes"));
    const { digest: empty } = await digest(root, "2026-11-20");
    expect(empty.counts).toEqual({ fail: 0, missing: 0, undecided: 0, pass: 0 });
    expect(readFileSync(join(root, "reports", "digests", "2026-11-20.html"), "utf8")).toContain(
      "No report was issued on this day.",
    );
  });
  it("names gauges that are due or overdue", async () => {
    const plan = PLAN.replace(
      "probe: {uncertainty: 0.001 mm}",
      "probe: {uncertainty: 0.001 mm, calibration-due: 2026-12-05}",
    );
    const root = await makeWorkspace(plan, SETTINGS);
    await run(root, "2026-11-24T12:00:00Z", both("A", "yes"));
    expect((await digest(root, "2026-11-24")).digest.gauges).toEqual([
      { name: "probe", due: "2026-12-05", days: 11 },
    ]);
    expect((await digest(root, "2026-12-07")).digest.gauges).toEqual([
      { name: "probe", due: "2026-12-05", days: -2 },
    ]);
    expect((await digest(root, "2026-10-30")).digest.gauges).toEqual([]);
  });
});

describe("what the night sees over time", () => {
  /** Makes setups day by day, one on each, with a bump of so much in the middle of the face. */
  async function days(root: string, bumps: readonly number[]): Promise<void> {
    for (const [i, bump] of bumps.entries()) {
      const rows = [-100, 0, 100].flatMap((x) =>
        [-100, 0, 100].map((y) => `face-0,${x}.0,${y}.0,${(x === 0 && y === 0 ? bump : 0).toFixed(4)}`),
      );
      const header = `# job: D-${i}\n# operation: 10\n# plan: seat\n# machine: HM-4\n# points: surface\n`;
      await run(root, `2026-11-${String(i + 1).padStart(2, "0")}T10:00:00Z`, {
        [`D-${i}.csv`]: `${header}feature,x,y,z\n${rows.join("\n")}\n`,
      });
    }
  }
  const BUMPS = [0.004, 0.005, 0.004, 0.005, 0.004, 0.005, 0.012];

  it("names the result that left its limits on the day it did, and on no other", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    await days(root, BUMPS);
    const { digest: seen } = await digest(root, "2026-11-07");
    expect(seen.drift).toHaveLength(1);
    expect(seen.drift[0]).toMatchObject({
      report: "D-6_10_seat",
      characteristic: "flat-0",
      machine: "HM-4",
      unit: "mm",
      count: 7,
      signals: ["outside"],
    });
    // Mean of the six before 0.0045 and moving range 0.001, as flatness of a bump in the middle: the bump itself.
    expect(seen.drift[0]?.latest).toBeCloseTo(0.012, 9);
    expect(seen.drift[0]?.mean).toBeCloseTo(0.0045, 9);
    expect(seen.drift[0]?.upper).toBeCloseTo(0.0045 + 2.66 * 0.001, 9);
    expect((await digest(root, "2026-11-06")).digest.drift).toEqual([]);
    const page = readFileSync(join(root, "reports", "digests", "2026-11-07.html"), "utf8");
    expect(page).toContain("the latest lies outside the limits");
    expect(page).toContain("6.3.2.2");
  });
  it("leaves void reports out of what it compares with, and shows what quality said", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    await days(root, [0.004, 0.005, 0.004, 0.015, 0.004, 0.005, 0.012]);
    expect((await digest(root, "2026-11-07")).digest.drift).toEqual([]);
    const effects = quickEffects(at("2026-11-07T20:00:00Z"));
    const request = { decision: null, characteristic: null, who: "Quality", corrected: {} };
    const path = (i: number): string => join(root, "reports", `D-${i}_10_seat_r1.json`);
    await addEntry(effects, join(root, "records"), {
      ...request,
      path: path(3),
      kind: "void",
      why: "=Probe was loose",
    });
    await addEntry(effects, join(root, "records"), {
      ...request,
      path: path(6),
      kind: "correction",
      why: "Label read wrong",
      corrected: { pallet: "4" },
    });
    const { digest: seen, status } = await digest(root, "2026-11-07");
    expect(status).toBe("written");
    expect(seen.drift.map(({ report, count }) => [report, count])).toEqual([["D-6_10_seat", 6]]);
    expect(seen.entries.map(({ report, words }) => [report, words]).sort()).toEqual([
      ["D-3_10_seat", "void"],
      ["D-6_10_seat", "correction: pallet is 4"],
    ]);
    expect(seen.reports[0]).toMatchObject({ pallet: "4", entries: ["correction: pallet is 4"] });
    const folder = join(root, "reports", "digests");
    expect(readFileSync(join(folder, "2026-11-07.html"), "utf8")).toContain("&#x3D;Probe was loose");
    expect((await digest(root, "2026-11-07")).status).toBe("kept");
  });
  it("writes the board beside, also of other days, and says nothing twice", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    await days(root, [0.004, 0.005]);
    const first = await digest(root, "2026-11-02");
    expect(first.board).toMatchObject({ reports: 2, unreadable: [] });
    const page = readFileSync(join(root, "reports", "index.html"), "utf8");
    expect(page).toContain("Shop by the river");
    expect(page).toContain("digests/2026-11-02.html");
    expect((await digest(root, "2026-11-02")).board.written).toBe(0);
  });
  it("follows the seatings of each machine with the limits of chance", async () => {
    const plan = `${PLAN}advice:\n  - {kind: re-seat, of: ledger, feature: face-0, quantity: slopeX}\n`;
    const root = await makeWorkspace(plan, SETTINGS);
    const micrometresPerMetre = [10, 12, 10, 12, 10, 12, 10, 60];
    for (const [i, slope] of micrometresPerMetre.entries()) {
      const rows = [-100, 0, 100].flatMap((x) =>
        [-100, 0, 100].map((y) => `face-0,${x}.0,${y}.0,${((x * slope) / 1e6).toFixed(6)}`),
      );
      const header = `# job: S-${i}\n# operation: 10\n# plan: seat\n# machine: HM-4\n# points: surface\n`;
      await run(root, `2026-11-0${i + 1}T10:00:00Z`, {
        [`S-${i}.csv`]: `${header}feature,x,y,z\n${rows.join("\n")}\n`,
      });
    }
    const { digest: seen } = await digest(root, "2026-11-08");
    const range = seen.trends.find(({ quantity }) => quantity === "range");
    // From the second seating on there is a spread of 2 um/m between the seatings so far; the last one makes it 50.
    expect(range).toMatchObject({ of: expect.stringContaining("re-seat"), machine: "HM-4", count: 7 });
    expect(range?.latest).toBeCloseTo(50e-6, 9);
    expect(range?.mean).toBeCloseTo(2e-6, 9);
    expect(range?.signals).toContain("outside");
    const page = readFileSync(join(root, "reports", "digests", "2026-11-08.html"), "utf8");
    expect(page).toContain("6.3.2.2");
    expect(
      (await digest(root, "2026-11-07")).digest.trends.find(({ quantity }) => quantity === "range"),
    ).toMatchObject({
      signals: [],
    });
  });
  it("follows the B centre of each machine with the limits of chance", async () => {
    const plan = `${PLAN.replace("features:", "features:\n  b0: {fit: point}\n  b90: {fit: point}\n  b180: {fit: point}\n  b270: {fit: point}")}advice:\n  - {kind: rotation-center, of: {0: b0, 90: b90, 180: b180, 270: b270}}\n`;
    const root = await makeWorkspace(plan.replace("frame: work", "frame: machine"), SETTINGS);
    const centers = [0.001, 0.002, 0.001, 0.002, 0.001, 0.009];
    for (const [i, x] of centers.entries()) {
      const around = [
        [100, 0],
        [0, -100],
        [-100, 0],
        [0, 100],
      ].map(([dx = 0, dz = 0], k) => `b${90 * k},${(x + dx).toFixed(4)},50.0000,${(-500 + dz).toFixed(4)}`);
      const text = `# job: B-${i}\n# operation: 10\n# plan: seat\n# machine: HM-4\n# points: surface\nfeature,x,y,z\n${around.join("\n")}\n`;
      await run(root, `2026-11-0${i + 1}T10:00:00Z`, { [`B-${i}.csv`]: text });
    }
    const { digest: seen } = await digest(root, "2026-11-06");
    const [x, z] = seen.trends;
    expect(x).toMatchObject({ of: "rotation-center", quantity: "x", machine: "HM-4", unit: "mm", count: 6 });
    expect(x?.latest).toBeCloseTo(0.009, 9);
    expect(x?.mean).toBeCloseTo(0.0014, 9);
    expect(x?.upper).toBeCloseTo(0.0014 + 2.66 * 0.001, 9);
    expect(x?.signals).toContain("outside");
    expect(z).toMatchObject({ quantity: "z", signals: [] });
  });
});

describe("CSV for spreadsheets", () => {
  it("runs nothing as a formula and keeps numbers as numbers", () => {
    expect(csvText([["=1+1", "+x", "-y", "@z", "\tq", 'a"b', "plain", -1.5, null]])).toBe(
      '"\'=1+1","\'+x","\'-y","\'@z","\'\tq","a""b","plain",-1.5,\r\n',
    );
  });
});
