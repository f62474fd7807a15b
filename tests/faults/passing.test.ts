// Disks that fill up, shares that go away, programs in the way: waited out, and nothing is lost or doubled.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync } from "node:fs";
import { readFile, rename, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { openWorkspace } from "../../src/records/workspace.ts";
import { watch } from "../../src/runs/watch.ts";
import {
  allFiles,
  drain,
  drop,
  expectWhole,
  faceLog,
  makeWorkspace,
  namesIn,
  noBrowser,
  quickEffects,
  reportOf,
} from "../runs/harness.ts";
import { failing, faultyEffects, faultyLedger } from "./faultyWorld.ts";

const logs = [faceLog(), faceLog({ face: "face-90" }), faceLog({ header: { job: "J-2" } })];
async function prepared(): Promise<string> {
  const root = await makeWorkspace();
  for (const [at, log] of logs.entries()) await drop(root, `${at}.csv`, log);
  return root;
}

const isClaimed = (path: string): boolean => path.includes(join(".plinth", "work", "2"));
const cases: readonly (readonly [string, string, (name: string, path: string) => boolean])[] = [
  [
    "the disk is full while a report is written",
    "ENOSPC",
    (name, path) => name === "create" && path.includes("/reports/"),
  ],
  [
    "the disk is full while a log is archived",
    "ENOSPC",
    (name, path) => name === "create" && path.includes("/archive/"),
  ],
  [
    "the quota is used up when a folder is made",
    "EDQUOT",
    (name, path) => name === "makeFolder" && isClaimed(path),
  ],
  ["the disk is read-only", "EROFS", (name) => ["create", "rename", "makeFolder", "remove"].includes(name)],
  [
    "there is no access to the reports",
    "EACCES",
    (name, path) => name === "rename" && path.includes("/reports/"),
  ],
  ["the inbox is not there", "ENOENT", (name, path) => name === "list" && path.endsWith("/inbox")],
  ["the share has gone stale", "ESTALE", (name, path) => name === "list" && path.endsWith("/inbox")],
  ["a claimed log cannot be read for a while", "EIO", (name, path) => name === "read" && isClaimed(path)],
  [
    "the archive gives no answer",
    "ETIMEDOUT",
    (name, path) => name === "setReadOnly" && path.includes("/archive/"),
  ],
  ["a claimed log cannot be put aside", "EBUSY", (name, path) => name === "rename" && isClaimed(path)],
  ["the plans cannot be listed", "EIO", (name, path) => name === "list" && path.endsWith("/plans")],
  ["another program holds the ledger", "SQLITE_BUSY", (name) => name === "begin"],
  ["the ledger's disk is full at the last moment", "SQLITE_FULL", (name) => name === "commit"],
  ["the ledger cannot be opened at first", "SQLITE_CANTOPEN", (name) => name === "open ledger"],
];

describe("what passes is waited out", () => {
  it.each(cases)("%s", async (_, code, matches) => {
    const root = await prepared();
    const fault = failing(code, matches, { times: 2 });
    const result = await drain(root, {
      effects: faultyEffects(fault),
      open: faultyLedger(fault, () => undefined),
    });
    expect(fault.failed()).toBe(2);
    expect(result).toMatchObject({ rejected: 0 });
    expect(await namesIn(root, "inbox", "rejected")).toEqual([]);
    expect((await expectWhole(root, logs)).revisions).toBeGreaterThanOrEqual(2);
  });

  it("tells of it in a sentence and again when it is over", async () => {
    const root = await prepared();
    const fault = failing("ENOSPC", (name, path) => name === "create" && path.includes("/reports/"), {
      times: 1,
    });
    const { told } = await drain(root, { effects: faultyEffects(fault) });
    expect(told.join("\n")).toMatch(/Waiting 0\.5 s: .*the disk is full\.[\s\S]*It works again\./);
  });
});

it("goes on where inbox and workspace lie on two file systems", async () => {
  const root = await prepared();
  await drop(root, "bad.csv", "no log");
  const between = (name: string, path: string): boolean =>
    name === "rename" && !path.endsWith(".tmp") && (isClaimed(path) || path.includes("/inbox/"));
  const fault = failing("EXDEV", between, { times: Number.POSITIVE_INFINITY });
  expect(await drain(root, { effects: faultyEffects(fault) })).toMatchObject({ accepted: 3, rejected: 1 });
  // Four files are taken, one goes to the rejected ones, three are put aside.
  expect(fault.failed()).toBe(8);
  expect(await readFile(join(root, "inbox", "rejected", "bad.csv"), "utf8")).toBe("no log");
  await expectWhole(root, logs);
});

it("rejects a file that alone cannot be read, time after time, and no other", async () => {
  const root = await prepared();
  const fault = failing("EACCES", (name, path) => name === "read" && path.endsWith("/1.csv"), {
    times: Number.POSITIVE_INFINITY,
  });
  expect(await drain(root, { effects: faultyEffects(fault) })).toMatchObject({ accepted: 2, rejected: 1 });
  expect(await readFile(join(root, "inbox", "rejected", "1.csv.reason.txt"), "utf8")).toContain(
    "cannot be read (EACCES)",
  );
  await rename(join(root, "inbox", "rejected", "1.csv"), join(root, "inbox", "1.csv"));
  await drain(root);
  await expectWhole(root, logs);
});

it("takes the others while one file is held by another program", async () => {
  const root = await prepared();
  const held = failing("EBUSY", (name, path) => name === "rename" && path.endsWith("/inbox/0.csv"), {
    times: 3,
  });
  const { told } = await drain(root, { effects: faultyEffects(held) });
  const [waiting, done] = [
    told.findIndex((text) => text.startsWith("Waiting")),
    told.findIndex((text) => text.startsWith("J-2_10_seat_r1")),
  ];
  expect(done).toBeGreaterThan(-1);
  expect(done).toBeLessThan(waiting);
  await expectWhole(root, logs);
});

describe("what does not pass ends --once without loss", () => {
  it.each(cases.filter(([, code]) => !code.startsWith("SQLITE")))(
    "%s, for good",
    async (_, code, matches) => {
      const root = await prepared();
      const fault = failing(code, matches, { times: Number.POSITIVE_INFINITY });
      const run = drain(root, { effects: faultyEffects(fault), open: faultyLedger(fault, () => undefined) });
      // A file that cannot be read is rejected alone; all else ends with a sentence.
      const outcome = await run.then(
        () => "ended",
        (error: unknown) => error as Error,
      );
      if (outcome !== "ended") {
        expect(outcome).toMatchObject({ name: "Trouble", kind: "unreachable" });
        expect((outcome as Error).message).toMatch(/the disk|quota|access|not there|gone away|injected/);
      }
      const rejected = (await namesIn(root, "inbox", "rejected")).filter((name) => name.endsWith(".csv"));
      for (const name of rejected)
        await rename(join(root, "inbox", "rejected", name), join(root, "inbox", name));
      await drain(root);
      expect((await expectWhole(root, logs)).revisions).toBeGreaterThanOrEqual(2);
    },
  );
});

describe("the ledger", () => {
  it("that gives no answer for good is no reason to reject a log", async () => {
    const root = await prepared();
    const fault = failing("SQLITE_IOERR", (name) => name === "begin", {
      from: 2,
      times: Number.POSITIVE_INFINITY,
    });
    const run = drain(root, { effects: faultyEffects(fault), open: faultyLedger(fault, () => undefined) });
    await expect(run).rejects.toMatchObject({ name: "Trouble", kind: "unreachable" });
    expect(await namesIn(root, "inbox")).toEqual(["0.csv", "1.csv", "2.csv", "rejected"]);
    expect(await namesIn(root, "inbox", "rejected")).toEqual([]);
    await drain(root);
    await expectWhole(root, logs);
  });

  it("waits for another program that holds it", async () => {
    const root = await prepared();
    const script = `const D = require(${JSON.stringify(createRequire(import.meta.url).resolve("libsql"))});
      const d = new D(${JSON.stringify(join(root, "plinth.db"))});
      d.exec("begin immediate"); console.log("held"); setTimeout(() => { d.exec("commit"); d.close(); }, 1500);`;
    const holder = spawn(process.execPath, ["-e", script], { stdio: ["ignore", "pipe", "inherit"] });
    await once(holder.stdout, "data");
    await drain(root);
    expect(await expectWhole(root, logs)).toEqual({ revisions: 2 });
  });

  it.each([
    ["no database at all", (bytes: Buffer) => Buffer.alloc(bytes.length, "garbage ")],
    [
      "pages overwritten",
      (bytes: Buffer) => Buffer.concat([bytes.subarray(0, 4096), Buffer.alloc(bytes.length - 4096, 0xa5)]),
    ],
    ["cut off", (bytes: Buffer) => bytes.subarray(0, Math.floor(bytes.length / 2))],
    ["emptied", () => Buffer.alloc(0)],
    ["gone", () => null],
  ])("damaged (%s): says so, loses nothing, and is made anew from archive and reports", async (_, damage) => {
    const root = await prepared();
    await drain(root);
    const more = faceLog({ height: 4 });
    await drop(root, "0.csv", more);
    await drain(root);
    const path = join(root, "plinth.db");
    const damaged = damage(await readFile(path));
    if (damaged === null) await rm(path);
    else await writeFile(path, damaged);
    const late = faceLog({ header: { job: "J-9" } });
    await drop(root, "late.csv", late);
    await expect(drain(root)).rejects.toThrow(/the ledger is damaged .*plinth init --rebuild/);
    expect(await namesIn(root, "inbox")).toContain("late.csv");
    const { rebuildLedger } = await import("../../src/runs/rebuildLedger.ts");
    const effects = durableEffects();
    const rebuilt = await rebuildLedger(effects, await openWorkspace(effects, root), () => undefined);
    expect(rebuilt).toMatchObject({ revisions: 3, logs: 4, again: 0, leftOut: [] });
    if (damaged === null) expect(rebuilt.kept).toBeNull();
    else expect(rebuilt.kept).toMatch(/plinth\.db\.before-\d{14}$/);
    // All goes on as if nothing had been: the same bytes are known, the chain gets its next number.
    await drop(root, "0.csv", more);
    expect(await drain(root)).toMatchObject({ accepted: 1, duplicates: 1, reports: [{ id: "J-9_10_seat" }] });
    const next = faceLog({ height: 5 });
    await drop(root, "0.csv", next);
    await drain(root);
    expect((await reportOf(root, "J-1_10_seat_r3.json")).report.replaces).toBe(2);
    await expectWhole(root, [...logs, more, late, next]);
  });

  it("rebuilt without reports puts the archived logs back into the inbox", async () => {
    const root = await prepared();
    await drain(root);
    for (const file of await allFiles(root))
      if (file.startsWith("reports/J-2") || file.startsWith("plinth.db"))
        await rename(join(root, file), join(root, "..", file.replaceAll("/", "-")));
    const { rebuildLedger } = await import("../../src/runs/rebuildLedger.ts");
    const effects = durableEffects();
    const told: string[] = [];
    const rebuilt = await rebuildLedger(effects, await openWorkspace(effects, root), (text) =>
      told.push(text),
    );
    expect(rebuilt).toMatchObject({ revisions: 1, logs: 2, again: 1, kept: null });
    expect(told.join("\n")).toContain("1 archived logs stood in no report and are in the inbox again");
    await drain(root);
    expect((await reportOf(root, "J-2_10_seat_r1.json")).verdict).toBe("missing");
    await expectWhole(root, logs);
  });
});

it("does not grow a second workspace where the share was", async () => {
  const root = await prepared();
  const away = `${root}-away`;
  const stop = new AbortController();
  const effects = faultyEffects(failing("ENOENT", () => false));
  const workspace = await openWorkspace(effects, root);
  await rename(root, away);
  let sleeps = 0;
  const sleep = async (): Promise<void> => {
    if (++sleeps === 5) stop.abort();
  };
  const told: string[] = [];
  const options = {
    once: false,
    signal: stop.signal,
    tell: (text: string) => told.push(text),
    printer: noBrowser,
  };
  await watch({ ...effects, sleep }, workspace, options);
  expect(told.join("\n")).toContain("the workspace is not there");
  expect(existsSync(root)).toBe(false);
  await rename(away, root);
  await drain(root);
  await expectWhole(root, logs);
});

it("does not grow one while it runs either", async () => {
  const root = await prepared();
  const away = `${root}-away`;
  const effects = quickEffects();
  let sleeps = 0;
  const sleep = async (ms: number): Promise<void> => {
    await effects.sleep(ms);
    sleeps++;
    // Away after the first look, back after some waiting.
    if (sleeps === 1) await rename(root, away);
    if (sleeps === 3) {
      expect(existsSync(root)).toBe(false);
      await rename(away, root);
    }
  };
  const told: string[] = [];
  const options = {
    once: true,
    signal: new AbortController().signal,
    tell: (text: string) => told.push(text),
    printer: noBrowser,
  };
  await watch({ ...effects, sleep }, await openWorkspace(effects, root), options);
  expect(told.join("\n")).toMatch(/Waiting[\s\S]*It works again/);
  await expectWhole(root, logs);
});
