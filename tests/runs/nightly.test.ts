// The day's digest: order, day in the workspace's zone, gauges, changes, CSV, and the same result twice.
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Digest } from "../../src/model/digest.ts";
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
  return nightly(effects, await openWorkspace(effects, root), date);
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

describe("CSV for spreadsheets", () => {
  it("runs nothing as a formula and keeps numbers as numbers", () => {
    expect(csvText([["=1+1", "+x", "-y", "@z", "\tq", 'a"b', "plain", -1.5, null]])).toBe(
      '"\'=1+1","\'+x","\'-y","\'@z","\'\tq","a""b","plain",-1.5,\r\n',
    );
  });
});
