// The night by the watcher's own clock: at the shop's time, once, made up for when it was missed.
import { readFile, rm, rmdir, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { openWorkspace } from "../../src/records/workspace.ts";
import { latestNight } from "../../src/runs/nightClock.ts";
import { watch } from "../../src/runs/watch.ts";
import { drop, faceLog, makeWorkspace, noBrowser, PLAN } from "./harness.ts";

const at = (iso: string): number => Date.parse(iso);

describe("the latest night", () => {
  it.each([
    // In Berlin it is an hour later than in UTC in winter, two in summer.
    [
      "just before two: of the night before",
      "2026-11-25T00:59:59Z",
      "02:00",
      "Europe/Berlin",
      "2026-11-23",
      "2026-11-24T01:00:00Z",
    ],
    [
      "at two: of the day that has ended",
      "2026-11-25T01:00:00Z",
      "02:00",
      "Europe/Berlin",
      "2026-11-24",
      "2026-11-25T01:00:00Z",
    ],
    [
      "in the evening: still the same",
      "2026-11-25T20:00:30Z",
      "02:00",
      "Europe/Berlin",
      "2026-11-24",
      "2026-11-25T01:00:00Z",
    ],
    [
      "at half past eleven: of the day itself",
      "2026-11-25T22:30:00Z",
      "23:30",
      "Europe/Berlin",
      "2026-11-25",
      "2026-11-25T22:30:00Z",
    ],
    [
      "after midnight: still of the day before",
      "2026-11-25T23:10:00Z",
      "23:30",
      "Europe/Berlin",
      "2026-11-25",
      "2026-11-25T22:30:00Z",
    ],
    ["in summer", "2026-07-01T00:05:00Z", "02:00", "Europe/Berlin", "2026-06-30", "2026-07-01T00:00:00Z"],
    ["at midnight itself", "2026-11-25T00:00:00Z", "00:00", "UTC", "2026-11-24", "2026-11-25T00:00:00Z"],
    [
      "west of Greenwich",
      "2026-11-25T05:30:00Z",
      "00:15",
      "America/New_York",
      "2026-11-24",
      "2026-11-25T05:15:00Z",
    ],
  ])("%s", (_, now, time, zone, date, due) => {
    expect(latestNight(at(now), time, zone)).toEqual({ date, dueMs: at(due) });
  });
});

describe("a watcher with a schedule", () => {
  const SETTINGS = `time-zone: Europe/Berlin
watch: {polling: always, poll-every: 50 ms}
schedule: {nightly: "02:00"}
`;
  /** A watcher whose clock stands where the test puts it. */
  async function watcher(root: string, from: string) {
    let ms = at(from);
    const told: string[] = [];
    const stop = new AbortController();
    const effects = { ...durableEffects(), environment: {}, now: () => ms };
    const running = watch(effects, await openWorkspace(effects, root), {
      once: false,
      signal: stop.signal,
      tell: (sentence) => told.push(sentence),
      printer: noBrowser,
    });
    const says = async (words: string): Promise<void> => {
      while (!told.some((sentence) => sentence.includes(words))) {
        await Promise.race([wait(20), running.then(() => Promise.reject(new Error(told.join("\n"))))]);
      }
    };
    return {
      told,
      says,
      set: (iso: string): void => {
        ms = at(iso);
      },
      /** Several more looks at inbox and clock. */
      looks: () => wait(400),
      async stop() {
        stop.abort();
        await running;
      },
    };
  }
  const digests = (told: readonly string[]): string[] =>
    told.flatMap((sentence) => /^Digest of (\S+):/.exec(sentence)?.[1] ?? []);

  it("makes up for the night it missed, then each night once, with what came meanwhile", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    const one = await watcher(root, "2026-11-25T00:30:00Z");
    await one.says("Digest of 2026-11-23: 0 fail, 0 missing, 0 undecided, 0 pass");
    await drop(root, "a.csv", faceLog());
    await one.says("J-1_10_seat_r1");
    one.set("2026-11-25T01:00:00Z");
    await one.says("Digest of 2026-11-24: 0 fail");
    one.set("2026-11-26T00:59:30Z");
    await one.looks();
    expect(digests(one.told)).toEqual(["2026-11-23", "2026-11-24"]);
    one.set("2026-11-26T01:00:30Z");
    await one.says("Digest of 2026-11-25: 0 fail, 1 missing");
    await one.looks();
    await one.stop();
    expect(digests(one.told)).toEqual(["2026-11-23", "2026-11-24", "2026-11-25"]);
    const path = join(root, "reports", "digests", "2026-11-25.json");
    expect(JSON.parse(await readFile(path, "utf8"))).toMatchObject({ reports: [{ id: "J-1_10_seat" }] });
    const lines = await readFile(join(root, ".plinth", "log", "2026-11-26.jsonl"), "utf8");
    const events = lines
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line) as { event: string; run: string; date?: string });
    expect(events.filter(({ event }) => event === "digest").map(({ date }) => date)).toEqual(["2026-11-25"]);
    expect(new Set(events.map(({ run }) => run)).size).toBe(1);

    // Started again after that night has run: nothing to make up for.
    await utimes(path, new Date("2026-11-26T01:00:40Z"), new Date("2026-11-26T01:00:40Z"));
    const again = await watcher(root, "2026-11-26T09:00:00Z");
    await again.says("Watching");
    await again.looks();
    await again.stop();
    expect(digests(again.told)).toEqual([]);
  });

  it("goes on watching when the digest cannot be made", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS);
    // A file stands where the folder should be.
    const digestFolder = join(root, "reports", "digests");
    await rmdir(digestFolder);
    const one = await watcher(root, "2026-11-25T00:30:00Z");
    await one.says("Digest of 2026-11-23");
    await rm(digestFolder, { recursive: true });
    await writeFile(digestFolder, "in the way");
    one.set("2026-11-25T01:00:00Z");
    await one.says("The digest of 2026-11-24");
    await drop(root, "a.csv", faceLog());
    await one.says("J-1_10_seat_r1");
    await one.stop();
  });

  it("without one makes none", async () => {
    const root = await makeWorkspace(PLAN, SETTINGS.replace(/schedule.*\n/, ""));
    const one = await watcher(root, "2026-11-25T00:30:00Z");
    await one.says("Watching");
    one.set("2026-11-27T12:00:00Z");
    await one.looks();
    await one.stop();
    expect(digests(one.told)).toEqual([]);
  });
});
