// The board's files: rows in pages, unchanged ones left alone, known reports not read again, anything odd said and never fatal.
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { DurableEffects } from "../../src/model/effects.ts";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { addEntry } from "../../src/records/entries.ts";
import { publishBoard } from "../../src/records/publishBoard.ts";
import { readBoardData } from "../../src/report/renderBoard.ts";
import { flatness, smallReport } from "./boardFolder.ts";
import { writtenReport } from "./writtenReport.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "plinth-board-"));
});
afterEach(() => rmSync(folder, { recursive: true }));
const reports = (): string => join(folder, "reports");
const board = (effects: DurableEffects = durableEffects()) =>
  publishBoard(effects, {
    reports: reports(),
    records: join(folder, "records"),
    shop: "Shop by the river",
    timeZone: "Europe/Vienna",
  });
const rows = () =>
  readdirSync(join(reports(), "board"))
    .filter((name) => name.startsWith("data-"))
    .sort()
    .flatMap((name) => readBoardData(readFileSync(join(reports(), "board", name), "utf8")));
const times = (): unknown =>
  ["index.html", ...readdirSync(join(reports(), "board")).map((name) => join("board", name))].map((name) => [
    name,
    statSync(join(reports(), name)).mtimeMs,
    statSync(join(reports(), name)).ino,
  ]);

