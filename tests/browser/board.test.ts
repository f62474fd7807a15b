// The board in a real browser, opened from disk as from a share: filters, keys, a reader's ear, a phone, twenty thousand reports.
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Browser, Page } from "puppeteer";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { addEntry } from "../../src/records/entries.ts";
import { publishBoard } from "../../src/records/publishBoard.ts";
import { startBrowser } from "../../src/report/print/browserProcess.ts";
import { findBrowser } from "../../src/report/print/findBrowser.ts";
import { flatness, smallReport } from "../records/boardFolder.ts";
import { writtenReport } from "../records/writtenReport.ts";

let folder = "";
let browser: Browser;
let close: () => Promise<void>;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "plinth-board-"));
  const choice = await findBrowser();
  if ("missing" in choice) throw new Error(choice.missing);
  const started = await startBrowser(choice, 30_000);
  browser = started.browser as unknown as Browser;
  close = () => started.close();
});
afterAll(async () => {
  await close?.();
  rmSync(folder, { recursive: true });
});

interface Opened {
  readonly page: Page;
  /** What the page asked for that is no file beside it, and what went wrong in it. */
  readonly trouble: string[];
}
async function open(
  path: string,
  more: { readonly width?: number; readonly hash?: string } = {},
): Promise<Opened> {
  const page = await browser.newPage();
  const trouble: string[] = [];
  page.on("pageerror", (error) => trouble.push(String(error)));
  page.on("console", (message) => trouble.push(message.text()));
  page.on("dialog", (dialog) => {
    trouble.push(`dialog ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on("request", (request) => {
    if (!/^(file|data):/.test(request.url())) trouble.push(request.url());
  });
  await page.setViewport({ width: more.width ?? 1200, height: 800 });
  await page.goto(pathToFileURL(path).href + (more.hash ?? ""));
  await settled(page);
  return { page, trouble };
}
const settled = (page: Page) =>
  page.waitForFunction(
    () => !/Loading|reports\./.test(document.querySelector("#status")?.textContent ?? "L"),
  );
const statusOf = (page: Page) => page.$eval("#status", (element) => element.textContent ?? "");
const ids = (page: Page) =>
  page.$$eval("#rows tbody tr", (all) => all.map((row) => row.querySelector("th .line")?.textContent ?? ""));
/** Waits until the filters have been followed. */
async function follow(page: Page): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, 250));
  await page.waitForFunction(() => document.readyState === "complete");
}

let path = "";
beforeAll(async () => {
  const reports = join(folder, "small", "reports");
  const report = (id: string, day: number, machine: string, pallet: string, verdict = "pass") =>
    smallReport(reports, {
      id: `${id}_10_seat`,
      issued: `2026-11-${String(day).padStart(2, "0")}T10:00:00Z`,
      verdict,
      title: `Column of ${id}`,
      setup: { job: id, operation: "10", machine, pallet, fixture: `C-${pallet}`, operator: "Night shift" },
      characteristics: [flatness(day / 20)],
      pages: ["html", "pdf"],
    });
  report("K-1", 1, "HM-4", "1");
  report("K-2", 3, "HM-4", "1");
  report("K-3", 5, "HM-4", "1", "undecided");
  report("K-4", 7, "HM-5", "2", "fail");
  report("K-5", 9, "HM-5", "2", "missing");
  smallReport(reports, {
    id: "K-1_10_seat",
    revision: 2,
    issued: "2026-11-10T10:00:00Z",
    title: "Column of K-1",
  });
  const failed = writtenReport(reports, {
    name: "K-6_10_seat",
    height: 0.02,
    revision: 1,
    header: { job: "K-6", machine: "HM-6", pallet: "3" },
    issued: "2026-11-11T10:00:00Z",
  });
  await addEntry(durableEffects(), join(folder, "small", "records"), {
    path: failed,
    kind: "disposition",
    who: "Shift lead",
    why: "Edge goes away in operation 20",
    decision: "use-as-is",
    characteristic: null,
    corrected: {},
  });
  await addEntry(durableEffects(), join(folder, "small", "records"), {
    path: failed,
    kind: "correction",
    who: "Shift lead",
    why: "Label was read wrong",
    decision: null,
    characteristic: null,
    corrected: { pallet: "9" },
  });
  const place = { reports, records: join(folder, "small", "records"), shop: "River shop", timeZone: "UTC" };
  ({ path } = await publishBoard(durableEffects(), place));
});

describe("the board opened from disk", () => {
  it("shows the newest setups first and hides replaced revisions until they are asked for", async () => {
    const { page, trouble } = await open(path);
    expect(await ids(page)).toEqual([
      "K-6_10_seat r1",
      "K-1_10_seat r2",
      "K-5_10_seat r1",
      "K-4_10_seat r1",
      "K-3_10_seat r1",
      "K-2_10_seat r1",
    ]);
    await page.click("[name=older]");
    await follow(page);
    expect(await ids(page)).toContain("K-1_10_seat r1");
    expect(trouble).toEqual([]);
    await page.close();
  });
  it("makes what is open stand out, and leaves out what is decided", async () => {
    const { page } = await open(path);
    const needs = await page.$$eval("tr.needs th .line", (all) => all.map((one) => one.textContent));
    expect(needs).toEqual(["K-5_10_seat r1", "K-4_10_seat r1", "K-3_10_seat r1"]);
    expect(await page.$eval("#rows tbody", (body) => body.textContent)).toContain("incomplete: 1 missing");
    await page.click("[name=which][value=open]");
    await follow(page);
    expect(await ids(page)).toHaveLength(3);
    expect(await statusOf(page)).toBe("3 setups.");
    await page.close();
  });
  it.each([
    ["job", "k-4", ["K-4_10_seat r1"]],
    ["text", "column UNDECIDED", ["K-3_10_seat r1"]],
    ["text", "operation 20", ["K-6_10_seat r1"]],
    ["text", "nothing such", []],
  ])("filters by typing %s %s", async (field, words, expected) => {
    const { page } = await open(path);
    await page.type(`[name=${field}]`, words);
    await follow(page);
    expect(await ids(page)).toEqual(expected);
    await page.close();
  });
  it.each([
    ["machine", "HM-5", ["K-5_10_seat r1", "K-4_10_seat r1"]],
    ["pallet", "1", ["K-3_10_seat r1", "K-2_10_seat r1"]],
    ["pallet", "9", ["K-6_10_seat r1"]],
    ["fixture", "C-2", ["K-5_10_seat r1", "K-4_10_seat r1"]],
  ])("filters by %s %s, corrected headers by what is right", async (field, value, expected) => {
    const { page } = await open(path);
    await page.select(`[name=${field}]`, value);
    await follow(page);
    expect(await ids(page)).toEqual(expected);
    await page.close();
  });
  it("filters by verdict and by day, keeps the view in its address, and clears", async () => {
    const { page } = await open(path);
    await page.click("[name=verdict][value=pass]");
    await page.$eval("[name=from]", (field) => {
      (field as HTMLInputElement).value = "2026-11-05";
      field.dispatchEvent(new Event("input", { bubbles: true }));
    });
    await page.$eval("[name=to]", (field) => {
      (field as HTMLInputElement).value = "2026-11-09";
      field.dispatchEvent(new Event("input", { bubbles: true }));
    });
    await follow(page);
    const three = ["K-5_10_seat r1", "K-4_10_seat r1", "K-3_10_seat r1"];
    expect(await ids(page)).toEqual(three);
    const hash = await page.evaluate(() => location.hash);
    const again = await open(path, { hash });
    expect(await ids(again.page)).toEqual(three);
    await again.page.click("[type=reset]");
    await follow(again.page);
    expect(await ids(again.page)).toHaveLength(6);
    await page.close();
    await again.page.close();
  });
  it("links to pages, data and record that are there", async () => {
    const { page } = await open(path);
    const links = await page.$$eval("#rows a", (all) => all.map((one) => (one as HTMLAnchorElement).href));
    expect(links.length).toBeGreaterThan(15);
    expect(links.filter((href) => !existsSync(fileURLToPath(href)))).toEqual([]);
    expect(links.some((href) => href.endsWith("/records/K-6/manifest.json"))).toBe(true);
    await page.close();
  });
  it("draws how much of the tolerance was used, readable back from the picture", async () => {
    const { page } = await open(path);
    const [line, limit, label] = await page.$eval("#rows tbody tr:nth-child(5) svg", (svg) => [
      svg.querySelector("path:not(.limit)")?.getAttribute("d") ?? "",
      svg.querySelector(".limit")?.getAttribute("d") ?? "",
      svg.getAttribute("aria-label") ?? "",
    ]);
    // K-2 at 15 % and K-3 at 25 %: the limit lies at 24 - 22 / 1.1 = 4.
    const heights = [...(line ?? "").matchAll(/ (-?[\d.]+)/g)].map((match) => Number(match[1]));
    const limitAt = Number(/^M0 ([\d.]+)H/.exec(limit ?? "")?.[1]);
    const shares = heights.map((height) => (24 - height) / (24 - limitAt));
    expect(shares).toHaveLength(2);
    expect(shares[0]).toBeCloseTo(0.15, 1);
    expect(shares[1]).toBeCloseTo(0.25, 1);
    expect(label).toBe("Tolerance used, oldest first: 15 %, 25 %");
    await page.close();
  });
  it("is worked with keys alone, and told to those who hear it", async () => {
    const { page } = await open(path);
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("To the setups");
    await page.keyboard.press("/");
    expect(await page.evaluate(() => document.activeElement?.getAttribute("name"))).toBe("text");
    const reached = new Set<string>();
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("Tab");
      reached.add(
        await page.evaluate(
          () => document.activeElement?.getAttribute("name") ?? document.activeElement?.textContent ?? "",
        ),
      );
    }
    for (const name of [
      "job",
      "machine",
      "pallet",
      "fixture",
      "from",
      "to",
      "older",
      "Clear",
      "PDF",
      "record",
    ])
      expect(reached).toContain(name);
    const unnamed = await page.$$eval("input, select, button, a, svg", (all) =>
      all
        .filter(
          (one) =>
            !one.closest("label")?.textContent?.trim() &&
            !one.textContent?.trim() &&
            !one.getAttribute("aria-label"),
        )
        .map((one) => one.outerHTML),
    );
    expect(unnamed).toEqual([]);
    const tree = JSON.stringify(await page.accessibility.snapshot({ interestingOnly: false }));
    for (const part of [
      '"role":"table"',
      "Setups, newest first",
      '"role":"status"',
      '"role":"search"',
      "rowheader",
    ])
      expect(tree).toContain(part);
    await page.close();
  });
  it("fits a phone without sideways scrolling, with fingers' room on its buttons", async () => {
    const { page } = await open(path, { width: 360 });
    const [wide, small] = await page.evaluate(() => [
      document.documentElement.scrollWidth,
      [...document.querySelectorAll("select, button, input[type=search]")]
        .filter((one) => !(one as HTMLElement).hidden)
        .filter((one) => one.getBoundingClientRect().height < 32).length,
    ]);
    expect(wide).toBeLessThanOrEqual(360);
    expect(small).toBe(0);
    await page.close();
  });
  it("says so when a data file is missing", async () => {
    const reports = join(folder, "torn");
    smallReport(reports, { id: "A" });
    const torn = await publishBoard(durableEffects(), {
      reports,
      records: null,
      shop: null,
      timeZone: "UTC",
    });
    rmSync(join(reports, "board", "data-0001.js"));
    const { page } = await open(torn.path);
    expect(await statusOf(page)).toContain("board/data-0001.js could not be loaded");
    await page.close();
  });
});

describe("hostile words on the board", () => {
  it("are shown as words and do nothing", async () => {
    const evil = [
      `<img src=x onerror="alert(1)">`,
      `</script><script>alert(2)</script>`,
      `"><svg onload=alert(3)>`,
      `javascript:alert(4)`,
      "{{constructor}} \u202egnp.exe",
      "__proto__",
    ];
    const reports = join(folder, "evil");
    for (const [i, words] of evil.entries())
      smallReport(reports, {
        id: `E-${i}`,
        title: words,
        plan: words,
        setup: { job: words, machine: words, pallet: words, fixture: words, operator: words },
        characteristics: [{ ...flatness(0.5), id: words }],
        issued: `2026-11-2${i}T10:00:00Z`,
      });
    const board = await publishBoard(durableEffects(), {
      reports,
      records: null,
      shop: evil[1] ?? "",
      timeZone: "UTC",
    });
    const { page, trouble } = await open(board.path);
    const shown = await page.$$eval("#rows tbody th a", (all) => all.map((one) => one.textContent));
    expect(shown).toEqual(evil.map((words) => words.replace("\u202e", "")).reverse());
    await page.select("[name=machine]", evil[0] ?? "");
    await follow(page);
    expect(await ids(page)).toEqual(["E-0 r1"]);
    expect(await page.$$eval("img, iframe, svg[onload], main script", (all) => all.length)).toBe(0);
    expect(trouble).toEqual([]);
    await page.close();
  });
});

