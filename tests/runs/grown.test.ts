// A log that is written slowly, by a program that holds it open: whatever is added after it was read is read as well.
import { type FileHandle, open, readFile, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import {
  drain,
  drop,
  expectWhole,
  faceLog,
  makeWorkspace,
  namesIn,
  quickEffects,
  reportOf,
} from "./harness.ts";
import { startPlinth } from "./startPlinth.ts";

const WHOLE = faceLog();
const LINES = WHOLE.trimEnd().split("\n");
const FIRST = `${LINES.slice(0, -3).join("\n")}\n`;
const REST = `${LINES.slice(-3).join("\n")}\n`;

const writers: FileHandle[] = [];
afterEach(async () => {
  for (const writer of writers.splice(0)) await writer.close();
});
/** Opens a file in the inbox as a control does, and writes its first touches. */
async function startWriting(root: string, text = FIRST): Promise<FileHandle> {
  const writer = await open(join(root, "inbox", "slow.csv"), "w");
  writers.push(writer);
  await writer.writeFile(text);
  await writer.sync();
  return writer;
}
const later = (minutes: number) => ({
  ...quickEffects(),
  now: () => Date.now() + minutes * 60_000,
});
const rowsOf = async (root: string, revision: number) =>
  (await reportOf(root, `J-1_10_seat_r${revision}.json`)).logs.map(({ name, rows }) => [name, rows]);

describe("a log that grows after it was read", () => {
  it("comes back with all its touches in the next revision, once", async () => {
    const root = await makeWorkspace();
    const writer = await startWriting(root);
    await drain(root);
    expect(await rowsOf(root, 1)).toEqual([["slow.csv", 6]]);
    await writer.writeFile(REST);
    const { told, accepted } = await drain(root);
    expect(accepted).toBe(1);
    expect(told.filter((line) => line.includes("went on writing"))).toEqual([
      "slow.csv: somebody went on writing to it after it was read; the whole file is back in the inbox and is read again.",
    ]);
    expect(await rowsOf(root, 2)).toEqual([["slow.csv", 9]]);
    expect((await reportOf(root, "J-1_10_seat_r2.json")).report.replaces).toBe(1);
    expect((await drain(root)).accepted).toBe(0);
    await expectWhole(root, [FIRST, WHOLE]);
  });
  it("comes back while the watcher runs", async () => {
    const root = await makeWorkspace();
    const running = startPlinth(["watch", "--workspace", root]);
    await running.says("Watching");
    const writer = await startWriting(root);
    await running.says("J-1_10_seat_r1");
    await writer.writeFile(REST);
    await running.says("J-1_10_seat_r2");
    running.child.kill("SIGTERM");
    expect((await running.ended).code).toBe(0);
    expect(await rowsOf(root, 2)).toEqual([["slow.csv", 9]]);
    await expectWhole(root, [FIRST, WHOLE]);
  });
  it("comes back although its first bytes had been known before", async () => {
    const root = await makeWorkspace();
    await drop(root, "slow.csv", FIRST);
    await drain(root);
    const writer = await startWriting(root);
    expect((await drain(root)).duplicates).toBe(1);
    await writer.writeFile(REST);
    await drain(root);
    expect(await rowsOf(root, 2)).toEqual([["slow.csv", 9]]);
  });
  it("comes back when it was overwritten without growing, but not for another time alone", async () => {
    const root = await makeWorkspace();
    const writer = await startWriting(root, WHOLE);
    await drain(root);
    const [aside = ""] = await namesIn(root, ".plinth", "aside");
    await utimes(join(root, ".plinth", "aside", aside, "slow.csv"), 1e9, 1e9);
    expect(await drain(root)).toMatchObject({ accepted: 0, duplicates: 0 });
    await writer.write("0.0099", WHOLE.length - 7);
    expect(await drain(root)).toMatchObject({ accepted: 1 });
  });
  it("lies in the inbox when the watcher stops", async () => {
    const root = await makeWorkspace();
    const running = startPlinth(["watch", "--workspace", root]);
    await running.says("Watching");
    const writer = await startWriting(root);
    await running.says("J-1_10_seat_r1");
    running.child.kill("SIGTERM");
    await writer.writeFile(REST);
    await running.ended;
    await drain(root);
    expect(await rowsOf(root, 2)).toEqual([["slow.csv", 9]]);
  });
  it("takes no other log's place in the inbox", async () => {
    const root = await makeWorkspace();
    const writer = await startWriting(root);
    await drain(root);
    await writer.writeFile(REST);
    await drop(root, "slow.csv", faceLog({ face: "face-90" }));
    await drain(root);
    await expectWhole(root, [FIRST, WHOLE, faceLog({ face: "face-90" })]);
  });
});

describe("a file that was read", () => {
  it("is kept for a quarter of an hour, and looked at before it goes", async () => {
    const root = await makeWorkspace();
    const writer = await startWriting(root);
    await drain(root);
    await drain(root, { effects: later(14) });
    expect(await namesIn(root, ".plinth", "aside")).toHaveLength(1);
    await writer.writeFile(REST);
    await drain(root, { effects: later(60) });
    expect(await rowsOf(root, 2)).toEqual([["slow.csv", 9]]);
    await drain(root, { effects: later(80) });
    expect(await namesIn(root, ".plinth", "aside")).toEqual([]);
    expect(await namesIn(root, "inbox")).toEqual(["rejected"]);
  });
  it("goes also when the clock was set back, and what is not ours is left alone", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", WHOLE);
    await drain(root, { effects: later(60 * 24 * 365) });
    await writeFile(join(root, ".plinth", "aside", "note.txt"), "mine");
    await drain(root);
    expect(await namesIn(root, ".plinth", "aside")).toEqual(["note.txt"]);
    expect(await readFile(join(root, ".plinth", "aside", "note.txt"), "utf8")).toBe("mine");
  });
});