describe("the board's files", () => {
  it("call the revision that replaces the newest, also when the clock was set back between the two", async () => {
    smallReport(reports(), { id: "A_10_seat", issued: "2026-11-25T10:00:00Z" });
    smallReport(reports(), { id: "A_10_seat", revision: 2, issued: "2026-11-24T10:00:00Z", verdict: "fail" });
    await board();
    expect(
      rows()
        .map(({ revision, newer }) => [revision, newer])
        .sort(),
    ).toEqual([
      [1, 2],
      [2, 0],
    ]);
  });
  it("hold the newest revision of each report with what a reader looks for, oldest first", async () => {
    smallReport(reports(), { id: "B_10_seat", issued: "2026-11-25T23:30:00Z", pages: ["pdf", "html"] });
    smallReport(reports(), { id: "A_10_seat", issued: "2026-11-20T10:00:00Z", verdict: "fail" });
    smallReport(reports(), {
      id: "A_10_seat",
      revision: 2,
      issued: "2026-11-21T10:00:00Z",
      setup: { job: "A", machine: "HM-4" },
      characteristics: [flatness(0.25), { id: "size", value: 10.03, limits: { lower: 9.95, upper: 10.05 } }],
    });
    expect(await board()).toMatchObject({ reports: 3, unreadable: [] });
    expect(rows().map(({ name, newer, when }) => [name, newer, when])).toEqual([
      ["A_10_seat_r1", 2, "2026-11-20 11:00"],
      ["A_10_seat_r2", 0, "2026-11-21 11:00"],
      ["B_10_seat_r1", 0, "2026-11-26 00:30"],
    ]);
    expect(rows()[1]).toMatchObject({ job: "A", machine: "HM-4", tightest: "size", used: 0.6 });
    expect(rows()[2]?.pages).toEqual(["html", "json", "pdf"]);
  });
  it("are left alone when nothing has changed, and the rest when one report comes", async () => {
    for (let i = 0; i < 1500; i++)
      smallReport(reports(), { id: `J-${i}`, issued: new Date(Date.UTC(2026, 0, 1, 0, i)).toISOString() });
    await board();
    const before = times();
    expect((await board()).written).toBe(0);
    expect(times()).toEqual(before);
    smallReport(reports(), { id: "new" });
    const read: string[] = [];
    const real = durableEffects();
    const counting = {
      ...real,
      readFile: (path: string) => {
        if (/_r\d+\.json$/.test(path)) read.push(path);
        return real.readFile(path);
      },
    };
    expect((await board(counting)).written).toBe(2);
    expect(read).toEqual([join(reports(), "new_r1.json")]);
    expect(rows()).toHaveLength(1501);
  });
  it("give the same bytes whether made at once or bit by bit", async () => {
    smallReport(reports(), { id: "A", verdict: "fail" });
    await board();
    smallReport(reports(), { id: "A", revision: 2 });
    await board();
    const all = (): string[] =>
      ["index.html", "board/data-0001.js"].map((name) => readFileSync(join(reports(), name), "utf8"));
    const bitByBit = all();
    rmSync(join(reports(), "board"), { recursive: true });
    rmSync(join(reports(), "index.html"));
    await board();
    expect(all()).toEqual(bitByBit);
  });
  it("forget a report that was taken away, and the page that held it", async () => {
    for (let i = 0; i < 1001; i++) smallReport(reports(), { id: `J-${i}` });
    await board();
    expect(readdirSync(join(reports(), "board")).filter((name) => name.startsWith("data-"))).toHaveLength(2);
    rmSync(join(reports(), "J-7_r1.json"));
    await board();
    expect(readdirSync(join(reports(), "board")).filter((name) => name.startsWith("data-"))).toHaveLength(1);
    expect(rows()).toHaveLength(1000);
  });
  it("name what cannot be read, and go on", async () => {
    smallReport(reports(), { id: "good" });
    writeFileSync(join(reports(), "cut_r1.json"), '{"schema": "plinth.setup-report/1", "rep');
    writeFileSync(join(reports(), "null_r1.json"), "null");
    writeFileSync(join(reports(), "foreign_r1.json"), '{"schema": "other"}');
    mkdirSync(join(reports(), "folder_r1.json"));
    symlinkSync("/etc/hostname", join(reports(), "link_r1.json"));
    smallReport(reports(), { id: "odd", setup: { job: { toString: 1 }, machine: 7 } });
    const { unreadable, reports: count } = await board();
    expect(unreadable).toEqual(["cut", "folder", "foreign", "link", "null"].map((name) => `${name}_r1.json`));
    expect(count).toBe(2);
    expect(rows().find(({ id }) => id === "odd")).toMatchObject({ job: "", machine: "7" });
    expect(readFileSync(join(reports(), "index.html"), "utf8")).toContain("foreign_r1.json");
  });
  it("are made anew from a data file that was changed or is of another version", async () => {
    smallReport(reports(), { id: "A" });
    await board();
    const path = join(reports(), "board", "data-0001.js");
    const good = readFileSync(path, "utf8");
    for (const bad of [
      "",
      "plinthPage({});\n",
      good.replace("plinth.board/1", "plinth.board/0"),
      good.slice(9),
    ]) {
      writeFileSync(path, bad);
      await board();
      expect(readFileSync(path, "utf8")).toBe(good);
    }
  });
  it("say what quality said, with a link to the record", async () => {
    mkdirSync(reports());
    const path = writtenReport(reports(), { name: "K-1_10_seat", height: 0.02, revision: 1 });
    await board();
    const request = { path, who: "Shift lead", why: "Wrong part", decision: null, characteristic: null };
    const records = join(folder, "records");
    await addEntry(durableEffects(), records, { ...request, kind: "void", corrected: {} });
    await addEntry(durableEffects(), records, {
      ...request,
      kind: "correction",
      corrected: { pallet: "4" },
    });
    await board();
    expect(rows()[0]).toMatchObject({ record: "K-1", pallet: "" });
    expect(rows()[0]?.entries.map(({ words, who, why }) => [words, who, why])).toEqual([
      ["void", "Shift lead", "Wrong part"],
      ["correction: pallet is 4", "Shift lead", "Wrong part"],
    ]);
  });
  it("are an honest page for an empty folder", async () => {
    expect((await board()).reports).toBe(0);
    expect(readFileSync(join(reports(), "index.html"), "utf8")).toContain("0 reports.");
  });
  it("let nothing end the script or the page", async () => {
    const evil = `</script><script>bad()</script>\u2028\u2029<!--"'\u202e`;
    smallReport(reports(), { id: "evil", title: evil, setup: { machine: evil, pallet: evil, job: evil } });
    await board();
    const data = readFileSync(join(reports(), "board", "data-0001.js"), "utf8");
    const html = readFileSync(join(reports(), "index.html"), "utf8");
    expect(data).not.toMatch(/<|\u2028|\u2029|\u202e/);
    expect(html).not.toMatch(/<script>bad/);
    expect(html.match(/<script/g)).toHaveLength(2);
  });
});
