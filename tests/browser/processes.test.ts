import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { ChildProgram } from "./children.ts";
import { childProgram, isAlive, runChild, until } from "./children.ts";

const LINES = `
import { openPrinter } from "#/report/print.ts";
import { extractPdf } from "#/report/print/extractPdf.ts";
const printer = await openPrinter();
if (!printer.available) { console.log(printer.sentence); process.exit(3); }
const end = process.argv[2];
if (end === "print") {
  const metadata = { title: "t", author: "", subject: "", creator: "", created: "2026-01-01T00:00:00Z" };
  const pdf = await printer.print("<p>words from " + process.argv[3], { page: "a4", metadata });
  await printer.close();
  const found = await extractPdf(pdf);
  console.log(found.ok ? found.pages.join() : found.sentence);
} else {
  console.log(printer.processId);
  if (end === "exit") process.exit(7);
  if (end === "throw") setTimeout(() => { throw new Error("unexpected"); }, 10);
  if (end === "own") process.on("SIGTERM", () => setTimeout(() => process.exit(5), 300));
  setInterval(() => undefined, 1000);
}
`;

const folder = mkdtempSync(join(tmpdir(), "plinth-processes-"));
let program: ChildProgram;
beforeAll(async () => {
  program = await childProgram("processes", LINES);
});
afterAll(() => {
  program?.remove();
  rmSync(folder, { recursive: true, force: true });
});

function profiles(): string[] {
  return readdirSync(folder).filter((name) => name.startsWith("plinth-browser-"));
}

describe("the browser's process", () => {
  it.each([
    ["exit", undefined, { code: 7, signal: null }],
    ["throw", undefined, { code: 1, signal: null }],
    ["wait", "SIGTERM", { code: null, signal: "SIGTERM" }],
    ["wait", "SIGINT", { code: null, signal: "SIGINT" }],
    ["wait", "SIGHUP", { code: null, signal: "SIGHUP" }],
    // A program with its own handler decides itself when to stop.
    ["own", "SIGTERM", { code: 5, signal: null }],
  ] as const)("ends with its program on %s %s, and its folder is removed", async (end, signal, outcome) => {
    const child = runChild(program, { TMPDIR: folder }, [end]);
    const browser = Number(await child.firstLine);
    expect(browser).toBeGreaterThan(0);
    if (signal) child.process.kill(signal);
    expect(await child.ended).toMatchObject(outcome);
    expect(await until(() => !isAlive(browser), 5_000)).toBe(true);
    expect(profiles()).toEqual([]);
  });

  it("ends even when its program is killed", async () => {
    const child = runChild(program, { TMPDIR: folder }, ["wait"]);
    const browser = Number(await child.firstLine);
    expect(isAlive(browser)).toBe(true);
    child.process.kill("SIGKILL");
    await child.ended;
    expect(await until(() => !isAlive(browser), 10_000)).toBe(true);
  });
});

describe("the folders of browsers whose programs were killed", () => {
  it("are removed by a later start once they are old; those of running programs stay", async () => {
    const place = join(folder, "left");
    const dead = spawnSync(process.execPath, ["-e", ""]).pid;
    const names = [
      `plinth-browser-${dead}-old`,
      `plinth-browser-${dead}-new`,
      `plinth-browser-${process.pid}-old`,
    ];
    for (const name of names) {
      mkdirSync(join(place, name), { recursive: true });
      if (name.endsWith("old")) utimesSync(join(place, name), 1e9, 1e9);
    }
    expect((await runChild(program, { TMPDIR: place }, ["print", "here"]).ended).code).toBe(0);
    expect(readdirSync(place).sort()).toEqual(names.slice(1).sort());
  });
});

describe("four programs at once with nothing unpacked yet", () => {
  it("all print, and leave one unpacked browser and nothing else", async () => {
    const cache = join(folder, "cache");
    const children = ["one", "two", "three", "four"].map((name) =>
      runChild(program, { PLINTH_CACHE: cache }, ["print", name]),
    );
    const ended = await Promise.all(children.map((child) => child.ended));
    expect(ended.map(({ output }) => output)).toEqual(
      ["one", "two", "three", "four"].map((name) => `words from ${name}\n`),
    );
    expect(ended.map(({ code }) => code)).toEqual([0, 0, 0, 0]);
    const unpacked = readdirSync(cache).filter((name) => name.startsWith("browser-"));
    expect(readdirSync(cache)).toEqual(unpacked);
    expect(unpacked.length).toBeLessThanOrEqual(1);
  });
});

describe("a folder with settings for the browser's driver in it", () => {
  it("has none of them run: logs are handled in folders that others write to", async () => {
    const work = join(folder, "work");
    mkdirSync(work);
    const proof = join(folder, "proof");
    const code = `require("node:fs").writeFileSync(${JSON.stringify(proof)}, "run"); module.exports = {};`;
    for (const name of [
      ".puppeteerrc.cjs",
      ".puppeteerrc.js",
      "puppeteer.config.js",
      "puppeteer.config.cjs",
    ]) {
      writeFileSync(join(work, name), code);
    }
    const ended = await runChild(program, {}, ["print", "there"], work).ended;
    expect(ended).toMatchObject({ code: 0, output: "words from there\n" });
    expect(existsSync(proof)).toBe(false);
  });
});
