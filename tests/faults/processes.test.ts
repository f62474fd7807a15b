// Real processes: killed at any moment, two at once, stopped with a signal.
import { readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import {
  drop,
  expectWhole,
  faceLog,
  makeWorkspace,
  namesIn,
  PLAN,
  reportOf,
  temporaryFolder,
} from "../runs/harness.ts";
import { startPlinth } from "../runs/startPlinth.ts";

const watchOnce = (root: string, more: readonly string[] = [], environment: Record<string, string> = {}) =>
  startPlinth(["watch", "--workspace", root, "--once", ...more], environment).ended;

/** Numbers that look like chance and are the same in every run (Lehmer generator, Park and Miller 1988). */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

/** `npm run kill` asks for 200. */
const KILLS = Number(process.env.PLINTH_KILLS ?? 12);
describe("killed", () => {
  it(
    `${KILLS} times at random moments, with drops in between: nothing lost, doubled or half`,
    async () => {
      const root = await makeWorkspace();
      const random = chance(Number(process.env.PLINTH_SEED ?? 20261125));
      const dropped: string[] = [];
      let killed = 0;
      for (let round = 0; killed < KILLS; round++) {
        for (let i = 0; i < 3; i++) {
          const text = faceLog({
            header: { job: `J-${Math.floor(random() * 4)}` },
            face: i % 2 ? "face-90" : "face-0",
            height: dropped.length,
          });
          dropped.push(text);
          const name = `face-${i % 2}.csv`;
          // As a control writes it: under another name first. Its name may still be taken by the one before.
          await writeFile(join(root, "inbox", `.${name}`), text);
          const free = (await readdir(join(root, "inbox"))).includes(name)
            ? `more-${dropped.length}.csv`
            : name;
          await rename(join(root, "inbox", `.${name}`), join(root, "inbox", free));
        }
        const running = startPlinth(["watch", "--workspace", root]);
        await Promise.race([running.says("Watching").then(() => wait(700 + random() * 1300)), running.ended]);
        running.child.kill("SIGKILL");
        if ((await running.ended).signal === "SIGKILL") killed++;
        expect(round).toBeLessThan(3 * KILLS);
      }
      expect((await watchOnce(root)).code).toBe(0);
      await expectWhole(root, dropped);
      expect(await namesIn(root, "inbox", "rejected")).toEqual([]);
    },
    15_000 * KILLS,
  );
});

describe("two watchers", () => {
  it("at once drain one inbox without harm, both with 0", async () => {
    const root = await makeWorkspace();
    const logs = Array.from({ length: 20 }, (_, at) => faceLog({ header: { job: `J-${at}` } }));
    for (const [at, log] of logs.entries()) await drop(root, `${at}.csv`, log);
    const ends = await Promise.all([watchOnce(root), watchOnce(root), watchOnce(root)]);
    expect(ends.map(({ code }) => code)).toEqual([0, 0, 0]);
    expect(await expectWhole(root, logs)).toEqual({ revisions: 20 });
  });

  it("the second stands by and goes on when the first is killed", async () => {
    const root = await makeWorkspace();
    const first = startPlinth(["watch", "--workspace", root]);
    await first.says("Watching");
    const second = startPlinth(["watch", "--workspace", root]);
    await second.says(`Another watcher works here (process ${first.child.pid} on ${hostname()}`);
    first.child.kill("SIGKILL");
    await second.says("Watching");
    await drop(root, "a.csv", faceLog());
    await second.says("J-1_10_seat_r1");
    second.child.kill("SIGTERM");
    expect(await second.ended).toMatchObject({ code: 0, signal: null });
    await expectWhole(root, [faceLog()]);
  });

  it("a lock whose process number is used by another program now is a crashed one", async () => {
    const root = await makeWorkspace();
    const lock = {
      token: "x",
      host: hostname(),
      pid: process.ppid,
      since: "2026-01-01T00:00:00Z",
      processStart: "1",
    };
    await writeFile(join(root, ".plinth", "watch.lock"), JSON.stringify(lock));
    await drop(root, "a.csv", faceLog());
    const end = await watchOnce(root);
    expect(end.code).toBe(0);
    expect(end.told).toContain("The last run was cut off");
    await expectWhole(root, [faceLog()]);
  });

  it("a half-written lock is a crashed one", async () => {
    const root = await makeWorkspace();
    await writeFile(join(root, ".plinth", "watch.lock"), '{"token":');
    expect((await watchOnce(root)).code).toBe(0);
    await expectWhole(root, []);
  });
});

describe("stopped", () => {
  it.each([
    ["with events", "never"],
    ["with polling", "always"],
  ])("by SIGTERM after it has seen a new, a changed and a growing log %s", async (_, polling) => {
    const root = await makeWorkspace(PLAN, `watch: {polling: ${polling}, poll-every: 300 ms}\n`);
    const running = startPlinth(["watch", "--workspace", root]);
    await running.says("Watching");
    await drop(root, "a.csv", faceLog());
    await running.says("J-1_10_seat_r1");
    await drop(root, "a.csv", faceLog({ height: 1 }));
    await running.says("J-1_10_seat_r2");
    // Written in three pieces with pauses shorter than the rest that is asked for.
    const whole = faceLog({ height: 2, face: "face-90" });
    for (const end of [0.3, 0.6, 1]) {
      await writeFile(join(root, "inbox", "grows.csv"), whole.slice(0, Math.floor(whole.length * end)));
      await wait(700);
    }
    await running.says("J-1_10_seat_r3");
    running.child.kill("SIGTERM");
    const end = await running.ended;
    expect(end).toMatchObject({ code: 0, signal: null });
    expect(end.told).toContain("Ended: 3 logs accepted, 0 rejected, 3 revisions.");
    expect(JSON.parse(await readFile(join(root, ".plinth", "heartbeat.json"), "utf8"))).toMatchObject({
      state: "ended",
    });
    await expectWhole(root, [faceLog(), faceLog({ height: 1 }), whole]);
  });
});

describe("exit codes and first start", () => {
  it("3 for a reject, over 10 and 11; 0 without --fail-on", async () => {
    const root = await makeWorkspace();
    const failing = PLAN.replace("max: 0.02 mm", "max: 0.0001 mm");
    await writeFile(join(root, "plans", "seat.yaml"), failing);
    await drop(root, "a.csv", faceLog());
    expect((await watchOnce(root, ["--fail-on", "fail"])).code).toBe(10);
    await drop(root, "a.csv", faceLog({ height: 1 }));
    expect((await watchOnce(root)).code).toBe(0);
    await drop(root, "a.csv", faceLog({ height: 2 }));
    await drop(root, "b.csv", "no log");
    expect((await watchOnce(root, ["--fail-on", "undecided"])).code).toBe(3);
    await writeFile(join(root, "plans", "seat.yaml"), PLAN);
    await drop(root, "a.csv", faceLog({ height: 3 }));
    expect((await watchOnce(root, ["--fail-on", "undecided"])).code).toBe(11);
  });

  it("4 without a workspace, 2 for settings with mistakes, each with its place", async () => {
    const folder = await temporaryFolder();
    const nowhere = await watchOnce(join(folder, "none"));
    expect(nowhere.code).toBe(4);
    expect(nowhere.told).toContain("no workspace here");
    const root = await makeWorkspace(PLAN, "shp: x\npage: a5\n");
    const wrong = await watchOnce(root);
    expect(wrong.code).toBe(2);
    expect(wrong.told).toMatch(/plinth\.yaml:1:1: "shp".*did you mean "shop"\?\nplinth\.yaml:2:7: "page"/);
    expect((await watchOnce(await makeWorkspace(), [], { SOURCE_DATE_EPOCH: "soon" })).code).toBe(2);
  });

  it("makes a workspace that works at once, and never over another one", async () => {
    const root = join(await temporaryFolder(), "new shop");
    const made = await startPlinth(["init", root]).ended;
    expect(made.code).toBe(0);
    expect(await namesIn(root)).toEqual([
      ".plinth",
      "archive",
      "inbox",
      "plans",
      "plinth.db",
      "plinth.yaml",
      "records",
      "reports",
    ]);
    expect(await namesIn(root, "plans")).toEqual([
      "chuck.yaml",
      "column.yaml",
      "first-side.yaml",
      "second-side.yaml",
      "stock.yaml",
    ]);
    const before = (await stat(join(root, "plinth.yaml"))).mtimeMs;
    const again = await startPlinth(["init", root]).ended;
    expect(again.code).toBe(2);
    expect(again.told).toContain("already there, so nothing was made");
    expect((await stat(join(root, "plinth.yaml"))).mtimeMs).toBe(before);
    // The settings as they are printed, and each plan, are read without a complaint.
    const end = await watchOnce(root);
    expect([end.code, end.told]).toEqual([0, expect.stringContaining("Ended: 0 logs accepted")]);
    expect((await startPlinth(["init"]).ended).code).toBe(2);
    await rm(join(root, "plinth.db"));
    const rebuilt = await startPlinth(["init", "--rebuild", root]).ended;
    expect([rebuilt.code, rebuilt.told]).toEqual([0, expect.stringContaining("made anew: 0 revisions")]);
  });

  it("prints PDFs with the browser that is there", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog());
    expect((await watchOnce(root, ["--quiet"], { PLINTH_BROWSER: "" })).code).toBe(0);
    const pdf = await readFile(join(root, "reports", "J-1_10_seat_r1.pdf"));
    expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
    expect((await reportOf(root, "J-1_10_seat_r1.json")).report.revision).toBe(1);
  });
});