describe("twenty thousand reports", () => {
  it("are there soon, and filtered as one types", async () => {
    const reports = join(folder, "many");
    const verdicts = ["pass", "pass", "pass", "fail", "undecided", "missing"];
    for (let i = 0; i < 20_000; i++)
      smallReport(reports, {
        id: `J-${i}_10_seat`,
        issued: new Date(Date.UTC(2024, 0, 1, 0, 37 * i)).toISOString(),
        verdict: verdicts[i % 6] ?? "pass",
        title: `Fixture column number ${i}`,
        setup: { job: `J-${i}`, operation: "10", machine: `HM-${i % 7}`, pallet: `P-${i % 12}` },
        characteristics: [flatness((i % 17) / 16)],
      });
    const place = { reports, records: null, shop: null, timeZone: "UTC" };
    const { path: many } = await publishBoard(durableEffects(), place);
    const begun = performance.now();
    const { page, trouble } = await open(many);
    expect(performance.now() - begun).toBeLessThan(6000);
    expect(await statusOf(page)).toBe("20000 setups, the newest 100 of them shown.");
    // Opening draws a hundred rows, not all.
    expect(await page.$$eval("#rows tbody tr", (all) => all.length)).toBe(100);
    const took = await page.evaluate(() => {
      const field = document.querySelector<HTMLInputElement>("[name=text]");
      const start = performance.now();
      return new Promise<number>((resolve) => {
        new MutationObserver(() => resolve(performance.now() - start)).observe(
          document.querySelector("#status") ?? document.body,
          { childList: true, characterData: true, subtree: true },
        );
        if (field) field.value = "number 19999";
        field?.dispatchEvent(new Event("input", { bubbles: true }));
      });
    });
    expect(took).toBeLessThan(1000);
    expect(await statusOf(page)).toBe("1 setup.");
    await page.click("[type=reset]");
    await follow(page);
    await page.focus("#more");
    await page.keyboard.press("Enter");
    expect(await page.$$eval("#rows tbody tr", (all) => all.length)).toBe(200);
    // The reader goes on where the new rows begin.
    expect(await page.evaluate(() => document.activeElement?.closest("tr")?.rowIndex)).toBe(101);
    expect(trouble).toEqual([]);
    await page.close();
  });
});
