// The board in the workspace's language, as a browser shows it: the page's words, its script's, and those read aloud.
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, it } from "vitest";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { addEntry } from "../../src/records/entries.ts";
import { publishBoard } from "../../src/records/publishBoard.ts";
import { startBrowser } from "../../src/report/print/browserProcess.ts";
import { findBrowser } from "../../src/report/print/findBrowser.ts";
import { writtenReport } from "../records/writtenReport.ts";
import { ENGLISH } from "../report/englishWords.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "plinth-board-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

it("is German where the workspace is", async () => {
  const effects = durableEffects();
  const [reports, records] = [join(folder, "reports"), join(folder, "records")];
  mkdirSync(reports);
  const failed = writtenReport(reports, { name: "K-1_10_seat", height: 0.02, revision: 1 });
  writtenReport(reports, { name: "K-1_10_seat", height: 0.03, revision: 2 });
  const said = { path: failed, who: "QS", why: "W1", characteristic: null } as const;
  await addEntry(effects, records, { ...said, kind: "disposition", decision: "use-as-is", corrected: {} });
  await addEntry(effects, records, {
    ...said,
    kind: "correction",
    decision: null,
    corrected: { pallet: "9" },
  });
  const place = { reports, records, shop: null, timeZone: "UTC", language: "de" } as const;
  const { path } = await publishBoard(effects, place);
  const choice = await findBrowser();
  if ("missing" in choice) throw new Error(choice.missing);
  const { browser, close } = await startBrowser(choice, 30_000);
  try {
    const page = await browser.newPage();
    await page.goto(pathToFileURL(path).href);
    await page.waitForSelector("#rows tbody tr");
    await page.click("[name=older]");
    await page.waitForFunction(() => document.querySelectorAll("#rows tbody tr").length === 2);
    const [language, text, spoken] = await page.evaluate(() => [
      document.documentElement.lang,
      document.querySelector("main")?.textContent ?? "",
      [...document.querySelectorAll("[aria-label], [placeholder], [data-label]")]
        .flatMap((one) =>
          ["aria-label", "placeholder", "data-label"].map((name) => one.getAttribute(name) ?? ""),
        )
        .join(" "),
    ]);
    expect(language).toBe("de");
    expect(`${text} ${spoken}`.match(ENGLISH) ?? []).toEqual([]);
    expect(text).toContain("Entscheid: so verwenden: W1 (QS");
    expect(text).toContain("Berichtigung: pallet ist 9: W1 (QS");
    expect(text).toContain("ersetzt durch r2");
    expect(text).toContain("2 Aufspannungen.");
    expect(spoken).toContain("JSON von K-1_10_seat");
  } finally {
    await close();
  }
});
