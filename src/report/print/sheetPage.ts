import type { Browser, CDPSession, Page } from "puppeteer-core";
import type { Sheet } from "./attach.ts";

const COLLECT_EVERY = 10;

/** One page of the browser, used for one print after the other. */
export interface SheetPage {
  /** Sets the page and prints it. Rejects when the page crashes. */
  print(html: string, sheet: Sheet, timeoutMs: number): Promise<Uint8Array>;
}

async function shut(page: Page): Promise<void> {
  await page.setJavaScriptEnabled(false);
  await page.setRequestInterception(true);
  // Beside the flags: a page that sends itself elsewhere stays where it is, so that its own text is printed.
  page.on("request", (request) => {
    const inside = request.url().startsWith("data:");
    (inside ? request.continue() : request.abort("aborted")).catch(() => undefined);
  });
  page.on("dialog", (dialog) => {
    dialog.dismiss().catch(() => undefined);
  });
}

/** Opens the page that prints: scripts off, requests refused. */
export async function openSheetPage(browser: Browser): Promise<SheetPage> {
  const page = await browser.newPage();
  await shut(page);
  const session: CDPSession = await page.createCDPSession();
  let crash: (error: Error) => void = () => undefined;
  const crashed = new Promise<never>((_resolve, reject) => {
    crash = reject;
  });
  crashed.catch(() => undefined);
  page.on("error", crash);
  browser.on("disconnected", () => crash(new Error("the browser ended")));
  let printed = 0;

  async function run(html: string, sheet: Sheet, timeout: number): Promise<Uint8Array> {
    await page.setContent(html, { waitUntil: "load", timeout });
    const pdf = await page.pdf({
      format: sheet,
      preferCSSPageSize: true,
      printBackground: true,
      tagged: true,
      outline: true,
      timeout,
    });
    printed += 1;
    if (printed % COLLECT_EVERY === 0) await session.send("HeapProfiler.collectGarbage");
    return pdf;
  }

  return { print: (html, sheet, timeoutMs) => Promise.race([run(html, sheet, timeoutMs), crashed]) };
}
