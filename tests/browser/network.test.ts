import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import type { Server } from "node:http";
import { createServer, get } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Printer } from "../../src/report/print.ts";
import { contents, METADATA, printerOrFail } from "./printer.ts";

let server: Server;
let port = 0;
let connections = 0;
let printer: Printer;

beforeAll(async () => {
  server = createServer((_request, response) => response.end("<p>FROM THE SERVER"));
  server.on("connection", () => {
    connections += 1;
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  if (address === null || typeof address === "string") throw new Error("no port");
  port = address.port;
  printer = await printerOrFail();
});
beforeEach(() => {
  connections = 0;
});
afterAll(async () => {
  await printer?.close();
  await new Promise((resolve) => server.close(resolve));
});

/** Every kind of reference by which a page can ask for something else. */
const REFERENCES: readonly (readonly [string, (url: string) => string])[] = [
  ["image", (url) => `<img src="${url}">`],
  ["image set", (url) => `<picture><source srcset="${url}"><img srcset="${url} 2x"></picture>`],
  ["style sheet", (url) => `<link rel="stylesheet" href="${url}">`],
  ["imported style", (url) => `<style>@import url(${url});</style>`],
  ["background", (url) => `<div style="background:url(${url});width:9px;height:9px">x</div>`],
  ["font", (url) => `<style>@font-face{font-family:F;src:url(${url})}p{font-family:F}</style>`],
  ["frame", (url) => `<iframe src="${url}"></iframe>`],
  ["frame with a page of its own", (url) => `<iframe srcdoc="<img src='${url}'><p>frame"></iframe>`],
  ["object", (url) => `<object data="${url}"></object><embed src="${url}">`],
  [
    "film and sound",
    (url) => `<video src="${url}" poster="${url}" autoplay></video><audio src="${url}" autoplay></audio>`,
  ],
  ["script", (url) => `<script src="${url}"></script><script type="module" src="${url}"></script>`],
  [
    "script in the page",
    (url) =>
      `<script>fetch("${url}");new Image().src="${url}";new WebSocket("${url.replace("http", "ws")}")</script>`,
  ],
  ["handler", (url) => `<img src="data:," onerror="fetch('${url}')"><body onload="location='${url}'">`],
  [
    "form",
    (url) => `<form action="${url}"><input autofocus onfocus="form.submit()"><button>go</button></form>`,
  ],
  ["refresh", (url) => `<meta http-equiv="refresh" content="0;url=${url}">`],
  [
    "prefetch",
    (url) =>
      `<link rel="prefetch" href="${url}"><link rel="preload" as="image" href="${url}"><link rel="modulepreload" href="${url}">`,
  ],
  [
    "early connection",
    (url) =>
      `<link rel="preconnect" href="${url}"><link rel="dns-prefetch" href="${url}"><link rel="prerender" href="${url}">`,
  ],
  ["speculation", (url) => `<script type="speculationrules">{"prefetch":[{"urls":["${url}"]}]}</script>`],
  ["icon and manifest", (url) => `<link rel="icon" href="${url}"><link rel="manifest" href="${url}">`],
  [
    "drawing",
    (url) =>
      `<svg><image href="${url}" width="9" height="9"/><use href="${url}#a"/><rect fill="url(${url}#b)" width="9" height="9"/></svg>`,
  ],
  [
    "cursor, list mark, content",
    (url) =>
      `<ul style="list-style:url(${url});cursor:url(${url}),auto"><li>x</ul><style>p::after{content:url(${url})}</style>`,
  ],
  ["base", (url) => `<base href="${url}"><img src="relative.png"><link rel="stylesheet" href="s.css">`],
];

describe("a page that reaches out", () => {
  it("meets a server that counts, so that the test can fail", async () => {
    await new Promise<void>((resolve) => {
      get({ port, host: "127.0.0.1" }, (response) => response.resume().on("end", () => resolve()));
    });
    expect(connections).toBe(1);
  });

  it.each(REFERENCES)("by %s gets nowhere, and is printed with its own text", async (_name, page) => {
    // With rules of its own a page is exchanged with the one before, without them it is set anew.
    const rules = '<meta name="referrer" content="no-referrer">';
    await printer.print(`${rules}<p>before`, { page: "a4", metadata: METADATA });
    for (const [host, head] of [
      ["127.0.0.1", rules],
      ["localhost", rules],
      ["127.0.0.1", ""],
      ["localhost", ""],
    ]) {
      const html = `<!doctype html><html><head>${head}<title>t</title></head><body>${page(`http://${host}:${port}/x`)}<p>OWN TEXT`;
      const found = await contents(await printer.print(html, { page: "a4", metadata: METADATA }));
      expect(found.pages.join()).toContain("OWN TEXT");
      expect(found.pages.join()).not.toContain("FROM THE SERVER");
    }
    await new Promise((resolve) => setTimeout(resolve, 60));
    expect(connections).toBe(0);
  });

  it("with all of them at once gets nowhere, also some time after", async () => {
    const html = REFERENCES.map(([, page]) => page(`http://127.0.0.1:${port}/all`)).join("\n");
    await printer.print(`<p>OWN TEXT${html}`, { page: "a4", metadata: METADATA });
    await new Promise((resolve) => setTimeout(resolve, 1_000));
    expect(connections).toBe(0);
  });

  it("cannot show a file of this machine", async () => {
    const folder = mkdtempSync(join(tmpdir(), "plinth-secret-"));
    try {
      const path = join(folder, "secret.html");
      writeFileSync(path, "<p>SECRET WORDS");
      const url = pathToFileURL(path).href;
      const html = REFERENCES.map(([, page]) => page(url)).join("\n");
      const found = await contents(
        await printer.print(`<p>OWN TEXT${html}`, { page: "a4", metadata: METADATA }),
      );
      expect(found.pages.join()).toContain("OWN TEXT");
      expect(found.pages.join()).not.toContain("SECRET");
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

describe("a page with scripts", () => {
  it("is printed as if it had none", async () => {
    const html = `<p id="a">BEFORE</p><noscript>NO SCRIPT</noscript>
      <script>document.getElementById("a").textContent = "AFTER"; document.title = "changed"; alert(1)</script>
      <img src="data:image/png;base64,AAAA" onerror="document.body.textContent = 'AFTER'">
      <svg onload="document.body.textContent = 'AFTER'"></svg>
      <iframe srcdoc="<script>parent.document.body.textContent='AFTER'</script>"></iframe>
      <a href="javascript:void(document.body.textContent='AFTER')">link</a>`;
    const text = (await contents(await printer.print(html, { page: "a4", metadata: METADATA }))).pages.join();
    expect(text).toContain("BEFORE");
    expect(text).not.toContain("AFTER");
  });
});
