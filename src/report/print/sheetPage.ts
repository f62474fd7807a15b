/// <reference lib="dom" />
import type { Browser, CDPSession, Page } from "puppeteer-core";
import type { Sheet } from "./attach.ts";
import { SHEETS } from "./attach.ts";

const COLLECT_EVERY = 10;

/** One page of the browser, used for one print after the other. */
export interface SheetPage {
  /** Sets the page and prints it. Rejects when the page crashes. */
  print(html: string, sheet: Sheet, timeoutMs: number): Promise<Uint8Array>;
}

/** All that could lead out of the page; what it carries itself (`data:`) need not be asked about each time. */
const OUTSIDE = [
  "http",
  "ws",
  "ftp",
  "file",
  "blob",
  "filesystem",
  "chrome",
  "devtools",
  "about",
  "view-source",
];

async function shut(page: Page, session: CDPSession): Promise<void> {
  await page.setJavaScriptEnabled(false);
  // Beside the flags: a page that sends itself elsewhere stays where it is, so that its own text is printed.
  session.on("Fetch.requestPaused", ({ requestId }) => {
    session.send("Fetch.failRequest", { requestId, errorReason: "Aborted" }).catch(() => undefined);
  });
  await session.send("Fetch.enable", { patterns: OUTSIDE.map((scheme) => ({ urlPattern: `${scheme}*` })) });
  page.on("dialog", (dialog) => {
    dialog.dismiss().catch(() => undefined);
  });
}

/** The first style of a page, which all reports share: the typeface and nearly all rules. */
const STYLE = /<style>[^<]+<\/style>/;
/** Stands for the style that the page in the browser has already. */
const KEPT_STYLE = "<style data-kept></style>";

/** A text as JavaScript writes it, in ASCII: the browser's own way takes another letter five times as long. */
function literal(text: string): string {
  return JSON.stringify(text).replace(
    /[\u007f-\uffff]/g,
    (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/**
 * Runs in the browser: puts a page in the place of the one that stands there. What both have in their heads, typeface and
 * styles, stays as it is and need not be read again. False when their rules differ; then the page must be set anew.
 */
async function exchange(html: string): Promise<boolean> {
  const next = new DOMParser().parseFromString(html, "text/html");
  const [old, fresh] = [[...document.head.children], [...next.head.children]];
  const rules = (all: Element[]) => all.filter((one) => one.localName === "meta").map((one) => one.outerHTML);
  if (rules(old).length === 0 || rules(old).join() !== rules(fresh).join()) return false;
  const kept = new Set<Element>();
  const head = fresh.map((one) => {
    const named = one.hasAttribute("data-kept");
    const same = old.find(
      (other) => !kept.has(other) && (named ? other.localName === "style" : other.isEqualNode(one)),
    );
    if (same !== undefined) kept.add(same);
    return same ?? document.adoptNode(one);
  });
  const root = document.documentElement;
  for (const name of root.getAttributeNames()) root.removeAttribute(name);
  for (const { name, value } of next.documentElement.attributes) root.setAttribute(name, value);
  for (const one of old) if (!kept.has(one)) one.remove();
  head.forEach((one, at) => {
    if (document.head.children[at] !== one)
      document.head.insertBefore(one, document.head.children[at] ?? null);
  });
  // Nobody looks at the screen: laying out and painting there would only take time.
  const unseen = document.createElement("style");
  unseen.media = "screen";
  unseen.textContent = "html{display:none}";
  document.head.append(unseen);
  document.body.replaceWith(document.adoptNode(next.body));
  const loading = [
    ...[...document.fonts].map((face) => face.load()),
    ...[...document.images].map((image) => image.decode()),
  ];
  await Promise.allSettled(loading);
  return true;
}

/** Opens the page that prints: scripts off, requests refused. */
export async function openSheetPage(browser: Browser): Promise<SheetPage> {
  const page = await browser.newPage();
  const session: CDPSession = await page.createCDPSession();
  await shut(page, session);
  let crash: (error: Error) => void = () => undefined;
  const crashed = new Promise<never>((_resolve, reject) => {
    crash = reject;
  });
  crashed.catch(() => undefined);
  page.on("error", crash);
  browser.on("disconnected", () => crash(new Error("the browser ended")));
  let printed = 0;
  let style: string | undefined;

  /** Sends a page, without the style that stands there from the page before. */
  async function set(html: string, timeout: number): Promise<void> {
    const own = STYLE.exec(html.slice(0, html.indexOf("</head>")))?.[0];
    const short = own !== undefined && own === style ? html.replace(own, KEPT_STYLE) : html;
    if (!(await page.evaluate(`(${exchange})(${literal(short)})`))) {
      await page.setContent(html, { waitUntil: "load", timeout });
      await page.evaluate(async () => void (await document.fonts.ready));
    }
    style = own;
  }

  async function run(html: string, sheet: Sheet, timeout: number): Promise<Uint8Array> {
    await set(html, timeout);
    const { data } = await session.send("Page.printToPDF", {
      paperWidth: SHEETS[sheet].width / 72,
      paperHeight: SHEETS[sheet].height / 72,
      marginTop: 0,
      marginBottom: 0,
      marginLeft: 0,
      marginRight: 0,
      preferCSSPageSize: true,
      printBackground: true,
      generateTaggedPDF: true,
      generateDocumentOutline: true,
    });
    printed += 1;
    if (printed % COLLECT_EVERY === 0) await session.send("HeapProfiler.collectGarbage");
    return Buffer.from(data, "base64");
  }

  return { print: (html, sheet, timeoutMs) => Promise.race([run(html, sheet, timeoutMs), crashed]) };
}
